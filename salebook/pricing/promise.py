"""What a label may promise: "at least … of this price goes to the groups"."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from salebook.plan.model import Plan
from salebook.pricing.costing import Costs
from salebook.pricing.fees import dearest_fee
from salebook.pricing.good import Good
from salebook.pricing.outcome import sold_on


@dataclass(frozen=True, kw_only=True)
class PromisedSum:
    """What a label on one kind of piece may promise, in whole units of currency; None: no promise."""

    good: Good
    fee: Decimal
    """What the dearest way to pay takes of the price, unrounded."""
    brings: Decimal
    """What one sold piece then brings, unrounded."""
    counted: int
    """How many of these are among the promised number of pieces that bring least."""
    sum: Decimal | None


@dataclass(frozen=True, kw_only=True)
class Promise:
    """What the labels may promise, true once `pieces` are sold at list price with costs not above plan."""

    pieces: int
    contributions: Decimal
    """What the `pieces` that bring least bring together, each under its dearest way to pay."""
    share_left: Fraction
    """Share of each contribution that surely remains after the fixed costs; 0: nothing is sure."""
    sums: tuple[PromisedSum, ...]

    @property
    def says_sums(self) -> bool:
        """Whether any label promises a sum above 0."""
        return any(promised.sum for promised in self.sums)


def promise_of(goods: Sequence[Good], plan: Plan, costs: Costs) -> Promise:
    """Return what each label may promise, from the contributions c of the pieces and the fixed costs F.

    Each sum is c × (1 − F ÷ C) rounded down to a whole unit of currency, where C is what the promised number
    of pieces bring at least. Once contributions reach C, F takes at most F ÷ C of them, so that the groups
    get at least the sum of the promises. Nothing is promised where F is not below C, nor on any label
    while selling some piece costs more than it brings, as that would eat up what other labels promise.
    """
    brings = [dearest_contribution(good, plan, costs) for good in goods]
    pieces = promised_pieces(goods, plan)
    counted = _counted(pieces, goods, brings)
    least = sum((count * each for count, each in zip(counted, brings, strict=True)), Decimal(0))
    fixed = costs.fixed("sale")
    is_sure = fixed < least and min(brings, default=0) >= 0
    left = 1 - Fraction(fixed) / Fraction(least) if is_sure else Fraction(0)
    sums = tuple(
        PromisedSum(
            good=good,
            fee=dearest_fee(good.price, plan.payments),
            brings=each,
            counted=count,
            sum=Decimal(math.floor(Fraction(each) * left)) if good.count and each > 0 and left > 0 else None,
        )
        for good, each, count in zip(goods, brings, counted, strict=True)
    )
    return Promise(pieces=pieces, contributions=least, share_left=left, sums=sums)


def dearest_contribution(good: Good, plan: Plan, costs: Costs) -> Decimal:
    """Return what one piece brings under the way to pay that takes most of its price, unrounded."""
    fee = dearest_fee(good.price, plan.payments)
    return good.price * (1 - good.keeps) - fee - costs.per_piece_sold(good.code, "sale")


def promised_pieces(goods: Sequence[Good], plan: Plan) -> int:
    """Return the number of pieces that the print names.

    Those expected on the quietest kind of day, rounded down; half of all where there is only one kind.
    """
    if len(plan.outlooks) == 1:
        return sum(good.count for good in goods) // 2
    quiet = min(plan.outlooks, key=lambda outlook: outlook.factor)
    return math.floor(sum((sold_on(good, quiet) for good in goods), Decimal(0)))


def _counted(pieces: int, goods: Sequence[Good], brings: Sequence[Decimal]) -> tuple[int, ...]:
    """Return how many of each good are among so many pieces that bring least, the first of equals first."""
    counted, left = [0] * len(goods), pieces
    for place in sorted(range(len(goods)), key=lambda place: brings[place]):
        counted[place] = min(goods[place].count, left)
        left -= counted[place]
    return tuple(counted)
