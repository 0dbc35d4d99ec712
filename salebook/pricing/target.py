"""The target against what the plan's prices can be expected to bring."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.plan.model import Plan
from salebook.pricing.break_even import mean_contribution, pieces_to_earn
from salebook.pricing.costing import Costs
from salebook.pricing.good import Good
from salebook.pricing.ladder import Rung, best_change, lowest_change, sure_change
from salebook.pricing.outcome import Outcome, outcome_of, to_earn


@dataclass(frozen=True, kw_only=True)
class Target(Outcome):
    """The target against what the plan's prices can be expected to bring."""

    amount: Decimal
    pieces_needed: int | None
    for_sale: int
    lowest_change: int | None
    best_change: int | None
    sure_change: int | None


def pieces_for_target(goods: Sequence[Good], plan: Plan, costs: Costs) -> int | None:
    """Return the pieces at the planned mix that make the target; None where pieces bring nothing."""
    return pieces_to_earn(to_earn(plan, costs), mean_contribution(goods, costs, "sale"))


def target_of(goods: Sequence[Good], plan: Plan, costs: Costs, ladder: Sequence[Rung]) -> Target:
    """Return how the target stands at the plan's prices, and which changes of price would do."""
    return Target(
        **vars(outcome_of(goods, plan, costs)),
        amount=plan.sale.target,
        pieces_needed=pieces_for_target(goods, plan, costs),
        for_sale=sum(good.count for good in goods),
        lowest_change=lowest_change(ladder, plan.sale.target),
        best_change=best_change(ladder, plan),
        sure_change=sure_change(ladder, plan.sale.confidence),
    )
