"""The harbour weekend once it is over, with whatever was filled in."""

from dataclasses import replace
from datetime import datetime
from functools import cache
from typing import Any

from salebook.event.entries import Entries, Line
from salebook.event.event import reckon_event
from salebook.forecast.forecast import Forecast, forecast_of
from salebook.forecast.learned.lessons import Lessons
from salebook.plan.load import load_plan
from salebook.plan.model import Plan
from salebook.reckoning import Reckoning, reckon
from tests.support.books import SAMPLES

LAST_EVENING = datetime(2027, 6, 20, 22)


@cache
def harbour() -> Reckoning:
    """Return the reckoning of the weekend's plan."""
    return reckon(load_plan(SAMPLES["harbour-weekend"]))


@cache
def any_day() -> Reckoning:
    """Return the reckoning of the weekend whose plan knows one kind of day only."""
    return replace(harbour(), plan=harbour().plan.model_copy(update={"outlooks_given": ()}))


def sold(*numbers: str, begin: int = 1, **more: Any) -> tuple[Line, ...]:
    """Return a line for each piece, sold for cash at its list price unless more is said."""
    return tuple(
        Line(number=n, piece=number, way="cash", **more) for n, number in enumerate(numbers, start=begin)
    )


def mugs(first: int, last: int) -> list[str]:
    """Return the numbers of mugs."""
    return [f"MUG-{n:03d}" for n in range(first, last + 1)]


def others() -> list[str]:
    """Return the numbers of all that is not a mug."""
    counts = {"BOWL": 22, "JUG": 14, "LAMP": 3, "CARD": 15}
    return [f"{code}-{n:03d}" for code, count in counts.items() for n in range(1, count + 1)]


def past(
    *,
    of: Reckoning | None = None,
    now: datetime = LAST_EVENING,
    lines: tuple[Line, ...] = (),
    **filled_in: Any,
) -> Forecast:
    """Return a sale as it stands at a moment, on its last evening unless another is said."""
    reckoning = of or harbour()
    event = reckon_event(reckoning, Entries(lines=lines, **filled_in))
    return forecast_of(reckoning, event, now)


def lessons(**filled_in: Any) -> Lessons:
    """Return what the weekend taught."""
    return Lessons(forecast=past(**filled_in))


def with_plan(**changes: Any) -> Reckoning:
    """Return the reckoning of the weekend's plan with other values."""
    plan: Plan = harbour().plan.model_copy(update=changes)
    return reckon(plan)
