"""What the lines say of each piece, added up."""

from decimal import Decimal

from salebook.event.entries import PieceEntry
from tests.support.small_event import FIRST, UNNUMBERED, after, line, piece_of


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
