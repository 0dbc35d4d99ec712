"""The firing card: steps with clock times, the curve, energy and price, and room for what really happened."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

from babel.numbers import format_decimal

from salebook.base.words import _
from salebook.making.days import Days
from salebook.making.firing import HOURS_PER_DAY, MINUTES_PER_HOUR, FiringNeed, Part
from salebook.making.loading import Loading
from salebook.plan.model import Plan, Sale
from salebook.plan.money import rounded
from salebook.plan.quantities import Temperature
from salebook.prints.page import page_html
from salebook.prints.studio.shelf import ShelfPicture, shelf_pictures
from salebook.prints.wording import listed, money
from salebook.reckoning import Reckoning
from salebook.say.cautions import DEFERS, Caution, cautions_on
from salebook.say.kiln import LEAST_SHORT_KW, load_sentence, load_sentences
from salebook.say.time import format_day

CURVE_WIDTH = 170.0
CURVE_HEIGHT = 60.0
CURVE_LEFT = 16.0
CURVE_FOOT = 10.0
CURVE_TOP = 4.0
HOUR_MARKS = (1, 2, 3, 4, 6, 12, 24)
MOST_MARKS = 12
DEGREE_STEP = 200

NIGHT_BEGINS, NIGHT_ENDS = 22.0, 6.0
"""Hours of the clock between which people sleep."""

MOST_DAYS_SAID = 6
"""Of more kiln loads only the first and the last day are said."""

TOLERANCE_MINUTES = 0.01
"""What a time may fall short of a whole minute by and still count as one."""


@dataclass(frozen=True, kw_only=True)
class FiringLine:
    """One ramp or hold, as the card says it."""

    what: str
    rate: str
    lasts: str
    until: str
    kwh: str
    power: str
    short: str


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A mark on an axis of the curve: where along it, and what it says."""

    at: float
    says: str


@dataclass(frozen=True, kw_only=True)
class Curve:
    """The temperature over the hours, in units of the drawing (mm)."""

    points: str
    hours: tuple[Mark, ...]
    degrees: tuple[Mark, ...]
    width: float = CURVE_LEFT + CURVE_WIDTH + 6
    height: float = CURVE_TOP + CURVE_HEIGHT + CURVE_FOOT
    left: float = CURVE_LEFT
    right: float = CURVE_LEFT + CURVE_WIDTH
    top: float = CURVE_TOP
    bottom: float = CURVE_TOP + CURVE_HEIGHT


@dataclass(frozen=True, kw_only=True)
class FiringCard:
    """One firing, ready to be printed."""

    name: str
    loads: int
    starts: str
    ends: str
    lasts: str
    kwh: str
    price: str
    basis: str
    light: str
    """By when each load is to be lit; empty where the plan has nothing to make."""
    by_night: bool
    lines: tuple[FiringLine, ...]
    curve: Curve


@dataclass(frozen=True, kw_only=True)
class LoadLine:
    """What stands in one kiln load."""

    number: int
    says: str
    left: str


@dataclass(frozen=True, kw_only=True)
class Packing:
    """How the kiln is packed for one stage."""

    stage: str
    sentences: tuple[str, ...]
    loads: tuple[LoadLine, ...]
    shelves: tuple[ShelfPicture, ...]


def firing_html(reckoning: Reckoning, *, templates: Path | None = None) -> str:
    """Return the firing print: a page for each firing, how the kiln is packed; without firings it says so.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    return page_html(
        "firing.html",
        reckoning.plan,
        templates=templates,
        cards=tuple(_card(need, reckoning) for need in reckoning.studio.firings),
        packings=tuple(_packing(loading, reckoning.plan) for loading in reckoning.studio.loadings),
        by_gas=reckoning.plan.kiln is not None and reckoning.plan.kiln.fuel == "gas",
        night=_night_caution(),
        cautions=cautions_on("firing"),
        defers=DEFERS,
    )


def clock(hour: float) -> str:
    """Say a clock time, counted in hours from the first midnight: "03:48", and how many days later."""
    # Of a clock that nobody changes; the card says what a night of changed clocks does to the times.
    minutes = _whole_minutes(hour)
    days, minutes = divmod(minutes, int(HOURS_PER_DAY * MINUTES_PER_HOUR))
    said = f"{minutes // 60:02}:{minutes % 60:02}"
    if days == 0:
        return said
    return _("{clock}, next day").format(clock=said) if days == 1 else f"{said}, +{days}"


def lasting(hours: float) -> str:
    """Say a duration: "5 h 48 min"."""
    minutes = _whole_minutes(hours)
    if minutes < MINUTES_PER_HOUR:
        return _("{minutes} min").format(minutes=minutes)
    return _("{hours} h {minutes:02} min").format(hours=minutes // 60, minutes=minutes % 60)


def _whole_minutes(hours: float) -> int:
    """Return the whole minutes of a time, as spreadsheet programs show them: the rest is left off."""
    return int(hours * MINUTES_PER_HOUR + TOLERANCE_MINUTES)


def is_by_night(begins: float, hours: float) -> bool:
    """Whether a firing that begins at a clock time (hours) runs into the hours in which people sleep."""
    awake = NIGHT_ENDS <= begins < NIGHT_BEGINS
    return not awake or begins + hours > NIGHT_BEGINS


def _night_caution() -> Caution:
    return next(caution for caution in cautions_on("firing") if caution.about == "Firing at night")


def _packing(loading: Loading, plan: Plan) -> Packing:
    words = {"biscuit": _("Biscuit firing"), "glaze": _("Glaze firing")}
    return Packing(
        stage=words[loading.stage],
        sentences=load_sentences(loading, plan),
        loads=tuple(
            LoadLine(
                number=number,
                says=load_sentence(load),
                left=_("{mm} mm").format(mm=_number(load.height_left_mm, 0, plan.sale)),
            )
            for number, load in enumerate(loading.loads, start=1)
        ),
        shelves=shelf_pictures(loading, plan),
    )


def _lit(days: Days, firing: str) -> tuple[date, ...]:
    return next((task.lit for task in days.latest if task.lit and task.firing == firing), ())


def _light(days: tuple[date, ...], sale: Sale) -> str:
    if not days:
        return ""
    said = [format_day(day, sale.locale) for day in days]
    if len(said) > MOST_DAYS_SAID:
        says = _("To be in time light the first load by {first} and the last by {last}.")
        return says.format(first=said[0], last=said[-1])
    return _("To be in time light a load by {days}.").format(days=listed(said, sale))


def _card(need: FiringNeed, reckoning: Reckoning) -> FiringCard:
    sale = reckoning.plan.sale
    begins = need.firing.start.hour + need.firing.start.minute / MINUTES_PER_HOUR
    return FiringCard(
        name=need.firing.name,
        loads=need.loads,
        starts=clock(begins),
        ends=clock(begins + need.hours),
        lasts=lasting(need.hours),
        kwh=_number(need.kwh, 1, sale),
        price=money(Decimal(repr(round(need.cost_of_load, 6))), sale),
        basis=_basis(need),
        light=_light(_lit(reckoning.days, need.firing.name), sale),
        by_night=is_by_night(begins, need.hours),
        lines=tuple(_lines(need, begins, sale)),
        curve=curve_of(need.parts, begins),
    )


def _lines(need: FiringNeed, begins: float, sale: Sale) -> Iterator[FiringLine]:
    passed = begins
    for part in need.parts:
        passed += part.hours
        step = need.firing.steps[part.step - 1]
        yield FiringLine(
            what=_what(part, step.to, sale),
            rate=_("{rate} °C/h").format(rate=format_decimal(step.rate, locale=sale.locale))
            if part.kind == "ramp"
            else "",
            lasts=lasting(part.hours),
            until=clock(passed),
            kwh=_number(part.kwh, 1, sale),
            power=_number(part.mean_kw, 1, sale),
            short=_number(part.short_kw, 1, sale) if part.short_kw > LEAST_SHORT_KW else "",
        )


def _what(part: Part, to: Temperature, sale: Sale) -> str:
    """Say a ramp or a hold in °C, and where the plan says °F, its own words too."""
    low, high = (_number(degrees, 0, sale) for degrees in (part.from_c, part.to_c))
    says = _("hold at {high} °C") if part.kind == "hold" else _("{low} to {high} °C")
    said = says.format(low=low, high=high)
    return said if to.unit == "C" else f"{said} ({to.to_text()})"


def _basis(need: FiringNeed) -> str:
    if need.basis == "meter":
        return _("by the meter")
    if need.correction != 1:
        return _("an estimate, set right by a metered firing")
    return _("an estimate until a firing has been metered")


def _number(value: float, places: int, sale: Sale) -> str:
    return format_decimal(
        rounded(Decimal(repr(round(value, 9))), places),
        format=f"#,##0{'.0' * bool(places)}",
        locale=sale.locale,
    )


def curve_of(parts: tuple[Part, ...], begins: float) -> Curve:
    """Return the drawing of a firing's temperatures; `begins` is the clock time in hours."""
    total = sum(part.hours for part in parts) or 1.0
    top = max([*(part.to_c for part in parts), *(part.from_c for part in parts), 1.0])
    top = -(-top // DEGREE_STEP) * DEGREE_STEP
    return Curve(
        points=" ".join(
            f"{_x(hours, total):.2f},{_y(degrees, top):.2f}" for hours, degrees in _course(parts)
        ),
        hours=tuple(_hour_marks(begins, total)),
        degrees=tuple(
            Mark(at=_y(degrees, top), says=str(degrees)) for degrees in range(0, int(top) + 1, DEGREE_STEP)
        ),
    )


def _course(parts: tuple[Part, ...]) -> Iterator[tuple[float, float]]:
    passed = 0.0
    for part in parts:
        yield passed, part.from_c
        passed += part.hours
        yield passed, part.to_c


def _hour_marks(begins: float, total: float) -> Iterator[Mark]:
    step = next(
        (step for step in HOUR_MARKS if total / step <= MOST_MARKS), max(24, round(total / MOST_MARKS))
    )
    hour = -(-begins // step) * step
    while hour <= begins + total:
        yield Mark(at=_x(hour - begins, total), says=f"{int(hour % HOURS_PER_DAY):02}:00")
        hour += step


def _x(hours: float, total: float) -> float:
    return CURVE_LEFT + CURVE_WIDTH * hours / total


def _y(degrees: float, top: float) -> float:
    return CURVE_TOP + CURVE_HEIGHT * (1 - max(0.0, degrees) / top)
