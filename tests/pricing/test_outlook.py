from decimal import Decimal

import numpy as np
import pytest
from scipy.stats import binom

from salebook.pricing.outcome import outcome_of, to_earn
from salebook.pricing.outlook import chance_over, sold_on
from tests.support.priced_sales import a_fixed_cost, a_plan, a_ware, costed, given

THREE_KINDS = [
    {"name": "quiet", "weight": 1, "factor": "0.7"},
    {"name": "fair", "weight": 2, "factor": "1"},
    {"name": "busy", "weight": 1, "factor": "1.15"},
]


def test_the_chance_is_each_kind_of_days_chance_by_its_weight() -> None:
    plan = a_plan(wares=[a_ware(wanted=40, sells="0.8")], outlooks=THREE_KINDS)
    goods, _costs = costed(plan)
    tails = binom.sf(30, 40, [0.8 * 0.7, 0.8, 0.8 * 1.15])

    assert float(np.average(tails, weights=[1, 2, 1])) == pytest.approx(
        chance_over(goods, plan.outlooks, Decimal(31 * 20)), abs=1e-8
    )


def test_a_kind_of_day_without_weight_does_not_count() -> None:
    never = {"name": "storm", "weight": 0, "factor": "0"}
    plan = a_plan(wares=[a_ware(sells="1")], outlooks=[never, {"name": "fair"}])
    goods, _costs = costed(plan)

    assert chance_over(goods, plan.outlooks, Decimal(200)) == 1.0


def test_pieces_spoken_for_are_certain_and_the_others_are_not() -> None:
    plan = a_plan(wares=[a_ware(wanted=10, spoken_for=4, sells="0.5")])
    goods, _costs = costed(plan)

    assert chance_over(goods, plan.outlooks, Decimal(80)) == 1.0
    assert float(binom.sf(0, 6, 0.5)) == pytest.approx(chance_over(goods, plan.outlooks, Decimal(100)))


def test_pieces_sold_on_a_kind_of_day_take_in_those_spoken_for() -> None:
    plan = a_plan(wares=[a_ware(wanted=10, spoken_for=4, sells="0.5")], outlooks=THREE_KINDS)
    goods, _costs = costed(plan)

    assert [Decimal("6.1"), Decimal(7), Decimal("7.45")] == [
        sold_on(goods[0], kind) for kind in plan.outlooks
    ]


def test_donated_pieces_with_a_part_kept_add_to_the_chance_by_what_they_bring() -> None:
    plan = a_plan(target="90", donated=[given(price="40", keeps="0.25", count=5, sells="0.6")])
    goods, costs = costed(plan)

    assert float(binom.sf(2, 5, 0.6)) == pytest.approx(outcome_of(goods, plan, costs).chance)


def test_the_pieces_have_to_bring_the_target_and_the_costs_less_other_income() -> None:
    plan = a_plan(
        target="100",
        wares=[a_ware()],
        overheads=[a_fixed_cost("40"), a_fixed_cost("7", met_by="maker")],
        other_income=[{"name": "raffle", "expected": "25"}],
    )
    goods, costs = costed(plan)

    assert Decimal(115) == to_earn(plan, costs)
    assert Decimal("165") == outcome_of(goods, plan, costs).expected_net
