"""The chart of Progress: each till's money by the time of day, else line by line."""

from datetime import time
from io import BytesIO
from typing import Any

import pytest
from openpyxl import load_workbook

from salebook.book.sheets.progress_charts import points_of
from salebook.book.write import book_bytes
from salebook.event.entries import Entries, Line
from salebook.event.event import Event, reckon_event
from tests.support.books import few_free_lines
from tests.support.small_event import FIRST_DAY, SECOND_DAY, after, line, sale


def gift(n: int, amount: str, at: time | None, *, till: str = "1", **more: Any) -> Line:
    return line(n, "donation", amount=amount, at=at, till=till, **more)


TIMED = (
    gift(1, "5", time(10), day=FIRST_DAY),
    gift(2, "7", None),
    gift(3, "20", time(16, 50)),
    gift(4, "1", time(9, 30), day=SECOND_DAY),
    gift(1, "100", time(12), till="2", day=FIRST_DAY),
    gift(2, "30", time(18), till="2"),
)
UNTIMED = tuple(gift(n, "2", None) for n in range(1, 9))


def drawn(event: Event, *tills: str) -> list[tuple[str | int, tuple[int, ...]]]:
    """Return what stands below each point, and the money of each till in whole pounds."""
    points = points_of(sale().plan, event.state, tills)
    return [(point.across, tuple(map(int, point.sums))) for point in points]


def test_the_money_of_each_till_stands_at_the_time_of_day_at_which_it_came_in() -> None:
    points = drawn(after(*TIMED), "1", "2")
    assert points[0] == ("day 1", (12, 0))
    assert points[3:5] == [("", (12, 0)), ("12:00", (12, 100))]
    assert points[14:16] == [("", (32, 130)), ("day 2", (33, 130))]  # all of the day counts at its close
    assert points[-1] == ("", (33, 130))


def test_without_times_the_lines_stand_one_after_another() -> None:
    points = drawn(after(*UNTIMED), "1")
    assert [points[0], points[4], points[-1]] == [(0, (0,)), (1, (2,)), ("", (16,))]


def test_before_any_line_the_hours_of_the_sale_stand_there() -> None:
    said = [says for says, _sums in drawn(after(), "1") if says]
    assert said == ["day 1", "12:00", "14:00", "16:00", "day 2", "12:00", "14:00", "16:00"]


def workbook_of(*lines: Line) -> Any:
    with few_free_lines():
        book = book_bytes(sale(), reckon_event(sale(), Entries(lines=lines)))
    return load_workbook(BytesIO(book))


@pytest.mark.slow
def test_each_till_has_a_line_of_its_own_and_the_joined_takings_show_it() -> None:
    workbook = workbook_of(*TIMED)
    assert len(workbook["Progress"]._charts[0].series) == 2
    takings = workbook["Takings"]
    column = next(cell.column_letter for row in takings.iter_rows() for cell in row if cell.value == "till")
    assert not takings.column_dimensions[column].hidden
    assert takings.print_area.split(":")[1].startswith(f"${column}$")


@pytest.mark.slow
def test_a_single_till_has_one_line_and_takings_leave_it_folded_away() -> None:
    workbook = workbook_of(*UNTIMED)
    assert len(workbook["Progress"]._charts[0].series) == 1
    takings = workbook["Takings"]
    column = next(cell.column_letter for row in takings.iter_rows() for cell in row if cell.value == "till")
    assert takings.column_dimensions[column].hidden


@pytest.mark.slow
def test_a_long_note_makes_its_line_of_takings_taller_and_a_short_one_does_not() -> None:
    takings = workbook_of(gift(1, "5", None), gift(2, "5", None, note="card machine was offline"))["Takings"]
    rows = [row[0].row for row in takings.iter_rows(max_col=1) if row[0].value == "takings"][:2]
    short, long = (takings.row_dimensions[row].height for row in rows)
    assert (short, long > 30) == (None, True)
