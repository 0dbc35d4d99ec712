from decimal import Decimal

from salebook.pricing.fees import dearest_fee, expected_fee, fee_on
from tests.support.priced_sales import a_plan, given

CASH = {"name": "cash", "share": "0.4", "cash": True}
CARD = {"name": "card", "percent": "1.69", "fixed": "0.10", "share": "0.6"}
CHEQUE = {"name": "cheque", "fixed": "0.50", "share": "0"}


def test_the_fee_expected_is_each_ways_fee_by_its_share_and_is_not_rounded() -> None:
    plan = a_plan(donated=[given()], payments=[CASH, CARD])

    assert Decimal("0.242520") == expected_fee(Decimal(18), plan)


def test_a_single_way_to_pay_takes_all_sales() -> None:
    plan = a_plan(donated=[given()], payments=[{"name": "card", "percent": "2", "fixed": "0.10"}])

    assert Decimal("0.50") == expected_fee(Decimal(20), plan)


def test_without_ways_to_pay_nothing_is_lost() -> None:
    assert expected_fee(Decimal(20), a_plan(donated=[given()])) == 0


def test_the_dearest_way_depends_on_the_price() -> None:
    ways = a_plan(donated=[given()], payments=[CASH, CARD, CHEQUE]).payments

    assert Decimal("0.50") == dearest_fee(Decimal(10), ways)
    assert fee_on(Decimal(100), ways[1]) == dearest_fee(Decimal(100), ways)
