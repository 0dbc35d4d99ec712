"""The part of the sheet Firing that goes through a firing step by step, each with a ramp and a hold."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.page import DAY_MINUTES, Content, Page
from salebook.book.sheets.firing.energy_price import running_price
from salebook.making.firing import HOURS_PER_DAY, FiringNeed, Part
from salebook.making.firing import running_price as running_price_of_1_kw
from salebook.plan.model import Firing, Plan
from salebook.say.kiln import LEAST_SHORT_KW

NAMED = ((6, "hours"), (9, "heat"), (10, "kwh"), (11, "power"), (12, "short"), (13, "cost"))
"""Columns that other sheets and rows add up, by the name that they get: hours_1 for the first firing …"""


@dataclass(frozen=True, kw_only=True)
class PartRow:
    """A ramp or a hold as a row; `begins` in days from the midnight before the firing."""

    firing: Firing
    n: int
    """The firing's number in the plan, counted from 1."""
    part: Part
    """Of no length where the step has no such part: changing the step gives it one."""
    begins: float

    @property
    def ends(self) -> float:
        """When the part is over, in days from the midnight before the firing."""
        return self.begins + self.part.hours / HOURS_PER_DAY


def put_steps(page: Page, plan: Plan, need: FiringNeed, n: int) -> None:
    """Write the table of one firing, the n-th of the plan."""
    page.band(_("{name}, step by step (one load)").format(name=need.firing.name))
    keys, texts = zip(*_columns(), strict=True)
    page.headings(keys, texts, section=f"parts.{need.firing.name}")
    first = page.row
    for row in _rows(plan, need, n):
        _put_row(page, plan, row, is_first=page.row == first)
    last = page.row - 1
    for column, name in NAMED:
        page.name(f"{name}_{n}", first, column, last_row=last)
    page.highlight(f"L{first}:L{last}", f"L{first}>{LEAST_SHORT_KW}")
    page.row += 1


def _columns() -> tuple[tuple[str, str], ...]:
    return (
        ("part", _("Part")),
        ("rate", _("°C an hour")),
        ("from", _("From °C")),
        ("to", _("To °C")),
        ("hours", _("Hours")),
        ("begins", _("Begins")),
        ("ends", _("Ends")),
        ("heat", _("Heat, kWh")),
        ("kwh", _("Energy, kWh")),
        ("kw", _("Power, kW")),
        ("short_kw", _("Missing, kW")),
        ("cost", _("Price")),
        ("price_begin", _("1 kW so far")),
        ("price_end", _("1 kW by then")),
    )


def _rows(plan: Plan, need: FiringNeed, n: int) -> Iterator[PartRow]:
    start, before = need.firing.start, 0.0 if plan.kiln is None else float(plan.kiln.room)
    clock = (start.hour * 60 + start.minute) / DAY_MINUTES
    for index, step in enumerate(need.firing.steps, start=1):
        after = float(step.to.celsius)
        for part in (_part(need, index, "ramp", before, after), _part(need, index, "hold", after, after)):
            row = PartRow(firing=need.firing, n=n, part=part, begins=clock)
            yield row
            clock = row.ends
        before = after


def _part(need: FiringNeed, step: int, kind: Literal["ramp", "hold"], from_c: float, to_c: float) -> Part:
    found = (part for part in need.parts if part.step == step and part.kind == kind)
    none = Part(
        step=step,
        kind=kind,
        from_c=from_c,
        to_c=to_c,
        hours=0.0,
        heat_kwh=0.0,
        kwh=0.0,
        mean_kw=0.0,
        short_kw=0.0,
        cost=0.0,
    )
    return next(found, none)


def _put_row(page: Page, plan: Plan, row: PartRow, *, is_first: bool) -> None:
    at, part = page.row, row.part
    page.put_row(
        (
            ("parts", "key"),
            *_course(page, row, at, is_first=is_first),
            (Figure(_heat(page, row.firing, at), part.heat_kwh), "result hundredths"),
            (Figure(f"=I{at}/heat_per_kwh_bought*correction_{row.n}", part.kwh), "result hundredths"),
            (Figure(f"=IF(F{at}>0,J{at}/F{at},0)", part.mean_kw), "result hundredths"),
            (Figure(_missing(row.n, at), part.short_kw), "result hundredths"),
            (Figure(f"=K{at}*(O{at}-N{at})", part.cost), "result money"),
            (Figure(f"={running_price(f'G{at}')}", _ran(plan, row.begins)), "worked thousandths"),
            (Figure(f"={running_price(f'H{at}')}", _ran(plan, row.ends)), "worked thousandths"),
        )
    )


def _course(page: Page, row: PartRow, at: int, *, is_first: bool) -> tuple[tuple[Content, str], ...]:
    """Return the cells that say what the part does and when."""
    part, places, key = row.part, page.book.addresses, f"{row.firing.name}/{row.part.step}"
    rate, to, unit, hold = (places["steps", key, name] for name in ("rate", "to", "to_unit", "hold"))
    begins = f"={places['firings', row.firing.name, 'start']}" if is_first else f"=H{at - 1}"
    if part.kind == "ramp":
        label, shown_rate = _("{n} heat or cool"), Figure(f"={rate}", _rate(row))
        ends_at = f'=IF({unit}="F",({to}-fahrenheit_at_0_c)*10/fahrenheit_in_10_c,{to})'
        hours = f"=ABS(E{at}-D{at})/{rate}"
    else:
        label, shown_rate = _("{n} hold"), None
        ends_at, hours = f"=D{at}", f"={hold}/minutes_in_hour"
    return (
        (label.format(n=part.step), "label"),
        (shown_rate, "result number"),
        (Figure("=room_c" if is_first else f"=E{at - 1}", part.from_c), "result whole"),
        (Figure(ends_at, part.to_c), "result whole"),
        (Figure(hours, part.hours), "result hundredths"),
        (Figure(begins, row.begins), "result time"),
        (Figure(f"=G{at}+F{at}/hours_in_day", row.ends), "result time"),
    )


def _rate(row: PartRow) -> float:
    return float(row.firing.steps[row.part.step - 1].rate)


def _missing(n: int, at: int) -> str:
    return f'=IF(OR(rated_kw="",F{at}=0),0,MAX(0,I{at}*correction_{n}/F{at}-rated_kw))'


def _ran(plan: Plan, day_fraction: float) -> float:
    rates = () if plan.energy is None else plan.energy.rates
    return running_price_of_1_kw(day_fraction * HOURS_PER_DAY, rates)


def _heat(page: Page, firing: Firing, row: int) -> str:
    on_share = page.book.addresses["firings", firing.name, "on_share"]
    usual = f"usual_on_share_{firing.stage}"
    by_time = f'rated_kw*F{row}*IF({on_share}="",{usual},{on_share})'
    warm = f"(ware_kg_{firing.stage}+furniture_kg+wall_mass_share*wall_mass_kg)"
    stored = f"{warm}*({_content(f'E{row}')}-{_content(f'D{row}')})/kj_in_kwh"
    lost = f"wall_w_per_k*((D{row}+E{row})/2-room_c)*F{row}/watts_in_kw"
    return f'=IF(wall_area_m2="",{by_time},MAX(0,{stored}+{lost}))'


def _content(celsius: str) -> str:
    kelvin = f"({celsius}+kelvin_at_0_c)"
    return f"(heat_constant*{kelvin}+heat_rise/2*{kelvin}^2+heat_bend/{kelvin})/joules_in_kj"
