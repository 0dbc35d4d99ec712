"""What was filled in."""

from decimal import Decimal

from salebook.event.entries import Claim, DayCount, GroupPayment, PieceEntry
from tests.support.small_event import FIRST_DAY


def test_what_is_not_filled_in_is_empty() -> None:
    count = DayCount(day=FIRST_DAY)
    payment = GroupPayment(day=FIRST_DAY, group="Tide ~ mill", amount=Decimal(3))
    texts = (count.counted_by, count.checked_by, payment.reference, PieceEntry().reserved_for)
    assert {""} == {*texts, Claim(claim="7").how}
    assert count.till == "1"
    assert (count.float_, count.paid_out) == (Decimal(0), Decimal(0))
    assert not count.counts
