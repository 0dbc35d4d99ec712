from datetime import date, datetime
from decimal import Decimal

import pytest

from salebook.forecast.selling_time import evening_of, share_over
from salebook.plan.model import Sale
from tests.support.priced_sales import a_plan

TWO_DAYS = a_plan(sale={"days": ["2027-06-19", "2027-06-20"], "open": "10:00 to 18:00"}).sale


def at(day: int, hour: int, minute: int = 0) -> datetime:
    return datetime(2027, 6, day, hour, minute)


@pytest.mark.parametrize(
    ("now", "over"),
    [
        pytest.param(at(1, 9), "0", id="weeks before"),
        pytest.param(at(19, 9, 59), "0", id="before it opens"),
        pytest.param(at(19, 14), "0.25", id="in the middle of the first day"),
        pytest.param(at(19, 18), "0.5", id="as the first day closes"),
        pytest.param(at(20, 3), "0.5", id="in the night"),
        pytest.param(at(20, 12), "0.625", id="on the second day"),
        pytest.param(at(20, 18), "1", id="at the end"),
        pytest.param(at(30, 12), "1", id="days after"),
    ],
)
def test_the_selling_time_is_the_opening_hours_of_all_days(now: datetime, over: str) -> None:
    assert Decimal(over) == share_over(TWO_DAYS, now)


@pytest.mark.parametrize(("now", "over"), [(at(19, 22), "0.6"), (at(20, 14), "0.8"), (at(20, 22), "1")])
def test_the_first_day_may_be_taken_to_be_more_than_the_others(now: datetime, over: str) -> None:
    assert Decimal(over) == share_over(TWO_DAYS, now, first_day=Decimal("0.6"))


def test_a_sale_of_one_day_is_that_day_whatever_its_share() -> None:
    sale = a_plan(sale={"open": "10:00 to 18:00"}).sale
    assert share_over(sale, datetime(2027, 5, 8, 12), first_day=Decimal("0.4")) == Decimal("0.25")


def test_ten_to_five_is_assumed_where_no_hours_are_given() -> None:
    sale = a_plan().sale
    hours = (datetime(2027, 5, 8, 10), datetime(2027, 5, 8, 13, 30), datetime(2027, 5, 8, 17))
    assert [share_over(sale, hour) for hour in hours] == [0, Decimal("0.5"), 1]


@pytest.mark.parametrize(
    ("hours", "evening"),
    [("10:00 to 17:00", datetime(2027, 5, 8, 22)), ("18:00 to 24:00", datetime(2027, 5, 9))],
)
def test_in_the_evening_of_a_day_it_is_closed(hours: str, evening: datetime) -> None:
    assert evening == evening_of(date(2027, 5, 8), a_plan(sale={"open": hours}).sale)


def test_three_days_are_over_to_the_last_digit_at_the_end() -> None:
    days = ["2027-06-18", "2027-06-19", "2027-06-20"]
    sale: Sale = a_plan(sale={"days": days}).sale
    assert share_over(sale, at(20, 22)) == 1
