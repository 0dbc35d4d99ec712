"""What can be expected from one moment on, and how likely the target is."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.forecast.state import Offered, SaleState
from salebook.plan.model import Outlook
from salebook.plan.money import ZERO
from salebook.pricing.chance import Lot, chance_of_reaching
from salebook.pricing.chance_grid import PROVEN
from salebook.pricing.demand import share_on


@dataclass(frozen=True, kw_only=True)
class Figures:
    """What can be expected; money unrounded, chances from 0 to 1."""

    outlooks: tuple[Decimal, ...]
    """How likely each kind of day is, after what has sold."""
    fits: bool
    """Whether what has sold could come about on any kind of day; the plan's weights stand where not."""
    expected_more_sold: Decimal
    """Pieces, those spoken for and still to come too."""
    expected_net: Decimal
    chance: float


@dataclass(frozen=True, kw_only=True)
class _Pieces:
    """Pieces that each sell by themselves with the same chance, and what each sold one brings."""

    brings: Decimal
    count: int
    chance: Decimal

    @property
    def expected(self) -> Decimal:
        return self.count * self.chance


def figures_of(state: SaleState) -> Figures:
    """Return what can be expected from a state on."""
    sold = sum((weight * pieces.expected for weight, all_ in _by_day(state) for pieces in all_), ZERO)
    return Figures(
        outlooks=_weights(state),
        fits=any(likelihoods_of(state)),
        expected_more_sold=sum(good.promised for good in state.goods) + sold,
        expected_net=expected_net_of(state),
        chance=chance_of_target(state),
    )


def expected_net_of(state: SaleState) -> Decimal:
    """Return the net that can be expected from a state on, without the work that a chance takes."""
    days = _by_day(state)
    brought = (weight * pieces.expected * pieces.brings for weight, all_ in days for pieces in all_)
    return state.sure + sum(brought, ZERO)


def chance_of_target(state: SaleState, *, within: float = PROVEN) -> float:
    """Return the chance of the target from a state on, within so much of the exact one."""
    chances = (
        float(weight)
        * chance_of_reaching(
            [Lot(each=one.brings, count=one.count, share=float(one.chance)) for one in pieces],
            state.still_needed,
            within=within,
        )
        for weight, pieces in _by_day(state)
    )
    return min(1.0, sum(chances))


def likelihoods_of(state: SaleState) -> tuple[Decimal, ...]:
    """Return how likely each kind of day is beside the others, after what has sold; all 0 where none fits.

    By Bayes' rule: the plan's weight times the binomial chance of just so many sold of each good. The
    number of ways in which so many can be chosen is the same on all kinds of day and left out.
    """
    return tuple(
        outlook.weight
        * math.prod((_likelihood(good, outlook, state.over) for good in state.goods), start=Decimal(1))
        for outlook in state.outlooks
    )


def chance_in_the_rest(*, share: Decimal, share_then: Decimal, over: Decimal) -> Decimal:
    """Return the chance that a piece still there sells in the rest of the selling time.

    A buyer at the price so far comes with the chance `share` in the whole of it, at any moment alike: none
    has come by now with the chance 1 - share x over. At the price from now on one comes with `share_then`.
    """
    if over >= 1:
        return ZERO
    return share_then * (1 - over) / (1 - share * over)


def _likelihood(good: Offered, outlook: Outlook, over: Decimal) -> Decimal:
    if not over:
        return Decimal(1)
    sold_by_now = share_on(good.share, outlook.factor) * over
    return _power(sold_by_now, good.taken) * _power(1 - sold_by_now, good.left)


def _power(base: Decimal, times: int) -> Decimal:
    # Decimals neither underflow at a thousand pieces nor know 0 to the power of 0.
    return base**times if times else Decimal(1)


def _weights(state: SaleState) -> tuple[Decimal, ...]:
    """Return how likely each kind of day is; as the plan has it where none of them fits what has sold."""
    likelihoods = likelihoods_of(state)
    parts = likelihoods if any(likelihoods) else [outlook.weight for outlook in state.outlooks]
    whole = sum(parts, ZERO)
    return tuple(part / whole for part in parts)


def _by_day(state: SaleState) -> Sequence[tuple[Decimal, Sequence[_Pieces]]]:
    """Return, for each kind of day that may be, its weight and what may sell on it."""
    days = zip(_weights(state), state.outlooks, strict=True)
    return tuple((weight, tuple(_for_sale(state, outlook))) for weight, outlook in days if weight)


def _for_sale(state: SaleState, outlook: Outlook) -> Iterator[_Pieces]:
    """Yield what may sell on one kind of day: what is left on the table, and what comes from the studio."""
    for good in state.goods:
        then = share_on(good.share_then, outlook.factor)
        chance = chance_in_the_rest(
            share=share_on(good.share, outlook.factor), share_then=then, over=state.over
        )
        yield _Pieces(brings=good.brings_then, count=good.left, chance=chance)
        promised = good.promised_on_the_way
        for count, comes in good.on_the_way:
            yield _Pieces(brings=good.brings_then, count=min(promised, count), chance=comes)
            free = max(0, count - promised)
            yield _Pieces(brings=good.brings_then, count=free, chance=comes * then * (1 - state.over))
            promised = max(0, promised - count)
