"""What each piece must fetch for the target: if all sell, as the plan expects, and to be sure of it."""

from bisect import bisect_left
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import chain, pairwise
from typing import Final, Literal, get_args

from salebook.forecast.figures import chance_of_target, expected_net_of
from salebook.forecast.standing import Standing, codes_left, goods_by_key, is_guessed, state_at
from salebook.forecast.state import SaleState
from salebook.plan.money import ZERO
from salebook.pricing.demand import highest_known
from salebook.pricing.fees import expected_fee
from salebook.pricing.good import Prices
from salebook.pricing.ladder import prices_at
from salebook.pricing.outcome import is_sure, reaches

Assuming = Literal["all sell", "as planned", "sure"]

TENTHS: Final = 1000
"""Prices are tried in tenths of a per cent of those in the plan."""

LEAST: Final = 1
MOST: Final = 10_000 * TENTHS
"""Prices ten thousand times as high are not looked for."""

STEP: Final = Decimal("1.05")
"""How far apart prices are tried where more need not sell for more; within, for the smallest that does."""


@dataclass(frozen=True, kw_only=True)
class MustFetch:
    """The smallest common change of the maker's own prices that makes the target."""

    assuming: Assuming
    change: Decimal | None
    """Per cent on the prices in the plan, in tenths; None where no price makes it."""
    prices: Prices
    is_guessed: bool
    """Whether the plan does not say how many would sell at such a price."""


def must_fetch(standing: Standing) -> tuple[MustFetch, ...]:
    """Return what each piece left must fetch, on each assumption; prices are rounded up to the step."""
    search = _Search(standing)
    return tuple(search.found(assuming) for assuming in get_args(Assuming))


class _Search:
    """The smallest prices, in tenths of a per cent of those in the plan, that are enough."""

    def __init__(self, standing: Standing) -> None:
        self._standing = standing
        left = codes_left(standing)
        self._wares = tuple(ware for ware in standing.plan.wares if ware.code in left)
        self._at_best = self._smallest(
            lambda state: reaches(state.at_best, state.target), LEAST, _doubled(LEAST)
        )
        self._enough: Mapping[Assuming, Callable[[SaleState], bool]] = {
            "all sell": lambda state: reaches(state.if_all_sell, state.target),
            "as planned": lambda state: reaches(expected_net_of(state), state.target),
            "sure": self._is_sure,
        }

    def found(self, assuming: Assuming) -> MustFetch:
        """Return the smallest change on one assumption."""
        tenths = self._at_best
        if tenths is not None:
            tenths = self._smallest(self._enough[assuming], tenths, self._from(tenths))
        prices = Prices() if tenths is None else prices_at(self._standing.plan, _change(tenths))
        return MustFetch(
            assuming=assuming,
            change=None if tenths is None else _change(tenths),
            prices=prices,
            is_guessed=tenths is not None and is_guessed(self._standing, prices),
        )

    def _is_sure(self, state: SaleState) -> bool:
        return is_sure(
            lambda within: chance_of_target(state, within=within), self._standing.plan.sale.confidence
        )

    def _from(self, first: int) -> Iterator[int]:
        """Yield prices from one on, a little higher each; far ones where nobody knows what sells at them."""
        known = max(highest_known(ware) / ware.price for ware in self._wares) * TENTHS
        tenths = Decimal(first)
        while tenths < known:
            yield int(tenths)
            tenths = max(tenths * STEP, tenths + 1)
        yield from _doubled(int(tenths))

    def _smallest(self, enough: Callable[[SaleState], bool], first: int, tried: Iterator[int]) -> int | None:
        """Return the smallest price that is enough, between the first tried that is and the one before it."""

        def is_enough(tenths: int) -> bool:
            return enough(state_at(self._standing, prices_at(self._standing.plan, _change(tenths))))

        for before, tenths in pairwise(chain([first - 1], tried if self._wares else ())):
            if is_enough(tenths):
                return before + 1 + bisect_left(range(before + 1, tenths), True, key=is_enough)
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


def _doubled(tenths: int) -> Iterator[int]:
    while tenths < MOST:
        yield tenths
        tenths *= 2


def _change(tenths: int) -> Decimal:
    """Return a price in tenths of a per cent of the plan's as a change in per cent."""
    return Decimal(tenths - TENTHS) / 10
