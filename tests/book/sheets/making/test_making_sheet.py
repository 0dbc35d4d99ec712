"""The sheet Making: the tally that the studio keeps, and the day from which time is reckoned."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from io import BytesIO
from typing import Any

import pytest
from openpyxl import load_workbook

from salebook.book.write import book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.making.studio_tally import StudioCount, studio_states
from salebook.plan.model import Plan
from salebook.reckoning import reckon
from tests.support.books import few_free_lines, sample_tables
from tests.support.cells import Value, changed, values_of
from tests.support.changes import day_number
from tests.support.inputs import input_place
from tests.support.plan_strategies import plan_of
from tests.support.programs import needs_libreoffice
from tests.support.proof import recalculated_by_libreoffice
from tests.support.rules import Opened

COUNTS = {
    "MUG": StudioCount(thrown=47, dry=45, biscuit=30, good=9, seconds=1, broken=4),
    "JUG": StudioCount(thrown=8, broken=1),
}


@pytest.fixture(scope="module")
def plan() -> Plan:
    return plan_of(sample_tables("harbour-weekend"))


def book_on(plan: Plan, today: date | None, entries: Entries | None = None) -> bytes:
    reckoning = reckon(plan, today=today)
    with few_free_lines():
        return book_bytes(reckoning, reckon_event(reckoning, entries or Entries()))


def named(book: bytes, name: str) -> list[Value | None]:
    """Return what a name stands for, from the top down; None for an empty cell."""
    values = values_of(book)
    return [values.get(place) for place in Opened(book).places(name)]


def state(book: bytes) -> str:
    """Return the line that says if there is time."""
    return str(values_of(book)["Making", "B5"])


def typed_counts(book: bytes, counts: Mapping[str, StudioCount]) -> bytes:
    cells: dict[tuple[str, str], Value | Decimal] = {}
    for code, count in counts.items():
        for key in ("thrown", "dry", "biscuit", "good", "seconds", "broken"):
            if (value := getattr(count, key)) is not None:
                cells[input_place(book, "Making", "studio", key, {"code": code})] = value
    return changed(book, cells)


DAYS = {
    "2027-05-19": ("There is time. Days in hand: 1", 1),
    "2027-05-20": ("There is just time: begin to throw today.", 0),
    "2027-05-23": ("TOO LATE: days over the last day to begin: 3", -3),
}
"""A day that is typed, what is said then, and the days in hand."""


@pytest.fixture(scope="module")
def typed(plan: Plan) -> Mapping[str, bytes]:
    """Books with counts or a day typed, recalculated all at once: a start takes longer than a book."""
    book = book_on(plan, date(2027, 1, 2))
    today = input_place(book, "Making", "days", "today")
    on_days = {day: changed(book, {today: day_number(date.fromisoformat(day))}) for day in DAYS}
    counts = typed_counts(book_on(plan, date(2027, 4, 1)), COUNTS)
    return recalculated_by_libreoffice({"counts": counts, **on_days})


@needs_libreoffice
def test_what_the_studio_types_is_followed_live(plan: Plan, typed: Mapping[str, bytes]) -> None:
    recalculated = typed["counts"]
    stand = studio_states(reckon(plan).studio.runs, COUNTS, float(plan.sale.confidence))
    assert named(recalculated, "studio_to_throw") == [outcome.to_throw for outcome in stand]
    assert named(recalculated, "studio_thrown") == [outcome.count.thrown_so_far for outcome in stand]
    more = sum(outcome.to_throw for outcome in stand)
    assert state(recalculated) == f"To throw: {more}; days left for it: 56"


@needs_libreoffice
@pytest.mark.parametrize("day", DAYS)
def test_the_day_that_is_typed_counts(day: str, typed: Mapping[str, bytes]) -> None:
    said, hand = DAYS[day]
    assert state(typed[day]) == said
    assert named(typed[day], "days_in_hand") == [hand]


def test_without_a_day_the_sheet_asks_for_one(plan: Plan) -> None:
    assert state(book_on(plan, None)) == "Type today's date below."


def test_too_late_comes_with_what_would_fit(plan: Plan) -> None:
    values = values_of(book_on(plan, date(2027, 5, 25)))
    assert values["Making", "B5"] == "TOO LATE: days over the last day to begin: 5"
    assert str(values["Making", "B6"]).startswith("With all pieces the sale could be held from ")
    assert str(values["Making", "B7"]).startswith("By the day of the sale there could be: ")


def test_counts_that_were_kept_stand_in_their_cells(plan: Plan) -> None:
    book = book_on(plan, None, Entries(studio=dict(COUNTS), studio_day=date(2027, 5, 1)))
    values = values_of(book)
    assert values[input_place(book, "Making", "studio", "good", {"code": "MUG"})] == 9
    assert values[input_place(book, "Making", "days", "today")] == day_number(date(2027, 5, 1))


def test_when_enough_is_thrown_that_is_said(plan: Plan) -> None:
    enough = {ware.code: StudioCount(thrown=ware.wanted * 3) for ware in plan.wares}
    assert state(book_on(plan, date(2027, 6, 1), Entries(studio=enough))) == "Enough is thrown."


def test_throwing_more_may_be_too_late(plan: Plan) -> None:
    few = {ware.code: StudioCount(thrown=1) for ware in plan.wares}
    assert state(book_on(plan, date(2027, 6, 1), Entries(studio=few))).startswith(
        "TOO LATE to throw more; still wanting: "
    )


def test_what_only_formulas_need_is_folded_away_below_what_is_printed(plan: Plan) -> None:
    sheet: Any = load_workbook(BytesIO(book_on(plan, None)))["Making"]
    printed = int(sheet.print_area.rpartition("$")[2])
    rows = {row[1].value: row[1].row for row in sheet.iter_rows() if row[1].value}
    assert (
        rows["How many to start"] < rows["How sure is enough? Each number started and its chance"] <= printed
    )
    for folded in ("Studio tally: how that is found", "Normal curve, at how sure", "lb"):
        assert rows[folded] > printed
        assert sheet.row_dimensions[rows[folded]].hidden
    headings = {cell.value for row in sheet.iter_rows(max_row=printed) for cell in row}
    assert headings.isdisjoint({"Middle term", "Spread of\nthe likely", "Differs"})
