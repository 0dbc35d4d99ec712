from decimal import Decimal

from salebook.event.entries import Claim, Line, PieceEntry
from salebook.event.waiting import Waiting, waiting_claims
from tests.support.small_event import FIRST, SECOND, after, line


def waiting(*lines: Line, claims: tuple[Claim, ...] = (), **more: object) -> tuple[Waiting, ...]:
    event = after(*lines, claims=claims, **more)
    return waiting_claims(claims, event.state)


def test_a_claim_shows_its_pieces_and_what_is_to_pay() -> None:
    ada = Claim(claim=" C7 ", name="Ada", how="sent on")
    (found,) = waiting(
        line(1, "deposit", FIRST, "5", claim="c7"),
        line(2, "order", "DOT", count=2, claim="C7"),
        claims=(ada,),
    )
    assert (ada, True) == (found.claim, found.is_sent)
    assert (Decimal(5), Decimal(26)) == (found.paid, found.to_pay)
    assert ([FIRST], {"Thimble dot": 2}) == ([piece.piece.number for piece in found.pieces], found.to_make)


def test_an_order_for_which_pieces_are_put_aside_is_not_there_twice() -> None:
    (found,) = waiting(
        line(1, "order", "MAY", count=2, claim="C7"), pieces={FIRST: PieceEntry(reserved_for="c7")}
    )
    assert ([FIRST], {"Mug": 1}) == ([piece.piece.number for piece in found.pieces], found.to_make)


def test_what_is_handed_over_waits_no_longer() -> None:
    assert waiting(line(1, piece=FIRST, claim="C7"), claims=(Claim(claim="C7", done=True),)) == ()


def test_a_claim_without_a_row_on_hand_over_is_not_lost() -> None:
    found = waiting(line(1, piece=FIRST, claim="C7"), pieces={SECOND: PieceEntry(reserved_for="C8")})
    assert [("C7", ""), ("C8", "")] == [(each.claim.claim, each.claim.name) for each in found]


def test_a_piece_that_was_given_back_waits_for_nobody() -> None:
    assert waiting(line(1, piece=FIRST, claim="C7"), line(2, "refund", FIRST, claim="C7")) == ()


def test_a_person_without_a_claim_number_is_on_the_list_with_no_piece() -> None:
    (found,) = waiting(line(1, piece=FIRST), claims=(Claim(claim="", name="Ada"),))
    assert found.pieces == ()
    assert (Decimal(0), Decimal(0)) == (found.paid, found.to_pay)


def test_an_empty_row_is_nobody() -> None:
    assert waiting(claims=(Claim(claim=" ", how="fetched"),)) == ()


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
