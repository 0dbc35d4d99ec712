"""The chance that pieces which each sell or not, by themselves, bring at least so much."""

import math
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import accumulate

from salebook.making.losses import binomial_terms
from salebook.pricing.chance_grid import PROVEN, Spread, chance_on_grid, most_sums

UNIT = 1_000_000_000_000
"""What 1 of money counts as: sums are added as whole numbers of its parts, so that equal sums meet."""

TOLERANCE = Decimal("1e-6")
"""How far below the target still counts as reached, in money."""

NEGLIGIBLE = 1e-10
"""Numbers of pieces less likely than this share of the likeliest number are left out."""

MOST_SUMS = 4000
"""Sums kept exactly in each half; two halves meet in the end, so that far more than 60 000 may differ."""


@dataclass(frozen=True, kw_only=True)
class Lot:
    """Pieces alike: what each sold one brings, how many there are, and the share that sells, from 0 to 1."""

    each: Decimal
    count: int
    share: float


def chance_of_reaching(lots: Iterable[Lot], amount: Decimal, *, within: float = PROVEN) -> float:
    """Return the chance that the pieces sold bring at least an amount, with 1e-6 of money forgiven.

    Each piece sells by itself, so that the number sold of a lot is binomial. Lots are combined exactly
    while few enough sums differ; otherwise on a grid that is made finer until the chance is `within` so much
    of the exact one.
    """
    sure, spreads = _spreads(lots)
    needed = _units(amount - TOLERANCE) - sure
    spreads = sorted(spreads, key=lambda spread: -len(spread.chances))
    one, other = _halves(spreads)
    if max(most_sums(one), most_sums(other)) > MOST_SUMS:
        return chance_on_grid(spreads, needed, tenth_of_unit=UNIT // 10, within=within)
    return _meet(_sums(one), _sums(other), needed)


def binomial(count: int, share: float) -> tuple[int, tuple[float, ...]]:
    """Return the first number of pieces that is likely enough to matter, and the chances from it onwards.

    Terms are taken from the likeliest number outwards by their ratios and then divided by their sum, which
    neither overflows nor loses digits.
    """
    if share <= 0 or share >= 1:
        return (count if share >= 1 else 0), (1.0,)
    likeliest, odds = min(count, math.floor((count + 1) * share)), share / (1 - share)
    below = tuple(binomial_terms(count - likeliest, count, 1 / odds, NEGLIGIBLE))[::-1]
    terms = (*below, 1.0, *binomial_terms(likeliest, count, odds, NEGLIGIBLE))
    whole = math.fsum(terms)
    return likeliest - len(below), tuple(term / whole for term in terms)


def _units(amount: Decimal) -> int:
    return round(Fraction(amount) * UNIT)


def _spreads(lots: Iterable[Lot]) -> tuple[int, list[Spread]]:
    """Return what sells on any account, and one spread for each amount that pieces bring."""
    sure, by_each = 0, dict[int, tuple[float, ...]]()
    for lot in lots:
        each = _units(lot.each)
        first, chances = binomial(lot.count, lot.share)
        sure += first * each
        alike = (chances, by_each.get(each, (1.0,)))
        by_each[each] = tuple(_sums(Spread(each=1, chances=number) for number in alike).values())
    return sure, [Spread(each=each, chances=chances) for each, chances in by_each.items() if each]


def _halves(spreads: Iterable[Spread]) -> tuple[list[Spread], list[Spread]]:
    """Put each spread to the half with fewer sums; both come out about as large."""
    one, other = list[Spread](), list[Spread]()
    for spread in spreads:
        min(one, other, key=most_sums).append(spread)
    return one, other


def _sums(spreads: Iterable[Spread]) -> dict[int, float]:
    sums = {0: 1.0}
    for spread in spreads:
        longer: defaultdict[int, float] = defaultdict(float)
        for number, chance in enumerate(spread.chances):
            for brought, before in sums.items():
                longer[brought + number * spread.each] += before * chance
        sums = longer
    return sums


def _meet(one: dict[int, float], other: dict[int, float], needed: int) -> float:
    """Return the chance that a sum of one half and a sum of the other make what is needed."""
    amounts = sorted(other)
    at_least = list(accumulate((other[amount] for amount in reversed(amounts)), initial=0.0))[::-1]
    chance = math.fsum(
        likely * at_least[bisect_left(amounts, needed - brought)] for brought, likely in one.items()
    )
    return min(1.0, chance)
