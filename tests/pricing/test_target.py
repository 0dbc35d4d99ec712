"""How the target stands at the plan's prices."""

from decimal import Decimal

import pytest

from salebook.pricing.outcome import reaches
from tests.support.priced_sales import a_fixed_cost, a_plan, a_ware, advice_on, for_each_sold


def test_pieces_for_the_target_pay_what_the_sale_meets_and_nothing_else() -> None:
    """10.00 for the hall and 100.00 for the group, at 20.00 less 2.00 a piece: 6.1 pieces."""
    plan = a_plan(
        wares=[a_ware("MUG", sells="1"), a_ware("BOWL", sells="1")],
        overheads=[a_fixed_cost("10"), a_fixed_cost("500", met_by="maker")],
        materials=[for_each_sold("2"), for_each_sold("9", "MUG", met_by="maker")],
    )
    target = advice_on(plan).target

    assert (target.pieces_needed, target.for_sale) == (7, 20)
    assert target.expected_sold == 20
    assert target.expected_net == 20 * 18 - 10


@pytest.mark.parametrize(
    ("net", "reached"), [("100", True), ("99.999999", True), ("99.9999989", False), ("99.99", False)]
)
def test_a_target_is_reached_with_a_millionth_forgiven(net: str, reached: bool) -> None:
    assert reached == reaches(Decimal(net), Decimal(100))
