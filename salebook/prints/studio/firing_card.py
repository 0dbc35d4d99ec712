"""The firing card: steps with clock times, the curve, energy and price, and room for what really happened."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import accumulate

from salebook.base.words import _
from salebook.making.firing import HOURS_PER_DAY, MINUTES_PER_HOUR, FiringNeed, Part
from salebook.prints.render import Printer
from salebook.prints.studio.shelf import shelf_pictures
from salebook.prints.wording import listed
from salebook.reckoning import Reckoning
from salebook.say.cautions import DEFERS, cautions_on
from salebook.say.kiln import LEAST_SHORT_KW, load_sentences
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
    """One firing with its clock, its curve, and what to say of its days."""

    need: FiringNeed
    begins: float
    """Hours of the clock, as those at which the parts end."""
    part_ends: tuple[float, ...]
    by_night: bool
    light: str
    """By when each load is to be lit; empty where the plan has nothing to make."""
    curve: Curve


def firing_html(printer: Printer, reckoning: Reckoning) -> str:
    """Return the firing print: a page for each firing, how the kiln is packed; without firings it says so."""
    plan, studio = reckoning.plan, reckoning.studio
    return printer.fill(
        "firing.html",
        cards=tuple(_card(need, reckoning) for need in studio.firings),
        least_short_kw=LEAST_SHORT_KW,
        packings=[
            (loading, load_sentences(loading, plan), shelf_pictures(loading, plan))
            for loading in studio.loadings
            if loading.loads
        ],
        by_gas=plan.kiln is not None and plan.kiln.fuel == "gas",
        night=next(each for each in cautions_on("firing") if each.about == "Firing at night"),
        cautions=cautions_on("firing"),
        defers=DEFERS,
    )


def is_by_night(begins: float, hours: float) -> bool:
    """Whether a firing that begins at a clock time (hours) runs into the hours in which people sleep."""
    awake = NIGHT_ENDS <= begins < NIGHT_BEGINS
    return not awake or begins + hours > NIGHT_BEGINS


def _light(need: FiringNeed, reckoning: Reckoning) -> str:
    locale, tasks = reckoning.plan.sale.locale, reckoning.days.latest
    days = next((task.lit for task in tasks if task.lit and task.firing == need.firing.name), ())
    said = [format_day(day, locale) for day in days]
    if len(said) > MOST_DAYS_SAID:
        says = _("To be in time light the first load by {first} and the last by {last}.")
        return says.format(first=said[0], last=said[-1])
    return _("To be in time light a load by {days}.").format(days=listed(said, locale)) if said else ""


def _card(need: FiringNeed, reckoning: Reckoning) -> FiringCard:
    begins = need.firing.start.hour + need.firing.start.minute / MINUTES_PER_HOUR
    return FiringCard(
        need=need,
        begins=begins,
        part_ends=tuple(accumulate((part.hours for part in need.parts), initial=begins))[1:],
        by_night=is_by_night(begins, need.hours),
        light=_light(need, reckoning),
        curve=curve_of(need.parts, begins),
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
