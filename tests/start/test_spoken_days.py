"""Days are read as people say them."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.base.errors import UnfitError
from salebook.start.spoken_days import days_in, saturday_in

TODAY = date(2027, 3, 10)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2027-06-12", ["2027-06-12"]),
        ("2027-06-12, 2027-06-13", ["2027-06-12", "2027-06-13"]),
        ("12 June 2027", ["2027-06-12"]),
        ("Saturday 12th June", ["2027-06-12"]),
        ("June 12, 2027", ["2027-06-12"]),
        ("12 and 13 June 2027", ["2027-06-12", "2027-06-13"]),
        ("12, 13 and 19 June", ["2027-06-12", "2027-06-13", "2027-06-19"]),
        ("30 May to 1 June 2027", ["2027-05-30", "2027-05-31", "2027-06-01"]),
        ("12-13 June", ["2027-06-12", "2027-06-13"]),
        ("sat 12 jun & sun 13 jun", ["2027-06-12", "2027-06-13"]),
        ("12.6.2027", ["2027-06-12"]),
        ("6/12/2027", ["2027-12-06"]),
        ("12/6/27", ["2027-06-12"]),
        ("12 June 27", ["2027-06-12"]),
        ("12. 6.", ["2027-06-12"]),
        ("the 12th of June", ["2027-06-12"]),
        ("12 Septembre 2027", ["2027-09-12"]),
        ("10 March", ["2027-03-10"]),
        ("9 March", ["2028-03-09"]),
        ("Sat 4 Dec", ["2027-12-04"]),
        ("Mon 12 June", ["2028-06-12"]),
        ("Saturdays 5 and 12 June", ["2027-06-05", "2027-06-12"]),
        ("13 June 2027 and 12 June 2027", ["2027-06-12", "2027-06-13"]),
    ],
)
def test_days_are_read_in_the_order_of_the_calendar(text: str, expected: list[str]) -> None:
    assert expected == [day.isoformat() for day in days_in(text, today=TODAY)]


def test_numbers_alone_begin_with_the_month_where_that_is_the_custom() -> None:
    assert days_in("6/12/2027", today=TODAY, locale="en_US") == (date(2027, 6, 12),)


def test_months_may_be_named_in_the_language_of_the_place() -> None:
    assert days_in("12. März 2027", today=TODAY, locale="de_CH") == (date(2027, 3, 12),)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "soon",
        "12",
        "31 June 2027",
        "12 Juno 1066",
        "32.1.2027",
        "13 to 12 June",
        "1 June 2027 to 5 June 2029",
    ],
)
def test_what_is_no_day_is_told(text: str) -> None:
    with pytest.raises(UnfitError, match="a day or days"):
        days_in(text, today=TODAY)


def test_the_year_is_the_first_in_which_the_weekday_fits() -> None:
    assert days_in("Sat 4 Dec", today=date(2026, 11, 25)) == (date(2027, 12, 4),)


@pytest.mark.parametrize("text", ["Fri 4 Dec 2027", "Friday 12 and Sunday 13 June 2027"])
def test_a_weekday_that_does_not_fit_is_told(text: str) -> None:
    with pytest.raises(UnfitError, match=r"a weekday that fits, since that is Saturday, .* 2027"):
        days_in(text, today=TODAY)


@given(st.dates(date(2000, 1, 1), date(2199, 12, 31)))
def test_a_written_day_reads_the_same_again(day: date) -> None:
    assert days_in(day.isoformat(), today=TODAY) == (day,)


@given(st.dates(date(2000, 1, 1), date(2100, 1, 1)), st.integers(0, 40))
def test_the_saturday_some_weeks_ahead_is_the_next_one(today: date, weeks: int) -> None:
    saturday = saturday_in(weeks, today)
    assert saturday.weekday() == 5
    assert timedelta(0) <= saturday - (today + timedelta(weeks=weeks)) < timedelta(days=7)
