from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from salebook.event.entries import Line, PieceEntry, TableCount
from salebook.event.event import Event
from salebook.event.table_count import LastCount, last_count, left_on
from tests.support.small_event import FIRST_DAY, SECOND_DAY, UNNUMBERED, after, line
from tests.support.sound_sale import event_with, sale

FIRST, SECOND = date(2027, 5, 8), date(2027, 5, 9)
NEXT_DAY: dict[str, Any] = {"day": SECOND}


def left(event: Event, evening: date, code: str = "VASE") -> int:
    totals = next(totals for totals in event.state.piece_totals if totals.code == code)
    return left_on(event.state, totals, evening)


def refund(piece: str, **more: Any) -> dict[str, Any]:
    return {"kind": "refund", "piece": piece, "way": "cash"} | more


DEPOSIT = {"kind": "deposit", "piece": "VASE-001", "amount": Decimal(5), "way": "cash"}
PRICE = next(piece.price for piece in event_with().state.pieces if piece.piece.code == "VASE")
ALL = left(event_with(), FIRST)


@pytest.mark.parametrize(
    ("typed", "on_the_first", "on_the_second"),
    [
        ([sale("VASE-001")], -1, -1),
        ([sale("VASE-001", **NEXT_DAY)], 0, -1),
        ([sale("VASE-001"), sale("VASE-002", **NEXT_DAY)], -1, -2),
        ([sale("POT-001")], 0, 0),
        ([sale("VASE-001"), refund("VASE-001") | NEXT_DAY], -1, 0),
        ([DEPOSIT], -1, -1),
        ([DEPOSIT, {"kind": "balance", "piece": "VASE-001", "way": "cash"} | NEXT_DAY], -1, -1),
        ([sale("VASE-900", **NEXT_DAY)], 0, 0),
        ([sale("VASE-001"), refund("VASE-001", amount=Decimal(1)) | NEXT_DAY], -1, -1),
        ([sale("VASE-001"), sale("VASE-001", **NEXT_DAY)], -1, -1),
        ([DEPOSIT, sale("VASE-001", **NEXT_DAY)], -1, -1),
        ([sale("VASE-001"), refund("VASE-001", amount=PRICE) | NEXT_DAY, sale("VASE-001")], -1, -1),
        ([sale("VASE-001", **NEXT_DAY), refund("VASE-001")], 0, 0),
    ],
)
def test_the_book_knows_what_stood_on_the_table_each_evening(
    typed: list[dict[str, Any]], on_the_first: int, on_the_second: int
) -> None:
    event = event_with(typed)
    assert (left(event, FIRST) - ALL, left(event, SECOND) - ALL) == (on_the_first, on_the_second)


def test_a_piece_that_broke_after_it_came_back_stood_on_the_table_on_no_evening() -> None:
    broken = {"VASE-001": PieceEntry(mishap="broken")}
    event = event_with([sale("VASE-001"), refund("VASE-001") | NEXT_DAY], pieces=broken)
    assert (left(event, FIRST) - ALL, left(event, SECOND) - ALL) == (-1, -1)


@pytest.mark.parametrize(
    ("typed", "entry", "on_the_first", "on_the_second"),
    [
        ([], {"mishap": "broken", "marked_on": SECOND}, 0, -1),
        ([], {"mishap": "given away", "marked_on": FIRST}, -1, -1),
        ([], {"reserved_for": "7", "marked_on": SECOND}, 0, -1),
        ([], {"mishap": "left over", "marked_on": FIRST}, 0, 0),
        ([], {"marked_on": FIRST}, 0, 0),
        ([sale("VASE-001", **NEXT_DAY)], {"reserved_for": "7", "marked_on": FIRST}, -1, -1),
        (
            [sale("VASE-001"), refund("VASE-001") | NEXT_DAY],
            {"mishap": "broken", "marked_on": SECOND},
            -1,
            -1,
        ),
        ([sale("VASE-001"), refund("VASE-001") | NEXT_DAY], {"mishap": "broken", "marked_on": FIRST}, -1, -1),
        ([sale("VASE-001"), refund("VASE-001")], {"mishap": "broken", "marked_on": SECOND}, 0, -1),
        ([DEPOSIT], {"reserved_for": "7", "marked_on": SECOND}, -1, -1),
    ],
)
def test_a_mark_with_a_day_leaves_the_evenings_before_as_they_were_counted(
    typed: list[dict[str, Any]], entry: dict[str, Any], on_the_first: int, on_the_second: int
) -> None:
    event = event_with(typed, pieces={"VASE-001": PieceEntry(**entry)})
    assert (left(event, FIRST) - ALL, left(event, SECOND) - ALL) == (on_the_first, on_the_second)


def test_a_mark_on_a_piece_that_was_not_made_took_nothing_off_the_table() -> None:
    marked = {"VASE-002": PieceEntry(mishap="broken", marked_on=SECOND)}
    assert left(event_with(made={"VASE": 1}, pieces=marked), FIRST) == 1


def test_pieces_without_numbers_are_counted_by_how_many_are_moved() -> None:
    sold = line(1, piece=UNNUMBERED, count=5, day=FIRST_DAY)
    back = line(2, "refund", UNNUMBERED, count=2, day=SECOND_DAY)
    event = after(sold, back)
    at_first = left(after(), FIRST_DAY, UNNUMBERED)
    assert (left(event, FIRST_DAY, UNNUMBERED), left(event, SECOND_DAY, UNNUMBERED)) == (
        at_first - 5,
        at_first - 3,
    )


@pytest.mark.parametrize(
    ("later", "taken_off"),
    [
        (line(1, piece=UNNUMBERED, count=3, day=SECOND_DAY), 3),
        (line(1, "balance", UNNUMBERED, "3", count=2, day=SECOND_DAY), 2),
        (line(1, "deposit", UNNUMBERED, "3", count=2, day=SECOND_DAY), 0),
        (line(1, "deposit", "MAY-001", "0.50", day=SECOND_DAY), 1),
        (line(1, piece="MAY-001", amount="0.50", day=SECOND_DAY), 1),
    ],
)
def test_what_was_taken_off_on_a_later_day_was_still_there(later: Line, taken_off: int) -> None:
    event = after(later)
    code = UNNUMBERED if later.piece == UNNUMBERED else "MAY"
    assert left(event, FIRST_DAY, code) - left(event, SECOND_DAY, code) == taken_off
    assert left(event, FIRST_DAY, code) == left(after(), FIRST_DAY, code)


def test_a_piece_paid_for_in_pennies_left_the_table_with_the_first_of_them() -> None:
    event = after(
        line(1, "deposit", "MAY-001", "0.50", day=FIRST_DAY), line(2, "balance", "MAY-001", day=SECOND_DAY)
    )
    at_first = left(after(), FIRST_DAY, "MAY")
    assert [at_first - 1] * 2 == [left(event, day, "MAY") for day in (FIRST_DAY, SECOND_DAY)]


def test_pieces_left_over_stood_on_the_table_to_the_last_evening() -> None:
    over = {"VASE-001": PieceEntry(mishap="left over")}
    event = event_with([sale("VASE-002", **NEXT_DAY)], pieces=over)
    assert (left(event, FIRST) - ALL, left(event, SECOND) - ALL) == (0, -1)
    both = over | {"VASE-003": PieceEntry(mishap="left over")}
    assert left(event_with(pieces=both), SECOND) == ALL


def test_a_piece_left_over_that_was_given_back_stood_on_the_table_except_on_the_day_between() -> None:
    over = {"VASE-001": PieceEntry(mishap="left over")}
    event = event_with([sale("VASE-001"), refund("VASE-001") | NEXT_DAY], pieces=over)
    assert (left(event, FIRST) - ALL, left(event, SECOND) - ALL) == (-1, 0)


@pytest.mark.parametrize(
    ("counts", "evening", "differing"),
    [
        ([], None, 0),
        ([(FIRST, "VASE", -1), (FIRST, "POT", -1)], FIRST, 1),
        ([(FIRST, "VASE", 0), (SECOND, "VASE", -1)], SECOND, 0),
        ([(SECOND, "NONE", 0)], None, 0),
    ],
)
def test_only_the_last_evenings_counts_are_held_against_the_book(
    counts: list[tuple[date, str, int]], evening: date | None, differing: int
) -> None:
    """Each count is told by how far it is from what stood there before the sale; a vase was sold."""
    event = event_with([sale("VASE-001")])
    there = {totals.code: totals.here for totals in event_with().state.piece_totals}
    table = [
        TableCount(day=day, code=code, counted=there.get(code, 0) + apart) for day, code, apart in counts
    ]
    assert LastCount(evening=evening, differing=differing) == last_count(event.state, table)


def test_a_code_that_begins_like_another_is_not_counted_with_it() -> None:
    event = event_with([sale("SPN-001", **NEXT_DAY)])
    assert left(event, FIRST, "SPN") == left(event, SECOND, "SPN") + 1
