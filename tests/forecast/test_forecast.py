"""A sale at one moment: which moment, and what counts by then."""

from dataclasses import replace
from datetime import date, datetime

import pytest

from salebook.event.entries import Entries, Line
from salebook.event.event import reckon_event
from salebook.forecast.forecast import has_nothing_filled_in, usual_moment
from salebook.making.studio_tally import StudioCount
from tests.support.lantern_sale import SATURDAY, SUNDAY, asked, lanterns, sold

IN_MARCH = datetime(2027, 3, 1, 9, 30)


def usual(clock: datetime, *lines: Line) -> datetime:
    return usual_moment(lanterns(), reckon_event(lanterns(), Entries(lines=lines)), clock)


@pytest.mark.parametrize(
    ("clock", "day", "moment"),
    [
        pytest.param(IN_MARCH, None, IN_MARCH, id="no line: by the clock"),
        pytest.param(IN_MARCH, SATURDAY, datetime(2027, 6, 19, 22), id="a clock that is behind"),
        pytest.param(datetime(2027, 6, 19, 14), SATURDAY, datetime(2027, 6, 19, 14), id="in the sale"),
        pytest.param(datetime(2027, 6, 20, 9), SATURDAY, datetime(2027, 6, 20, 9), id="on the next morning"),
        pytest.param(IN_MARCH, date(2072, 6, 19), datetime(2027, 6, 20, 22), id="a slip of the year"),
    ],
)
def test_the_moment_is_the_clocks_yet_after_the_last_line(
    clock: datetime, day: date | None, moment: datetime
) -> None:
    lines = (replace(sold([1])[0], day=day),) if day else ()
    assert moment == usual(clock, *lines)


@pytest.mark.parametrize(
    ("entries", "is_empty"),
    [
        (Entries(), True),
        (Entries(made={"LAN": 3}), False),
        (Entries(studio={"LAN": StudioCount(thrown=3)}), False),
        (Entries(lines=sold([1])), False),
    ],
)
def test_a_book_with_nothing_in_it_says_no_more_than_its_plan(entries: Entries, *, is_empty: bool) -> None:
    assert has_nothing_filled_in(entries) == is_empty


def test_lines_up_to_the_evening_of_the_day_count() -> None:
    lines = (*sold([1, 2]), *sold([3], SUNDAY))
    counts = [
        asked(datetime(2027, 6, day, 12), lines=lines).standing.counts["LAN", "first"].sold
        for day in (18, 19, 20)
    ]
    assert counts == [0, 2, 3]


def test_the_sale_has_begun_on_its_first_day_and_is_over_when_it_closes() -> None:
    moments = [datetime(2027, 6, 18, 23), datetime(2027, 6, 19, 8), datetime(2027, 6, 20, 17)]
    assert [(one.has_begun, one.is_over) for one in map(asked, moments)] == [
        (False, False),
        (True, False),
        (True, True),
    ]
