"""What was there to buy in a sale that is over, and what of it found a buyer, at which prices."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from salebook.forecast.forecast import Forecast
from salebook.forecast.learned.demand import DIGITS, Asked, demand_after, share_after, shares_after
from salebook.forecast.learned.outlooks import days_seen, factor_of
from salebook.forecast.state import Offered, SaleState
from salebook.plan.model import Carried, Demand, Donated, Plan, Ware
from salebook.pricing.demand import share_at

FEWEST: Final = 5
"""Pieces that went at a price, before it says something beside the list price (judgement)."""


@dataclass(frozen=True, kw_only=True)
class DemandSeen:
    """What one sale said of how many buy one good, at each price that was asked, the lowest first."""

    good: Ware | Donated
    asked: tuple[Asked, ...]
    before: tuple[Decimal, ...]
    after: tuple[Decimal, ...]
    demand: Demand
    """The points of demand from now on; none where the plan has none."""
    cheaper: int
    """How many went for less than the list price."""

    @property
    def sells(self) -> Decimal:
        """The share that sells from now on, where the plan has no points of demand."""
        return self.after[-1]


def state_at_the_end(forecast: Forecast) -> SaleState:
    """Return a sale as it was in its last minute: what is marked as left over stood there to the last."""
    state, left = forecast.as_it_is.state, Counter(_left_over(forecast))
    goods = tuple(replace(good, gone=good.gone - left[good.code, good.grade]) for good in state.goods)
    return replace(state, goods=goods)


def demand_seen(forecast: Forecast) -> tuple[DemandSeen, ...]:
    """Return what a sale said of each good that was there, in plan order; seconds say nothing of firsts.

    Pieces left from an earlier sale say the same as new ones, where they have the same price. What the kind
    of day explains is no news of demand: pieces count as many as they were worth on such a day.
    """
    state, plan = state_at_the_end(forecast), forecast.plan
    offered = {good.code: good for good in state.goods if good.grade != "second"}
    factor = factor_of(days_seen(state))
    seen = ((good, _codes_of(good, plan) & offered.keys()) for good in wares_and_donated(plan))
    return tuple(
        _seen(good, [offered[code] for code in sorted(codes)], forecast, factor)
        for good, codes in seen
        if any(offered[code].free > 0 for code in codes)
    )


def _codes_of(good: Ware | Donated, plan: Plan) -> Set[str]:
    again = (left for left in plan.carried if left.stem == good.code and left.price == good.price)
    return {good.code, *(left.code for left in again if not left.second)}


def wares_and_donated(plan: Plan) -> tuple[Ware | Donated, ...]:
    """Return the kinds of piece of which the next sale may have some again, in plan order."""
    return (*plan.wares, *plan.donated)


def _left_over(forecast: Forecast) -> Iterator[tuple[str, str]]:
    for piece in forecast.event.state.pieces:
        if piece.status == "left over":
            kinds = {Donated: "donated", Carried: "carried"}
            yield piece.piece.code, kinds.get(type(piece.piece.source), piece.grade)


def _seen(
    good: Ware | Donated, offered: Sequence[Offered], forecast: Forecast, factor: Decimal
) -> DemandSeen:
    paid = Counter(_paid(forecast, {each.code for each in offered}))
    asked = tuple(_asked(good, offered, paid, factor))
    cheaper = sum(count for price, count in paid.items() if price < good.price)
    points = good.demand if isinstance(good, Ware) else ()
    if not points:
        listed = next(each for each in asked if each.price == good.price)
        after = round(share_after(good.sells, listed), DIGITS)
        return DemandSeen(
            good=good, asked=(listed,), before=(good.sells,), after=(after,), demand=(), cheaper=cheaper
        )
    return DemandSeen(
        good=good,
        asked=asked,
        before=tuple(share_at(each.price, points) for each in asked),
        after=shares_after(points, asked),
        demand=demand_after(points, asked),
        cheaper=cheaper,
    )


def _asked(
    good: Ware | Donated, offered: Sequence[Offered], paid: Mapping[Decimal, int], factor: Decimal
) -> Iterator[Asked]:
    """Yield the prices asked, the lowest first; a piece that went for more had a buyer at a lower one too.

    Those are the list price, and others at which some went. Pieces spoken for say nothing: they were sure.
    """
    taken, free = sum(each.taken for each in offered), sum(each.free for each in offered)
    others = {price for price, count in paid.items() if count >= FEWEST}
    for price in sorted(others | {good.price}):
        below = sum(count for other, count in paid.items() if other < price)
        sold = max(0, taken - below)
        yield Asked(price=price, sold=sold, offered=free, counts_as=max(Decimal(sold), free * factor))


def _paid(forecast: Forecast, codes: Set[str]) -> Iterator[Decimal]:
    """Yield what was paid, or is to be paid, for each numbered piece of these that somebody took."""
    for piece in forecast.event.state.pieces:
        is_first = piece.grade == "first" or not isinstance(piece.piece.source, Ware)
        if piece.piece.code in codes and piece.piece.index and is_first:
            if piece.status == "sold" and not piece.is_spoken_for:
                yield piece.paid
            elif piece.status in {"sold", "reserved", "deposit"}:
                yield piece.price
