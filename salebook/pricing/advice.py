"""The price advice as a whole."""

from dataclasses import dataclass
from decimal import Decimal

from salebook.making.studio import Studio
from salebook.plan.model import Beneficiary, Plan
from salebook.plan.money import rounded, share_out
from salebook.pricing.break_even import ByBasis, break_even, mean_contribution, piece_cost
from salebook.pricing.costing import Costs
from salebook.pricing.good import Good, goods_of
from salebook.pricing.ladder import Rung, ladder_of
from salebook.pricing.target import Target, target_of
from salebook.pricing.warnings import price_warnings


@dataclass(frozen=True, kw_only=True)
class ExpectedShare:
    """What a group can expect."""

    group: Beneficiary
    expected: Decimal


@dataclass(frozen=True, kw_only=True)
class Advice:
    """What the prices in the plan bring, and what other prices would."""

    goods: tuple[Good, ...]
    mean_contribution: Decimal
    """Over everything for sale, on the basis `sale`; 0 where nothing is for sale."""
    break_even: ByBasis[int | None]
    piece_cost: ByBasis[Decimal]
    target: Target
    ladder: tuple[Rung, ...]
    share_out: tuple[ExpectedShare, ...]
    warnings: tuple[str, ...]


def advise(plan: Plan, studio: Studio, costs: Costs) -> Advice:
    """Return the price advice for a plan that has been costed."""
    goods = goods_of(plan, studio.runs, costs)
    ladder = tuple(ladder_of(plan, studio.runs, costs))
    target = target_of(goods, plan, costs, ladder)
    return Advice(
        goods=goods,
        mean_contribution=mean_contribution(goods, costs, "sale"),
        break_even=break_even(goods, costs),
        piece_cost=piece_cost(goods, costs),
        target=target,
        ladder=ladder,
        share_out=expected_shares(plan, target.expected_net),
        warnings=price_warnings(plan, studio, goods, target),
    )


def expected_shares(plan: Plan, net: Decimal) -> tuple[ExpectedShare, ...]:
    """Share the expected net, or nothing where it is negative, among the groups by their parts."""
    digits = plan.sale.digits
    amount = rounded(max(Decimal(0), net), digits)
    shares = share_out(amount, [group.parts for group in plan.beneficiaries], digits)
    return tuple(
        ExpectedShare(group=group, expected=expected)
        for group, expected in zip(plan.beneficiaries, shares, strict=True)
    )
