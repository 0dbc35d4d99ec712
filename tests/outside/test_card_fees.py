"""What a way to pay takes, against textbooks of accounting.

Sources: Accounting Principles: A Business Perspective, Global Text, chapter 9, p. 379 (1,400 at 5 % costs 70
and leaves 1,330); Financial Accounting, Lumen Learning, Record sales and purchases by credit card (1,000 at
3 % leaves 970); Fundamental Accounting Principles, McGraw-Hill, 25th edition, chapter 9, QS 1 (20,000 at 5 %
costs 1,000).
"""

from decimal import Decimal

import pytest

from salebook.pricing.fees import fee_on
from tests.support.priced_sales import a_plan, given
from tests.support.sound_sale import event_with, reckoning_with

PRINTED = [
    pytest.param("1400", "5", "70", id="Accounting Principles"),
    pytest.param("1000", "3", "30", id="Financial Accounting"),
    pytest.param("20000", "5", "1000", id="Fundamental Accounting Principles"),
]


@pytest.mark.parametrize(("price", "percent", "fee"), PRINTED)
def test_the_fee_on_a_price_is_the_books(price: str, percent: str, fee: str) -> None:
    way = a_plan(donated=[given()], payments=[{"name": "card", "percent": percent}]).payments[0]
    assert Decimal(fee) == fee_on(Decimal(price), way)


@pytest.mark.parametrize(("amount", "percent", "fee"), PRINTED)
def test_the_fees_of_a_day_are_the_books(amount: str, percent: str, fee: str) -> None:
    card = {"name": "card", "percent": Decimal(percent)}
    reckoning = reckoning_with((("payments",), [card]))
    typed = [{"kind": "donation", "amount": Decimal(amount) / 2, "way": "card"}] * 2
    share_out = event_with(typed, reckoning).share_out
    assert (Decimal(amount), Decimal(fee)) == (share_out.takings, share_out.fees)
