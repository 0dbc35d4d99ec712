"""What a sale of certain goods at certain costs can be expected to bring, and how likely the target is."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.making.losses import Run
from salebook.plan.model import Plan
from salebook.pricing.chance import TOLERANCE
from salebook.pricing.costing import Costs
from salebook.pricing.good import AS_PLANNED, Good, Prices, goods_of
from salebook.pricing.outlook import chance_over, expected_income


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """Pieces expected to sell, the net expected for the groups (unrounded), and the chance of the target."""

    expected_sold: Decimal
    expected_net: Decimal
    chance: float


def outcome_of(goods: Sequence[Good], plan: Plan, costs: Costs) -> Outcome:
    """Return what the goods can be expected to bring after the fixed costs met by the sale."""
    return Outcome(
        expected_sold=sum((good.expected_sold for good in goods), Decimal(0)),
        expected_net=expected_income(goods) - costs.fixed("sale") + other_income(plan),
        chance=chance_over(goods, plan.outlooks, to_earn(plan, costs)),
    )


def outcome_at(plan: Plan, runs: Sequence[Run], costs: Costs, prices: Prices = AS_PLANNED) -> Outcome:
    """Return what a plan's sale can be expected to bring, at its own prices or at others."""
    return outcome_of(goods_of(plan, runs, costs, prices), plan, costs)


def other_income(plan: Plan) -> Decimal:
    """Return what is expected beside the pieces."""
    return sum((income.expected for income in plan.other_income), Decimal(0))


def to_earn(plan: Plan, costs: Costs) -> Decimal:
    """Return what the pieces have to bring for the target; below 0 where other income is enough."""
    return costs.fixed("sale") + plan.sale.target - other_income(plan)


def reaches(net: Decimal, target: Decimal) -> bool:
    """Whether a net reaches the target, with 1e-6 forgiven."""
    return net >= target - TOLERANCE
