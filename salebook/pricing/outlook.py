"""How the day may go: what sells on one kind of day, and over all of them."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction

from salebook.plan.model import Outlook
from salebook.pricing.chance import Lot, chance_of_reaching
from salebook.pricing.chance_grid import PROVEN
from salebook.pricing.demand import share_on
from salebook.pricing.good import Good


def sold_on(good: Good, outlook: Outlook) -> Decimal:
    """Return the pieces expected to sell on a kind of day: those spoken for, and a share of the others."""
    return good.sure + (good.count - good.sure) * share_on(good.share, outlook.factor)


def expected_income(goods: Iterable[Good]) -> Decimal:
    """Return what the expected sales bring together, before the fixed costs."""
    return sum((good.expected_sold * good.contribution for good in goods), Decimal(0))


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
