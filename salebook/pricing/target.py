"""The target against what the plan's prices can be expected to bring."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.plan.model import Plan
from salebook.pricing.break_even import mean_contribution, pieces_to_earn
from salebook.pricing.costing import Costs
from salebook.pricing.good import Good
from salebook.pricing.ladder import Rung, best_change, lowest_change, sure_change
from salebook.pricing.outcome import outcome_of, to_earn


@dataclass(frozen=True, kw_only=True)
class Target:
    """The target against what the plan's prices can be expected to bring."""

    amount: Decimal
    pieces_needed: int | None
    for_sale: int
    expected_sold: Decimal
    expected_net: Decimal
    chance: float
    lowest_change: int | None
    best_change: int | None
    sure_change: int | None


def pieces_for_target(goods: Sequence[Good], plan: Plan, costs: Costs) -> int | None:
    """Return the pieces at the planned mix that make the target; None where pieces bring nothing."""
    return pieces_to_earn(to_earn(plan, costs), mean_contribution(goods, costs, "sale"))


def target_of(goods: Sequence[Good], plan: Plan, costs: Costs, ladder: Sequence[Rung]) -> Target:
    """Return how the target stands at the plan's prices, and which changes of price would do."""
    outcome = outcome_of(goods, plan, costs)
    return Target(
        amount=plan.sale.target,
        pieces_needed=pieces_for_target(goods, plan, costs),
        for_sale=sum(good.count for good in goods),
        expected_sold=outcome.expected_sold,
        expected_net=outcome.expected_net,
        chance=outcome.chance,
        lowest_change=lowest_change(ladder, plan.sale.target),
        best_change=best_change(ladder, plan),
        sure_change=sure_change(ladder, plan.sale.confidence),
    )
