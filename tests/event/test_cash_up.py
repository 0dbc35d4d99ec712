"""The cash box."""

from decimal import Decimal

from hypothesis import given, settings

from salebook.event.entries import DayCount, Line
from tests.support.small_event import FIRST, FIRST_DAY, SECOND, SECOND_DAY, after, line, messy_lines


def test_the_difference_is_counted_less_float_less_expected() -> None:
    counts = {Decimal(20): 2, Decimal("0.50"): 3}
    count = DayCount(day=FIRST_DAY, float_=Decimal(20), counts=counts, paid_out=Decimal("4.50"))
    box = after(line(1, piece=FIRST), line(2, "refund", FIRST, "2"), cash=(count,)).cash_ups[0]
    # 26 in cash, 4.50 paid out; 41.50 counted
    assert (Decimal("21.50"), Decimal("41.50"), Decimal(0)) == (box.expected, box.counted, box.difference)


def test_nothing_counted_has_no_difference() -> None:
    box = after(line(1, piece=FIRST)).cash_ups[0]
    assert (box.cash_takings, box.counted, box.difference) == (Decimal(28), None, None)


def test_every_day_has_a_box_for_every_till() -> None:
    event = after(line(1, piece=FIRST), line(2, piece=SECOND, till="2"))
    expected = [(day, till) for day in (FIRST_DAY, SECOND_DAY) for till in ("1", "2")]
    assert expected == [(box.day, box.till) for box in event.cash_ups]
    assert [box.cash_takings for box in event.cash_ups] == [28, 18, 0, 0]


def test_a_sale_without_lines_has_a_box_for_each_day() -> None:
    assert [(box.day, box.till) for box in after().cash_ups] == [(FIRST_DAY, "1"), (SECOND_DAY, "1")]


def test_the_boxes_of_a_day_stand_by_till() -> None:
    tills = ("10", "3", "1", "garden", "2")
    event = after(*(line(number, piece=FIRST, till=till) for number, till in enumerate(tills)))
    assert [box.till for box in event.cash_ups[:5]] == ["1", "2", "3", "10", "garden"]


def test_only_cash_that_arrived_is_in_the_box() -> None:
    event = after(
        line(1, piece=FIRST, way="card"),
        line(2, piece=SECOND, waiting=True),
        line(3, "donation", amount="5", gift="1"),
    )
    assert event.cash_ups[0].cash_takings == 6


@given(messy_lines())
@settings(deadline=None)
def test_the_boxes_hold_all_the_cash(lines: tuple[Line, ...]) -> None:
    event = after(*lines)
    cash = next(taken.money for taken in event.share_out.ways if taken.payment.cash)
    assert cash == sum((box.cash_takings for box in event.cash_ups), Decimal(0))
