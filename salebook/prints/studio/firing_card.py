"""The firing card: steps with clock times, the curve, energy and price, and room for what really happened."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from itertools import accumulate, pairwise, zip_longest

from salebook.making.firing import HOURS_PER_DAY, MINUTES_PER_HOUR, FiringNeed, Part
from salebook.prints.render import Printer
from salebook.prints.studio.shelf import shelf_pictures
from salebook.reckoning import Reckoning
from salebook.say.cautions import DEFERS, caution_about, cautions_on
from salebook.say.firing_boxes import firing_boxes
from salebook.say.kiln import LEAST_SHORT_KW, load_sentences

HOUR_MARKS = (1, 2, 3, 4, 6, 12, 24)
MOST_MARKS = 12
DEGREE_STEP = 200

NIGHT_BEGINS, NIGHT_ENDS = 22.0, 6.0
"""Hours of the clock between which people sleep."""

LOADS_BESIDE = 3
"""So many kiln loads have a box each beside the steps."""


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A mark on an axis of the curve: where along it, and what it says."""

    at: float
    says: str


@dataclass(frozen=True, kw_only=True)
class Curve:
    """The temperature over the hours, from a clock time (hours) on, in units of the drawing (mm)."""

    parts: tuple[Part, ...]
    begins: float

    width, height = 192.0, 74.0
    left, right = 16.0, 186.0
    top, bottom = 4.0, 64.0

    @property
    def points(self) -> str:
        """The course of the temperature, as SVG writes it."""
        passed = list(accumulate((part.hours for part in self.parts), initial=0.0))
        ends = zip(self.parts, pairwise(passed), strict=True)
        course = (point for part, (start, end) in ends for point in ((start, part.from_c), (end, part.to_c)))
        return " ".join(f"{self._x(hours):.2f},{self._y(degrees):.2f}" for hours, degrees in course)

    @property
    def hours(self) -> Iterator[Mark]:
        """The marks of the clock, a few hours apart."""
        few = (step for step in HOUR_MARKS if self._total / step <= MOST_MARKS)
        step = next(few, max(24, round(self._total / MOST_MARKS)))
        hour = -(-self.begins // step) * step
        while hour <= self.begins + self._total:
            yield Mark(at=self._x(hour - self.begins), says=f"{int(hour % HOURS_PER_DAY):02}:00")
            hour += step

    @property
    def degrees(self) -> tuple[Mark, ...]:
        """The marks of the temperature."""
        marks = range(0, int(self._hottest) + 1, DEGREE_STEP)
        return tuple(Mark(at=self._y(degrees), says=str(degrees)) for degrees in marks)

    @property
    def _total(self) -> float:
        return sum(part.hours for part in self.parts) or 1.0

    @property
    def _hottest(self) -> float:
        hottest = max([1.0, *(degrees for part in self.parts for degrees in (part.from_c, part.to_c))])
        return -(-hottest // DEGREE_STEP) * DEGREE_STEP

    def _x(self, hours: float) -> float:
        return self.left + (self.right - self.left) * hours / self._total

    def _y(self, degrees: float) -> float:
        return self.top + (self.bottom - self.top) * (1 - max(0.0, degrees) / self._hottest)


@dataclass(frozen=True, kw_only=True)
class LoadToFire:
    """One load on the card: its number, by when it is to be lit, how many pieces are in it, where known."""

    number: int
    light_by: date | None
    pieces: int | None


@dataclass(frozen=True, kw_only=True)
class FiringCard:
    """One firing with its clock, its curve, and its loads."""

    need: FiringNeed
    begins: float
    """Hours of the clock, as those at which the parts end."""
    part_ends: tuple[float, ...]
    by_night: bool
    loads: tuple[LoadToFire, ...]
    curve: Curve


def firing_html(printer: Printer, reckoning: Reckoning) -> str:
    """Return the firing print: a page for each firing, how the kiln is packed; without firings it says so."""
    plan, studio = reckoning.plan, reckoning.studio
    return printer.fill(
        "firing.html",
        cards=tuple(_card(need, reckoning) for need in studio.firings),
        loads_beside=LOADS_BESIDE,
        least_short_kw=LEAST_SHORT_KW,
        packings=[
            (loading, load_sentences(loading, plan), shelf_pictures(loading, plan))
            for loading in studio.loadings
            if loading.loads
        ],
        firing_boxes=tuple(firing_boxes(plan.kiln.fuel).values()) if plan.kiln else (),
        night=caution_about("Firing at night"),
        cautions=cautions_on("firing"),
        defers=DEFERS,
    )


def start_hour(need: FiringNeed) -> float:
    """Return the clock time at which a firing begins, in hours."""
    return need.firing.start.hour + need.firing.start.minute / MINUTES_PER_HOUR


def is_by_night(begins: float, hours: float) -> bool:
    """Whether a firing that begins at a clock time (hours) runs into the hours in which people sleep."""
    awake = NIGHT_ENDS <= begins < NIGHT_BEGINS
    return not awake or begins + hours > NIGHT_BEGINS


def _loads(need: FiringNeed, reckoning: Reckoning) -> Iterator[LoadToFire]:
    tasks, loadings = reckoning.days.latest, reckoning.studio.loadings
    lit = next((task.lit for task in tasks if task.lit and task.firing == need.firing.name), ())
    found = next(each.loads for each in loadings if each.stage == need.firing.stage)
    pieces = [load.pieces for load in found] if len(found) == need.loads else []
    for number, day, count in zip_longest(range(1, need.loads + 1), lit[: need.loads], pieces):
        yield LoadToFire(number=number, light_by=day, pieces=count)


def _card(need: FiringNeed, reckoning: Reckoning) -> FiringCard:
    begins = start_hour(need)
    return FiringCard(
        need=need,
        begins=begins,
        part_ends=tuple(accumulate((part.hours for part in need.parts), initial=begins))[1:],
        by_night=is_by_night(begins, need.hours),
        loads=tuple(_loads(need, reckoning)),
        curve=Curve(parts=need.parts, begins=begins),
    )
