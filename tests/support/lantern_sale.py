"""A weekend's sale of one hundred lanterns, to be asked what can be expected from any moment on."""

from collections.abc import Iterable
from datetime import date, datetime
from functools import cache
from typing import Any

from salebook.event.entries import Entries, Line
from salebook.event.event import reckon_event
from salebook.forecast.forecast import Forecast, forecast_of
from salebook.making.studio_tally import StudioCount
from salebook.plan.load import read_plan
from salebook.reckoning import Reckoning, reckon

SATURDAY, SUNDAY = date(2027, 6, 19), date(2027, 6, 20)
IN_MAY = datetime(2027, 5, 20, 12)
TOO_LATE = datetime(2027, 6, 10, 12)
SATURDAY_EVENING = datetime(2027, 6, 19, 22)
AFTER_ALL = datetime(2027, 6, 21, 9)

PLAN = """
format = 1
[sale]
title = "Lantern weekend"
maker = "Tern Wharf pots"
days = [2027-06-19, 2027-06-20]
target = 4000
[[beneficiaries]]
name = "Village library"
[[clays]]
name = "buff"
pack = "12.5 kg"
pack_price = 14
shrinkage = 0.1
[[wares]]
code = "LAN"
name = "Lantern"
wanted = 100
price = 44
clay = "buff"
ball = "900 g"
demand = [[36, 0.95], [44, 0.9], [55, 0.7], [70, 0.35]]
[[payments]]
name = "cash"
cash = true
share = 0.4
[[payments]]
name = "card"
percent = 1.75
share = 0.6
[[outlooks]]
name = "quiet"
weight = 1
factor = 0.7
[[outlooks]]
name = "usual"
weight = 2
[[outlooks]]
name = "busy"
weight = 1
factor = 1.1
"""

TALLY = StudioCount(thrown=105, dry=98, biscuit=90, good=60, seconds=2, broken=9)
"""34 whole pieces on the way, 11 more to throw."""


@cache
def lanterns(**replaced: str) -> Reckoning:
    """Return the sale's reckoning, with some of the plan's words replaced: `target="3000"`."""
    text = PLAN
    for key, value in replaced.items():
        before = next(line for line in text.splitlines() if line.startswith(f"{key} = "))
        text = text.replace(before, f"{key} = {value}", 1)
    return reckon(read_plan(text, file="lanterns.toml"))


def sold(numbers: Iterable[int], day: date = SATURDAY, **typed: Any) -> tuple[Line, ...]:
    """Return a line for each lantern sold, every other one paid by card."""
    return tuple(
        Line(number=number, day=day, piece=f"LAN-{number:03}", way="card" if number % 2 else "cash", **typed)
        for number in numbers
    )


def asked(now: datetime, *, of: Reckoning | None = None, **filled_in: Any) -> Forecast:
    """Return what can be expected at a moment with these entries."""
    reckoning = of or lanterns()
    return forecast_of(reckoning, reckon_event(reckoning, Entries(**filled_in)), now)


def on_saturday(count: int = 40, *, good: int = 86, **more: Any) -> Forecast:
    """Return what can be expected on the first evening, so many sold of those out of the kiln."""
    return asked(SATURDAY_EVENING, made={"LAN": good}, lines=sold(range(1, count + 1)), **more)
