"""The chance of the target against scipy, reckoned anew from the plan's own keys."""

from collections.abc import Iterator
from decimal import Decimal
from itertools import product

import numpy as np
import pytest
from scipy.stats import binom

from salebook.plan.model import Plan
from salebook.pricing.outcome import chance_over, outcome_of, sold_on, to_earn
from tests.support.priced_sales import (
    Keys,
    a_fixed_cost,
    a_plan,
    a_studio,
    a_ware,
    advice_on,
    costed,
    for_each_sold,
    given,
)

CASH_AND_CARD = [
    {"name": "cash", "share": "0.4", "cash": True},
    {"name": "card", "percent": "1.69", "fixed": "0.10", "share": "0.6"},
]
THREE_KINDS = [
    {"name": "quiet", "weight": 1, "factor": "0.7"},
    {"name": "fair", "weight": 2, "factor": "1"},
    {"name": "busy", "weight": 1, "factor": "1.15"},
]
VASE = a_ware("VASE", wanted=24, price="18", demand=[["12", "0.95"], ["18", "0.85"], ["30", "0.5"]])
POT = a_ware("POT", wanted=20, price="26", sells="0.8", seconds_price="15")
JUG = a_ware("JUG", wanted=12, price="41.50", sells="0.7", spoken_for=3)
SPOON = given("SPN", price="14", count=5, keeps="0.25")

SALES: dict[str, tuple[str, Keys]] = {
    "one ware": ("370", {"wares": [VASE]}),
    "several wares": ("1100", {"wares": [VASE, POT, JUG]}),
    "seconds and pieces spoken for": ("760", {"wares": [POT, JUG]}),
    "donated pieces with a share kept": ("140", {"donated": [SPOON, given("BOX", count=3, keeps="0.1")]}),
    "fees": ("690", {"wares": [VASE, JUG], "payments": CASH_AND_CARD}),
    "three kinds of day": ("1050", {"wares": [VASE, POT, JUG], "outlooks": THREE_KINDS}),
    "everything at once": (
        "820",
        {
            "wares": [VASE, POT],
            "donated": [SPOON],
            "payments": CASH_AND_CARD,
            "outlooks": THREE_KINDS,
            "materials": [for_each_sold("0.28")],
            "overheads": [a_fixed_cost("54.63")],
            "other_income": [{"name": "refreshments", "expected": "60"}],
        },
    ),
    "a thousand pieces": (
        "8600",
        {
            "wares": [a_ware("TILE", wanted=1000, price="12", sells="0.75")],
            "payments": CASH_AND_CARD,
            "outlooks": THREE_KINDS,
        },
    ),
}


def pieces_of(plan: Plan, seconds: int) -> Iterator[tuple[int, int, float, float]]:
    """Pieces, those spoken for, the share that sells and what one brings, all by the plan's keys."""
    fee = [(float(way.percent) / 100, float(way.fixed), float(way.share_given or 1)) for way in plan.payments]
    wrapping = sum(float(material.pack_price) for material in plan.materials)

    def brings(price: float, keeps: float = 0) -> float:
        return price * (1 - keeps) - sum(s * (p * price + f) for p, f, s in fee) - wrapping

    for ware in plan.wares:
        share = float(ware.sells)
        if ware.demand:
            line = sorted((float(point.price), float(point.share)) for point in ware.demand)
            prices, shares = [price for price, _share in line], [share for _price, share in line]
            share = float(np.interp(float(ware.price), prices, shares))
        yield ware.wanted, ware.spoken_for, share, brings(float(ware.price))
        if ware.seconds_price is not None:
            yield seconds, 0, share, brings(float(ware.seconds_price))
    for gift in plan.donated:
        yield gift.count, 0, float(gift.sells), brings(float(gift.price), float(gift.keeps))


def chance_by_scipy(plan: Plan, seconds: int) -> float:
    fixed = sum(float(cost.amount) for cost in plan.overheads)
    needed = float(plan.sale.target) + fixed - sum(float(income.expected) for income in plan.other_income)
    chance = 0.0
    for outlook in plan.outlooks:
        brought, likely = np.zeros(1), np.ones(1)
        for count, sure, share, each in pieces_of(plan, seconds):
            sold = np.arange(count - sure + 1)
            likelihoods = binom.pmf(sold, count - sure, min(1.0, share * float(outlook.factor)))
            brought = np.add.outer(brought, (sold + sure) * each).ravel()
            likely = np.multiply.outer(likely, likelihoods).ravel()
        chance += float(outlook.weight) * float(likely[brought >= needed - 1e-6].sum())
    return chance / sum(float(outlook.weight) for outlook in plan.outlooks)


@pytest.mark.parametrize(("name", "part"), list(product(SALES, ["0.9", "1", "1.05"])))
def test_the_chance_of_the_target_agrees_with_scipy(name: str, part: str) -> None:
    target, tables = SALES[name]
    plan = a_plan(target=f"{float(target) * float(part):.2f}", **tables)
    studio = a_studio(plan, seconds={"POT": 2})

    assert chance_by_scipy(plan, 2) == pytest.approx(advice_on(plan, studio).target.chance, abs=0.002)


@pytest.mark.parametrize("name", SALES)
def test_each_sale_is_near_enough_to_its_target_for_the_chance_to_tell(name: str) -> None:
    target, tables = SALES[name]

    assert 0.02 < chance_by_scipy(a_plan(target=target, **tables), 2) < 0.98


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
