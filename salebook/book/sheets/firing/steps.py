"""The part of the sheet Firing that goes through a firing step by step, each with a ramp and a hold."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from operator import attrgetter
from typing import Literal

from salebook.base.words import N_, _
from salebook.book.page import DAY_MINUTES, Page
from salebook.book.sheets.firing.energy_price import running_price
from salebook.book.table import Table
from salebook.making.firing import (
    HOURS_PER_DAY,
    KJ_PER_KWH,
    W_PER_KW,
    FiringNeed,
    Part,
    heat_content,
    heated_kg,
    wall_loss_w_per_k,
)
from salebook.making.firing import running_price as running_price_of_1_kw
from salebook.plan.model import EnergyRate, Firing, Kiln, Plan
from salebook.say.kiln import LEAST_SHORT_KW

WORKINGS = 17
"""First column right of the printed page."""


@dataclass(frozen=True, kw_only=True)
class PartRow:
    """A ramp or a hold as a row; `begins` in days from the midnight before the firing."""

    firing: Firing
    n: int
    """The firing's number in the plan, counted from 1."""
    part: Part
    """Of no length where the step has no such part: changing the step gives it one."""
    begins: float
    is_first: bool
    rates: Sequence[EnergyRate]
    kiln: Kiln
    ware_kg: float

    @property
    def content_from(self) -> float:
        """The heat in 1 kg before it, kJ."""
        return heat_content(self.part.from_c)

    @property
    def content_to(self) -> float:
        """The heat in 1 kg after it, kJ."""
        return heat_content(self.part.to_c)

    @property
    def stored(self) -> float:
        """What ware, shelves and wall take up, kWh."""
        return heated_kg(self.kiln, self.ware_kg) * (self.content_to - self.content_from) / KJ_PER_KWH

    @property
    def lost(self) -> float:
        """What goes through the wall, kWh."""
        above_room = (self.part.from_c + self.part.to_c) / 2 - float(self.kiln.room)
        return wall_loss_w_per_k(self.kiln) * above_room * self.part.hours / W_PER_KW

    @property
    def label(self) -> str:
        """What is done in which step."""
        return (_("{n} heat or cool") if self.is_ramp else _("{n} hold")).format(n=self.part.step)

    @property
    def is_ramp(self) -> bool:
        """Whether the kiln heats or cools, and does not hold."""
        return self.part.kind == "ramp"

    @property
    def rate(self) -> float | None:
        """How fast, °C an hour; None in a hold."""
        return float(self.firing.steps[self.part.step - 1].rate) if self.is_ramp else None

    @property
    def ends(self) -> float:
        """When the part is over, in days from the midnight before the firing."""
        return self.begins + self.part.hours / HOURS_PER_DAY

    @property
    def price_begin(self) -> float:
        """What 1 kW costs from that midnight until the part begins."""
        return running_price_of_1_kw(self.begins * HOURS_PER_DAY, self.rates)

    @property
    def price_end(self) -> float:
        """What 1 kW costs from that midnight until the part is over."""
        return running_price_of_1_kw(self.ends * HOURS_PER_DAY, self.rates)


def parts_table() -> Table[PartRow]:
    """Declare the course of one load of a firing; each firing has a part of its own."""
    table: Table[PartRow] = Table("parts", N_("Firing"), record=attrgetter("firing.name"))
    table.join("firing_needs", lambda row: str(row.n))
    table.join("steps", lambda row: f"{row.firing.name}/{row.part.step}")

    correction = "[firing_needs.correction]"
    kwh, kw = f"[heat]/heat_per_kwh_bought*{correction}", "IF([hours]>0,[kwh]/[hours],0)"
    short = f'IF(OR(rated_kw="",[hours]=0),0,MAX(0,[heat]*{correction}/[hours]-rated_kw))'
    cost, alarm = "[kw]*([price_end]-[price_begin])", f"[short_kw]>{LEAST_SHORT_KW}"
    live = table.live
    table.fixed("part", _("Part"), "label", "label")
    live("rate", _("°C an hour"), "number", lambda row: "[steps.rate]" if row.is_ramp else "")
    live("from", _("From °C"), "whole", lambda row: "room_c" if row.is_first else "[to-]", "part.from_c")
    live("to", _("To °C"), "whole", lambda row: TARGET if row.is_ramp else "[from]", "part.to_c")
    live("hours", _("Hours"), "hundredths", _hours, "part.hours", name="hours_{part}")
    live("begins", _("Begins"), "time", lambda row: "[firings.start]" if row.is_first else "[ends-]")
    live("ends", _("Ends"), "time", "[begins]+[hours]/hours_in_day")
    live("heat", _("Heat, kWh"), "hundredths", _heat, "part.heat_kwh", name="heat_{part}")
    live("kwh", _("Energy, kWh"), "hundredths", kwh, "part.kwh", name="kwh_{part}")
    live("kw", _("Power, kW"), "hundredths", kw, "part.mean_kw", name="power_{part}")
    live("short_kw", _("Missing, kW"), "hundredths", short, "part.short_kw", name="short_{part}", alarm=alarm)
    live("cost", _("Price"), "money", cost, "part.cost", name="cost_{part}")
    live("price_begin", _("1 kW so far"), "worked thousandths", running_price("[begins]"))
    live("price_end", _("1 kW by then"), "worked thousandths", running_price("[ends]"))
    table.skip_to(WORKINGS)
    live("content_from", _("Heat in 1 kg before, kJ"), "worked tenths", _content("[from]"))
    live("content_to", _("Heat in 1 kg after, kJ"), "worked tenths", _content("[to]"))
    live("stored", _("Taken up, kWh"), "worked hundredths", _stored)
    lost = "wall_w_per_k*(([from]+[to])/2-room_c)*[hours]/watts_in_kw"
    live("lost", _("Through the wall, kWh"), "worked hundredths", lost)
    return table


TARGET = 'IF([steps.to_unit]="F",([steps.to]-fahrenheit_at_0_c)*10/fahrenheit_in_10_c,[steps.to])'


def _hours(row: PartRow) -> str:
    return "ABS([to]-[from])/[steps.rate]" if row.is_ramp else "[steps.hold]/minutes_in_hour"


def _heat(row: PartRow) -> str:
    stage, on_share = row.firing.stage, "[firings.on_share]"
    by_time = f'rated_kw*[hours]*IF({on_share}="",usual_on_share_{stage},{on_share})'
    return f'IF(wall_area_m2="",{by_time},MAX(0,[stored]+[lost]))'


def _stored(row: PartRow) -> str:
    warm = f"(ware_kg_{row.firing.stage}+furniture_kg+wall_mass_share*wall_mass_kg)"
    return f"{warm}*([content_to]-[content_from])/kj_in_kwh"


def _content(celsius: str) -> str:
    kelvin = f"({celsius}+kelvin_at_0_c)"
    return f"(heat_constant*{kelvin}+heat_rise/2*{kelvin}^2+heat_bend/{kelvin})/joules_in_kj"


def put_steps(page: Page, plan: Plan, kiln: Kiln, need: FiringNeed, n: int) -> None:
    """Write the table of one firing, the n-th of the plan."""
    page.band(_("{name}, step by step (one load)").format(name=need.firing.name))
    parts_table().write(page, list(_rows(plan, kiln, need, n)), part=str(n))
    page.row += 1


def _rows(plan: Plan, kiln: Kiln, need: FiringNeed, n: int) -> Iterator[PartRow]:
    start, before = need.firing.start, float(kiln.room)
    clock = (start.hour * 60 + start.minute) / DAY_MINUTES
    rates = () if plan.energy is None else plan.energy.rates
    is_first = True
    for index, step in enumerate(need.firing.steps, start=1):
        after = float(step.to.celsius)
        for part in (_part(need, index, "ramp", before, after), _part(need, index, "hold", after, after)):
            row = PartRow(
                firing=need.firing,
                n=n,
                part=part,
                begins=clock,
                is_first=is_first,
                rates=rates,
                kiln=kiln,
                ware_kg=need.ware_kg,
            )
            yield row
            clock, is_first = row.ends, False
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
