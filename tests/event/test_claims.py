"""What waits for people."""

from decimal import Decimal

import pytest

from salebook.event.claims import ClaimState, claim_state, waiting_claims
from salebook.event.entries import Claim, Line, PieceEntry
from tests.support.small_event import FIRST, SECOND, UNNUMBERED, after, line

HELD = {FIRST: PieceEntry(reserved_for="c7")}


def claim(*lines: Line, **more: object) -> tuple[int, int, int]:
    stands = claim_state(Claim(claim="C7"), after(*lines, **more).state)
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


def waiting(*lines: Line, claims: tuple[Claim, ...] = (), **more: object) -> tuple[ClaimState, ...]:
    event = after(*lines, claims=claims, **more)
    return waiting_claims(claims, event.state)


def test_a_claim_shows_its_pieces_and_what_is_to_pay() -> None:
    ada = Claim(claim=" C7 ", name="Ada", how="posting")
    (found,) = waiting(
        line(1, "deposit", FIRST, "5", claim="c7"),
        line(2, "order", "DOT", count=2, claim="C7"),
        claims=(ada,),
    )
    assert (ada, True) == (found.claim, found.is_sent)
    assert (Decimal(5), Decimal(26)) == (found.paid, found.to_pay)
    assert ([FIRST], {"Thimble dot": 2}) == (
        [piece.piece.number for piece in found.to_hand_over],
        found.to_make,
    )


def test_an_order_for_which_pieces_are_put_aside_is_not_there_twice() -> None:
    (found,) = waiting(
        line(1, "order", "MAY", count=2, claim="C7"), pieces={FIRST: PieceEntry(reserved_for="c7")}
    )
    assert ([FIRST], {"Mug": 1}) == ([piece.piece.number for piece in found.to_hand_over], found.to_make)


def test_what_is_handed_over_waits_no_longer() -> None:
    assert waiting(line(1, piece=FIRST, claim="C7"), claims=(Claim(claim="C7", done=True),)) == ()


def test_a_claim_without_a_row_on_hand_over_is_not_lost() -> None:
    found = waiting(line(1, piece=FIRST, claim="C7"), pieces={SECOND: PieceEntry(reserved_for="C8")})
    assert [("C7", ""), ("C8", "")] == [(each.claim.claim, each.claim.name) for each in found]


def test_a_piece_that_was_given_back_waits_for_nobody() -> None:
    assert waiting(line(1, piece=FIRST, claim="C7"), line(2, "refund", FIRST, claim="C7")) == ()


def test_a_person_without_a_claim_number_is_on_the_list_with_no_piece() -> None:
    (found,) = waiting(line(1, piece=FIRST), claims=(Claim(claim="", name="Ada"),))
    assert found.to_hand_over == ()
    assert (Decimal(0), Decimal(0)) == (found.paid, found.to_pay)


def test_an_empty_row_is_nobody() -> None:
    assert waiting(claims=(Claim(claim=" ", how="collecting"),)) == ()


def test_what_is_put_aside_for_somebody_is_not_still_to_make() -> None:
    seven = Claim(claim="7")
    (found,) = waiting(
        line(1, "order", "MAY", claim="7"),
        line(2, "order", "DOT", claim="8"),
        line(3, piece="DOT", claim="7"),
        claims=(seven, Claim(claim="8", done=True)),
        pieces={FIRST: PieceEntry(reserved_for="7")},
    )[:1]
    assert (seven, {}) == (found.claim, found.to_make)
