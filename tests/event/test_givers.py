from decimal import Decimal

from salebook.event.givers import givers_of
from tests.support.small_event import DONATED, FIRST, after, line, sale

PLAN = sale().plan


def test_a_giver_is_told_what_was_paid_and_what_comes_back() -> None:
    event = after(line(1, piece=FIRST), line(2, piece=DONATED, amount="20", gift="5"))
    (giver,) = givers_of(PLAN, event.state.pieces)
    (given,) = giver.pieces
    assert ("A neighbour", 1, Decimal(20), Decimal(5)) == (
        giver.name,
        given.sold,
        given.paid,
        given.to_giver,
    )
    assert (Decimal(15), Decimal(5)) == (giver.raised, giver.to_giver)


def test_a_giver_of_two_kinds_of_pieces_is_one_giver() -> None:
    more = PLAN.donated[0].model_copy(update={"code": "D2", "name": "Ladle"})
    plan = PLAN.model_copy(update={"donated": (*PLAN.donated, more)})
    (giver,) = givers_of(plan, after().state.pieces)
    assert ["Carved spoon", "Ladle"] == [given.given.name for given in giver.pieces]
    assert giver.raised == 0
