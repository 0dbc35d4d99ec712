"""Working days against numpy's calendar of business days, a reference library."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Literal

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from salebook.making.days import Days, days_for
from salebook.making.studio import plan_studio
from tests.support.sound_plan import plan_with
from tests.support.strategies import at_most

MONDAYS_TO_FRIDAYS = "1111100"
NO_LOSS = dict.fromkeys(("throwing", "drying", "biscuit", "glaze"), Decimal(0))


def days_with_weekends_off(sale_day: date, today: date, *, batches: int, holidays: list[date]) -> Days:
    """Plan one ware of one piece a batch, with the weekends of the year and some holidays free."""
    year = (sale_day - timedelta(days=number) for number in range(400))
    free = [day for day in year if day.weekday() >= 5 or day in holidays]
    plan = plan_with(
        (("sale", "days"), [sale_day]),
        (("wares", 0, "wanted"), batches),
        (("wares", 0, "losses"), NO_LOSS),
        (("wares", 0, "seconds"), 0),
        (("making",), {"batch": 1, "days_on_bat": 1, "drying_days": 7, "free_days": free}),
    )
    lone = plan.model_copy(update={"wares": plan.wares[:1]})
    return days_for(lone, plan_studio(lone), today)


@given(
    sale_day=st.dates(date(2027, 6, 1), date(2028, 6, 1)),
    before=st.integers(100, 200),
    batches=st.integers(1, 25),
    off=st.lists(st.integers(1, 200), max_size=6),
)
@at_most(50)
def test_throwing_and_finishing_fall_on_the_working_days_that_numpy_counts(
    sale_day: date, before: int, batches: int, off: list[int]
) -> None:
    today = sale_day - timedelta(days=before)
    holidays = [sale_day - timedelta(days=number) for number in off]
    days = days_with_weekends_off(sale_day, today, batches=batches, holidays=holidays)
    calendar = np.busdaycalendar(MONDAYS_TO_FRIDAYS, holidays)

    def working(day: date, further: int, roll: Literal["forward", "backward"]) -> date:
        found: date = np.busday_offset(day, further, roll, busdaycal=calendar).astype(object)
        return found

    thrown, finished = days.earliest[0], days.latest[-1]
    assert thrown.first == working(today, 0, "forward")
    assert thrown.last == working(today, batches - 1, "forward")
    assert finished.last == working(sale_day - timedelta(days=1), 0, "backward")
    assert days.begin_by is not None
    assert days.latest[0].last == working(days.begin_by, batches - 1, "forward")
