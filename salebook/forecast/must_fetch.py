"""What each piece must fetch for the target: if all sell, as the plan expects, and to be sure of it."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from itertools import pairwise
from typing import Final, Literal, get_args

from salebook.base.rounding import ceil
from salebook.forecast.figures import chance_of_target, expected_net_of
from salebook.forecast.standing import Standing, codes_left, goods_by_key, is_guessed, state_at
from salebook.forecast.state import SaleState
from salebook.plan.money import ZERO
from salebook.pricing.demand import highest_known
from salebook.pricing.fees import expected_fee
from salebook.pricing.good import Prices
from salebook.pricing.ladder import CHANGES, prices_at
from salebook.pricing.outcome import is_sure, reaches

Assuming = Literal["all sell", "as planned", "sure"]

TENTHS: Final = 1000
"""Prices are tried in tenths of a per cent of those in the plan."""

LOW: Final = (300, 500)
RUNGS: Final = tuple(TENTHS + 10 * change for change in CHANGES)
HIGH: Final = 4
"""How many prices are tried above the ladder's, up to the highest at which the plan says what sells."""

MOST: Final = 1000 * TENTHS
"""Prices a thousand times as high as those in the plan are not looked for."""

HALVINGS: Final = 16
"""How often what lies between two prices tried is halved: enough to find the tenth, or nearly, far above."""


@dataclass(frozen=True, kw_only=True)
class MustFetch:
    """The smallest common change of the maker's own prices that makes the target."""

    assuming: Assuming
    change: Decimal | None
    """Per cent on the prices in the plan, in tenths; None where no price makes it."""
    prices: Prices
    is_guessed: bool
    """Whether the plan does not say how many would sell at such a price."""


def must_fetch(
    standing: Standing, assumptions: Sequence[Assuming] = get_args(Assuming)
) -> tuple[MustFetch, ...]:
    """Return what each piece left must fetch, on each assumption; prices are rounded up to the step."""
    search = _Search(standing)
    return tuple(search.found(assuming) for assuming in assumptions)


def highest_tried(known: Decimal) -> tuple[int, ...]:
    """Return the prices tried above the ladder's; `known` is the highest of which the plan knows, in tenths.

    Above that more need not be asked for more to come in: one price will do, far above.
    """
    above = max(ZERO, known - RUNGS[-1])
    high = tuple(ceil(RUNGS[-1] + above * n / HIGH) for n in range(1, HIGH + 1))
    return (*high, max(MOST, high[-1]))


@dataclass(frozen=True, kw_only=True)
class Halving:
    """A price between one that is not enough and one that is, in tenths."""

    lower: int
    upper: int
    tenths: int
    is_enough: bool


def halvings(lower: int, upper: int, is_enough: Callable[[int], bool], times: int) -> Iterator[Halving]:
    """Yield the prices tried between two, ever closer; each stands between the two by its ratio to them."""
    for _time in range(times):
        tenths = round(math.sqrt(max(1, lower) * upper))
        yield (found := Halving(lower=lower, upper=upper, tenths=tenths, is_enough=is_enough(tenths)))
        lower, upper = between(found)


def between(found: Halving) -> tuple[int, int]:
    """Return the prices between which the smallest that is enough lies, once one was tried."""
    return (found.lower, found.tenths) if found.is_enough else (found.tenths, found.upper)


class _Search:
    """The smallest prices, in tenths of a per cent of those in the plan, that are enough."""

    def __init__(self, standing: Standing) -> None:
        self._standing = standing
        left = codes_left(standing)
        self._wares = tuple(ware for ware in standing.plan.wares if ware.code in left)
        self._enough: Mapping[Assuming, Callable[[SaleState], bool]] = {
            "all sell": lambda state: reaches(state.if_all_sell, state.target),
            "as planned": lambda state: reaches(expected_net_of(state), state.target),
            "sure": self._is_sure,
        }

    def found(self, assuming: Assuming) -> MustFetch:
        """Return the smallest change on one assumption."""
        tenths = self._smallest(self._enough[assuming]) if self._wares else None
        prices = Prices() if tenths is None else self._prices(tenths)
        return MustFetch(
            assuming=assuming,
            change=None if tenths is None else change_of(tenths),
            prices=prices,
            is_guessed=tenths is not None and is_guessed(self._standing, prices),
        )

    def _is_sure(self, state: SaleState) -> bool:
        return reaches(state.at_best, state.target) and is_sure(
            lambda within: chance_of_target(state, within=within), self._standing.plan.sale.confidence
        )

    def _prices(self, tenths: int) -> Prices:
        return prices_at(self._standing.plan, change_of(tenths))

    def _smallest(self, enough: Callable[[SaleState], bool]) -> int | None:
        """Return the smallest price that is enough, between the first tried that is and the one before it."""

        @cache
        def is_enough(tenths: int) -> bool:
            return enough(state_at(self._standing, self._prices(tenths)))

        known = max(highest_known(ware) / ware.price for ware in self._wares) * TENTHS
        for lower, upper in pairwise((0, *LOW, *RUNGS, *highest_tried(known))):
            if is_enough(upper):
                *_before, last = halvings(lower, upper, is_enough, HALVINGS)
                return between(last)[1]
        return None


def average_price(standing: Standing) -> Decimal | None:
    """Return what each piece must fetch on average if all sell, unrounded; None where none is left.

    Fees, givers' parts and what each piece sold costs come off it. None too where nothing is left of a price.
    """
    state, goods = state_at(standing), goods_by_key(standing)
    needed, kept = state.still_needed + state.promised_brings, ZERO
    for offered in state.goods:
        good, count = goods[offered.code, offered.grade], offered.to_sell
        for_nothing = -expected_fee(ZERO, standing.plan) - standing.costs.per_piece_sold(good.code, "sale")
        needed -= count * for_nothing
        kept += count * (good.contribution - for_nothing) / good.price
    return needed / kept if kept > 0 else None


def change_of(tenths: int) -> Decimal:
    """Return a price in tenths of a per cent of the plan's as a change in per cent."""
    return Decimal(tenths - TENTHS) / 10
