"""Days and times of day are read as people write them, and refused where they read two ways."""

from datetime import date

import pytest
from babel.localedata import locale_identifiers
from hypothesis import given
from hypothesis import strategies as st

from salebook.base.errors import UnfitError
from salebook.plan.dates import DayParts, clock_text, day_parts, is_month_first, minutes_in


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("2027-06-12", (12, 6, 2027)),
        ("2027/6/12", (12, 6, 2027)),
        ("12 June 2027", (12, 6, 2027)),
        ("June 12th, 2027", (12, 6, 2027)),
        ("the 12th of Jun 27", (12, 6, 2027)),
        ("12-Jun-27", (12, 6, 2027)),
        ("2027 June 12", (12, 6, 2027)),
        ("12 Sept", (12, 9, None)),
        ("12 2027 June", (12, 6, 2027)),
        ("20/6/27", (20, 6, 2027)),
        ("20/12/27", (20, 12, 2027)),
        ("13/6", (13, 6, None)),
        ("12/13", (13, 12, None)),
        ("6/20", (20, 6, None)),
        ("12", (12, None, None)),
    ],
)
def test_a_day_is_read_as_far_as_it_is_said(text: str, parts: tuple[int, int | None, int | None]) -> None:
    assert day_parts(text) == DayParts(*parts)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "June",
        "12 13 June",
        "12-13 June",
        "12 June 7",
        "1.5.2",
        "3/1/2",
        "1.0005",
        "20270612",
        "12 May June",
        "soon",
        "Saturday 12 June",
        "20/6/27/28",
    ],
)
def test_what_reads_as_no_day_is_refused(text: str) -> None:
    with pytest.raises(UnfitError, match="year-month-day"):
        day_parts(text, month_first=False)


def test_of_two_numbers_up_to_twelve_the_place_says_which_is_the_month() -> None:
    assert day_parts("12/6/2027", month_first=True) == DayParts(6, 12, 2027)
    assert day_parts("12/6/2027", month_first=False) == DayParts(12, 6, 2027)
    with pytest.raises(UnfitError, match="year-month-day"):
        day_parts("12/6/2027")


def test_a_number_behind_the_month_is_the_year_and_one_before_it_the_day() -> None:
    assert day_parts("27 June 26") == DayParts(27, 6, 2026)


def test_a_word_that_means_nothing_stands_beside_a_day_only_where_it_may() -> None:
    assert day_parts("Saturday 12 June", strangers=1) == DayParts(12, 6)
    for text, strangers in (("Saturday 12 June", 0), ("late Saturday 12 June", 1), ("Saturday 12 6", 1)):
        with pytest.raises(UnfitError, match="year-month-day"):
            day_parts(text, month_first=False, strangers=strangers)


def test_months_are_named_in_english_and_in_the_language_of_the_place() -> None:
    assert day_parts("12. März 2027", locale="de_CH") == day_parts("12 March 2027", locale="de_CH")


@pytest.mark.parametrize(
    "parts", [(30, 2, 2027), (12, 6, 1999), (12, 6, 2200), (12, 6, None), (12, None, 2027)]
)
def test_a_date_exists_is_whole_and_is_one_that_a_sale_may_be_on(
    parts: tuple[int, int | None, int | None],
) -> None:
    with pytest.raises(UnfitError, match="year-month-day"):
        DayParts(*parts).to_date()


@given(st.dates(date(2000, 1, 1), date(2199, 12, 31)))
def test_a_written_date_reads_the_same_again(day: date) -> None:
    assert day_parts(day.isoformat()).to_date() == day


@pytest.mark.parametrize(
    ("locale", "month_first"),
    [
        ("en_GB", False),
        ("en_US", True),
        ("en_CA", False),
        ("sv_SE", False),
        ("de_CH", False),
        ("ja_JP", True),
    ],
)
def test_the_order_of_day_and_month_is_that_of_the_place(locale: str, month_first: bool) -> None:
    assert is_month_first(locale) is month_first


@pytest.mark.slow
def test_every_place_has_an_order() -> None:
    assert {is_month_first(locale) for locale in locale_identifiers()} == {True, False}


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("7:30", 450),
        ("07.30", 450),
        ("7h30", 450),
        ("7:30:59", 450),
        ("7 am", 420),
        ("12 a.m.", 0),
        ("1 am", 60),
        ("12pm", 720),
        ("9.15 PM", 1275),
        ("24:00", 1440),
    ],
)
def test_a_time_of_day_is_read_in_minutes(text: str, minutes: int) -> None:
    assert minutes_in(text) == minutes


@pytest.mark.parametrize("text", ["", "7", "7h", "24:01", "7:60", "13 pm", "0 am", "noon", "7:30 x"])
def test_anything_else_is_no_time_of_day(text: str) -> None:
    with pytest.raises(UnfitError, match="a time of day"):
        minutes_in(text)


@given(st.integers(0, 1440))
def test_a_written_time_reads_the_same_again(minutes: int) -> None:
    assert minutes_in(clock_text(minutes)) == minutes
