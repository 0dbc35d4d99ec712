"""What a sale may bring over the kinds of day that it may meet, and how likely the target is."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from salebook.making.losses import Run
from salebook.plan.model import Outlook, Plan
from salebook.pricing.chance import TOLERANCE, Lot, chance_of_reaching
from salebook.pricing.chance_grid import PROVEN
from salebook.pricing.costing import Costs
from salebook.pricing.demand import share_on
from salebook.pricing.good import AS_PLANNED, Good, Prices, goods_of

NOISE = 1e-9
"""By how much a chance may miss the confidence asked for."""

ROUGHLY = (0.02, 0.003)
"""A chance this far from the one asked for need not be known better to be told from it."""


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """Pieces expected to sell, the net expected for the groups (unrounded), and the chance of the target."""

    expected_sold: Decimal
    expected_net: Decimal
    chance: float


def outcome_of(goods: Sequence[Good], plan: Plan, costs: Costs) -> Outcome:
    """Return what the goods can be expected to bring after the fixed costs met by the sale."""
    income = sum((good.expected_sold * good.contribution for good in goods), Decimal(0))
    return Outcome(
        expected_sold=sum((good.expected_sold for good in goods), Decimal(0)),
        expected_net=income - costs.fixed("sale") + other_income(plan),
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


def enough_for(confidence: Decimal) -> float:
    """Return the chance that is as good as a confidence."""
    return float(confidence) - NOISE


def is_sure(chance: Callable[[float], float], confidence: Decimal) -> bool:
    """Whether a chance reaches a confidence; it is asked for within so much, and no closer than need be."""
    enough = enough_for(confidence)
    for within in ROUGHLY:
        about = chance(within)
        if abs(about - enough) > within:
            return about > enough
    return chance(PROVEN) >= enough


def sold_on(good: Good, outlook: Outlook) -> Decimal:
    """Return the pieces expected to sell on a kind of day: those spoken for, and a share of the others."""
    return good.sure + (good.count - good.sure) * share_on(good.share, outlook.factor)


def chance_over(
    goods: Sequence[Good], outlooks: Sequence[Outlook], amount: Decimal, *, within: float = PROVEN
) -> float:
    """Return the chance that the goods bring an amount: each kind of day's chance by its weight.

    Within one kind of day each piece sells or not by itself; the kinds of day are what ties pieces together.
    """
    weights = sum(Fraction(outlook.weight) for outlook in outlooks)
    by_day = ((outlook, float(Fraction(outlook.weight) / weights)) for outlook in outlooks if outlook.weight)
    return min(1.0, sum(weight * _chance_on(goods, outlook, amount, within) for outlook, weight in by_day))


def _chance_on(goods: Sequence[Good], outlook: Outlook, amount: Decimal, within: float) -> float:
    lots = [
        Lot(
            each=good.contribution,
            count=good.count - good.sure,
            share=float(share_on(good.share, outlook.factor)),
        )
        for good in goods
    ]
    sure = sum((good.sure * good.contribution for good in goods), Decimal(0))
    return chance_of_reaching(lots, amount - sure, within=within)
