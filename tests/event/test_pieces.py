"""What the lines say of each piece, added up."""

from datetime import date
from decimal import Decimal

import pytest

from salebook.event.entries import Line, LineKind, PieceEntry
from salebook.event.pieces import Several
from tests.support.small_event import FIRST, SECOND_DAY, UNNUMBERED, after, line, piece_of


def test_a_piece_that_no_line_names_waits_for_nobody() -> None:
    assert piece_of(after(), FIRST).held_for == ""


def test_a_piece_waits_for_the_claim_of_its_first_line() -> None:
    event = after(line(1, "deposit", FIRST, "10", claim="7"), line(2, "deposit", FIRST, "5", claim="8"))
    assert piece_of(event, FIRST).held_for == "7"


def test_what_is_paid_on_the_order_of_a_piece_is_a_deposit() -> None:
    piece = piece_of(after(line(1, "order", FIRST, "10", claim="7")), FIRST)
    assert ("deposit", Decimal(10), Decimal(18)) == (piece.status, piece.paid, piece.to_pay)


def test_a_part_given_back_after_the_balance_leaves_the_piece_sold() -> None:
    event = after(
        line(1, "deposit", FIRST, "10"), line(2, "balance", FIRST, "18"), line(3, "refund", FIRST, "20")
    )
    piece = piece_of(event, FIRST)
    assert ("sold", Decimal(8)) == (piece.status, piece.paid)


def test_a_balance_of_nothing_hands_over_what_was_paid_with_the_order() -> None:
    held = {FIRST: PieceEntry(reserved_for="7")}
    event = after(
        line(1, "order", "MAY", "28", claim="7"), line(2, "balance", FIRST, "0", claim="7"), pieces=held
    )
    assert piece_of(event, FIRST).status == "sold"


def test_a_balance_on_a_ware_without_numbers_sells_as_many_as_are_counted() -> None:
    event = after(line(1, piece=UNNUMBERED), line(2, "balance", UNNUMBERED, "3", count=2))
    assert event.state.sold(UNNUMBERED) == 3


def test_more_given_back_than_sold_is_none_sold() -> None:
    event = after(line(1, piece=UNNUMBERED), line(2, "refund", UNNUMBERED, count=3))
    assert event.state.sold(UNNUMBERED) == 0


@pytest.mark.parametrize(
    ("lines", "several", "handed_over"),
    [
        ([("sale", "28")], {}, True),
        ([("sale", ""), ("refund", "4")], {"net": 24, "refunds": -4}, False),
        ([("sale", "20"), ("sale", "5")], {"net": 25, "typed_sales": 25}, True),
        (
            [("deposit", "10"), ("balance", "")],
            {"net": 10, "deposits": 10, "balances": 1, "asks_left": 1},
            True,
        ),
        ([("order", "6"), ("balance", "3")], {"net": 9, "on_orders": 6, "balances": 1}, True),
        ([("balance", "3"), ("balance", "")], {"net": 3, "balances": 2, "asks_left": 1}, True),
        ([("balance", ""), ("balance", "")], {"balances": 2, "asks_left": 2}, True),
        ([("deposit", "10"), ("refund", "10")], {"deposits": 10, "refunds": -10}, False),
    ],
)
def test_several_lines_of_a_piece_add_up_by_kind(
    lines: list[tuple[LineKind, str]], several: dict[str, int], handed_over: bool
) -> None:
    typed = (line(n, kind, FIRST, amount) for n, (kind, amount) in enumerate(lines, start=1))
    account = piece_of(after(*typed), FIRST).account
    assert (Several(**several), handed_over) == (account.several, account.is_handed_over)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("entry", "lines", "spoken_for"),
    [
        (PieceEntry(), (), False),
        (PieceEntry(reserved_for="7"), (), True),
        (PieceEntry(), (line(1, "order", FIRST),), True),
        (PieceEntry(), (line(1, "deposit", FIRST, "0.50"),), True),
        (PieceEntry(), (line(1, "balance", FIRST, "0.50"),), True),
        (PieceEntry(), (line(1, "deposit", FIRST, "5"), line(2, "refund", FIRST, "5")), False),
        (PieceEntry(), (line(1, piece=FIRST),), False),
    ],
)
def test_a_price_holds_where_a_piece_is_reserved_ordered_or_part_paid(
    entry: PieceEntry, lines: tuple[Line, ...], spoken_for: bool
) -> None:
    assert piece_of(after(*lines, pieces={FIRST: entry}), FIRST).is_spoken_for is spoken_for


@pytest.mark.parametrize(
    ("entry", "day"),
    [
        (PieceEntry(mishap="broken", marked_on=SECOND_DAY), SECOND_DAY),
        (PieceEntry(reserved_for="7", marked_on=SECOND_DAY), SECOND_DAY),
        (PieceEntry(mishap="left over", marked_on=SECOND_DAY), None),
        (PieceEntry(marked_on=SECOND_DAY), None),
    ],
)
def test_a_mark_keeps_a_piece_off_the_table_from_its_day_but_not_what_was_left_over(
    entry: PieceEntry, day: date | None
) -> None:
    assert piece_of(after(pieces={FIRST: entry}), FIRST).aside_from == day


@pytest.mark.parametrize(
    ("entry", "lines", "gone"),
    [
        (PieceEntry(), (), False),
        (PieceEntry(), (line(1, piece=FIRST),), True),
        (PieceEntry(), (line(1, "deposit", FIRST, "5"),), True),
        (PieceEntry(mishap="missing"), (), True),
        (PieceEntry(reserved_for="7"), (), False),
    ],
)
def test_what_is_sold_part_paid_or_lost_is_gone(
    entry: PieceEntry, lines: tuple[Line, ...], gone: bool
) -> None:
    assert piece_of(after(*lines, pieces={FIRST: entry}), FIRST).is_gone is gone
