"""What a sale said of how many buy: the share at the prices that were asked, and so at all others."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Final

from salebook.forecast.learned.isotonic import falling
from salebook.plan.model import DemandPoint
from salebook.pricing.demand import share_at

WORTH: Final = 20
"""Pieces that what was believed before is worth (judgement)."""
EDGE: Final = Decimal("0.005")
"""No share is taken for nearer to none or all than this: a curve in logits never leaves 0 and 1."""
DIGITS: Final = 4


@dataclass(frozen=True, kw_only=True)
class Asked:
    """How many pieces found a buyer at a price, or for more, of all that were there."""

    price: Decimal
    sold: int
    offered: int
    counts_as: Decimal
    """As many pieces on a day as planned say as much as those offered on a day of that kind."""

    @property
    def is_sold_out(self) -> bool:
        """Whether more might have sold, had there been more."""
        return self.sold >= self.offered


def share_after(share: Decimal, asked: Asked) -> Decimal:
    """Return the share that is to be expected once a sale was seen: a beta prior's mean, updated.

    Where all sold there were at least so many buyers, and the share is not lowered.
    """
    updated = (share * WORTH + asked.sold) / (WORTH + asked.counts_as)
    return max(share, updated) if asked.is_sold_out else updated


def shares_after(points: Sequence[DemandPoint], asked: Sequence[Asked]) -> tuple[Decimal, ...]:
    """Return the shares to be expected at the prices asked, the lowest price first: never rising."""
    updated = [share_after(share_at(each.price, points), each) for each in asked]
    return falling(updated, [WORTH + each.counts_as for each in asked])


def demand_after(points: Sequence[DemandPoint], asked: Sequence[Asked]) -> tuple[DemandPoint, ...]:
    """Return the points of demand moved as far as those prices moved that were asked, lowest first.

    A step is one in logits, so that all points keep their order and stay within 0 and 1. Between two prices
    asked it goes by straight lines, outside it is that of the nearest one.
    """
    after = shares_after(points, asked)
    steps = [
        (each.price, logit(share) - logit(share_at(each.price, points)))
        for each, share in zip(asked, after, strict=True)
    ]
    moved = [_moved(point.share, _step_at(point.price, steps)) for point in points]
    in_order = moved if len(asked) == 1 else falling(moved, [Decimal(1)] * len(moved))
    return tuple(
        point.model_copy(update={"share": share}) for point, share in zip(points, in_order, strict=True)
    )


def logit(share: Decimal) -> float:
    """Return the logarithm of the odds of a share, kept a little off 0 and 1."""
    kept = float(min(1 - EDGE, max(EDGE, share)))
    return math.log(kept / (1 - kept))


def _moved(share: Decimal, step: float) -> Decimal:
    if not step:
        return share
    return round(Decimal(1 / (1 + math.exp(-logit(share) - step))), DIGITS)


def _step_at(price: Decimal, steps: Sequence[tuple[Decimal, float]]) -> float:
    if price <= steps[0][0]:
        return steps[0][1]
    for (low, below), (high, above) in pairwise(steps):
        if price <= high:
            return below + (above - below) * float((price - low) / (high - low))
    return steps[-1][1]
