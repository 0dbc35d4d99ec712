"""What waits for people."""

import pytest

from salebook.event.claims import claim_state
from salebook.event.entries import Line, PieceEntry
from tests.support.small_event import FIRST, SECOND, UNNUMBERED, after, line

HELD = {FIRST: PieceEntry(reserved_for="c7")}


def claim(*lines: Line, **more: object) -> tuple[int, int, int]:
    stands = claim_state("C7", after(*lines, **more).state)
    return stands.pieces, int(stands.paid), int(stands.to_pay)


def test_a_reserved_piece_is_to_pay() -> None:
    assert claim(pieces=HELD) == (1, 0, 28)


def test_a_deposit_leaves_the_rest() -> None:
    assert claim(line(1, "deposit", SECOND, "10", claim="c7 ")) == (1, 10, 8)


def test_what_is_paid_and_fetched_later_has_nothing_to_pay() -> None:
    assert claim(line(1, piece=FIRST, claim="c7")) == (1, 28, 0)


def test_an_order_is_to_pay_less_what_was_paid_on_it() -> None:
    assert claim(line(1, "order", "MAY", "5", count=2, claim="c7")) == (0, 5, 51)


def test_a_piece_put_to_an_order_is_to_pay_once() -> None:
    assert claim(line(1, "order", "MAY", "5", claim="c7"), pieces=HELD) == (1, 5, 23)


@pytest.mark.parametrize(("paid_on_the_first", "to_pay"), [("", 8), ("18", 18), ("8", 28), ("0", 28)])
def test_what_was_paid_on_an_order_is_used_up_by_the_first_piece_that_is_fetched(
    paid_on_the_first: str, to_pay: int
) -> None:
    held = {number: PieceEntry(reserved_for="C7") for number in (FIRST, "MAY-002")}
    order = line(1, "order", "MAY", "20", count=2, claim="C7")
    fetched = line(2, piece=FIRST, amount=paid_on_the_first, claim="C7")
    assert (2, to_pay) == claim(order, fetched, pieces=held)[::2]


def test_a_piece_sold_for_less_uses_up_nothing_that_was_not_paid() -> None:
    order = line(1, "order", "MAY", claim="C7")
    assert claim(order, line(2, piece=FIRST, amount="20", claim="C7"), pieces=HELD) == (1, 20, 0)


def test_what_else_is_paid_on_a_claim_changes_nothing_of_what_an_order_leaves_to_pay() -> None:
    """Two mugs are ordered and 5 of 56 paid; two thimbles for 3 or a gift have nothing to do with it."""
    order = line(1, "order", "MAY", "5", count=2, claim="c7")
    assert claim(order, line(2, piece=UNNUMBERED, count=2, claim="c7")) == (0, 8, 51)
    assert claim(order, line(2, "donation", amount="20", claim="c7")) == (0, 25, 51)


def test_an_order_of_a_piece_by_its_number_is_a_part_paid_on_that_piece() -> None:
    assert claim(line(1, "order", FIRST, "5", claim="c7")) == (1, 5, 23)


def test_another_claim_has_nothing() -> None:
    assert claim(line(1, piece=FIRST, claim="c8")) == (0, 0, 0)
