"""The cash box against textbooks of accounting: over is positive, short is negative.

Sources: College Accounting, McGraw-Hill, 4th edition, problem 9.1B (1,399 banked of 1,400, 1,051 of 1,050;
its change fund is left out here); double-entry-bookkeeping.com, Cash over journal entry (200 to
begin with, 1,614 counted, sales of 1,400: 14 over), since no publisher's page with a whole box was found.
"""

from decimal import Decimal

import pytest

from salebook.event.entries import DayCount
from tests.support.sound_sale import event_with, reckoning_with


@pytest.mark.parametrize(
    ("change", "counted", "sales", "difference"),
    [
        pytest.param(0, 1399, 1400, -1, id="College Accounting, 25 April"),
        pytest.param(0, 1051, 1050, 1, id="College Accounting, 26 April"),
        pytest.param(200, 1614, 1400, 14, id="a shop's day"),
    ],
)
def test_what_is_over_or_short_is_the_books(change: int, counted: int, sales: int, difference: int) -> None:
    reckoning = reckoning_with()
    day = reckoning.plan.sale.days[0]
    taken = [{"kind": "donation", "amount": Decimal(sales), "way": "cash", "day": day}]
    count = DayCount(day=day, float_=Decimal(change), counts={Decimal(1): counted})
    box = event_with(taken, reckoning, cash=(count,)).cash_ups[0]
    assert [Decimal(sales), Decimal(counted), Decimal(difference)] == [
        box.expected,
        box.counted,
        box.difference,
    ]
