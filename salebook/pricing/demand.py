"""How large a share of the pieces would sell at a price, and on what kind of day."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from itertools import pairwise

from salebook.plan.model import USUAL_SELLS, Carried, DemandPoint, Outlook, Plan, Ware


def share_at(price: Decimal, points: Sequence[DemandPoint]) -> Decimal:
    """Return the share that sells at a price: straight lines between the points, flat outside.

    Raises ValueError where there is no point.
    """
    if not points:
        raise ValueError("there are no demand points")
    in_order = sorted(points, key=lambda point: point.price)
    first, last = in_order[0], in_order[-1]
    if price <= first.price:
        return first.share
    for low, high in pairwise(in_order):
        if price <= high.price:
            along = (price - low.price) / (high.price - low.price)
            return low.share + (high.share - low.share) * along
    return last.share


def share_of_ware(ware: Ware, price: Decimal) -> Decimal:
    """Return the share of a ware's pieces that sells at a price: by its demand points, else as it `sells`."""
    return share_at(price, ware.demand) if ware.demand else ware.sells


def share_of_carried(carried: Carried, plan: Plan) -> Decimal:
    """Return the share of pieces left from an earlier sale that sells: as said, else as their ware's do."""
    if carried.sells_given is not None:
        return carried.sells_given
    ware = plan.ware_called(carried.stem)
    if ware is None:
        return USUAL_SELLS
    return share_of_ware(ware, ware.price if carried.second else carried.price)


def highest_known(ware: Ware) -> Decimal:
    """Return the highest price at which the plan says how many would sell."""
    return max((point.price for point in ware.demand), default=ware.price)


def is_guessed(wares: Iterable[Ware], prices: Mapping[str, Decimal]) -> bool:
    """Whether the plan does not say how many would sell at prices by code; its own where none is named."""
    return any(prices.get(ware.code, ware.price) > highest_known(ware) for ware in wares)


def share_on(share: Decimal, factor: Decimal) -> Decimal:
    """Return the share that sells on a kind of day, kept within 0 and 1."""
    return min(Decimal(1), max(Decimal(0), share * factor))


def expected_sold(*, count: int, sure: int, share: Decimal, outlooks: Sequence[Outlook]) -> Decimal:
    """Return the weighted mean of what sells over the kinds of day; never above `count`."""
    weights = sum((outlook.weight for outlook in outlooks), Decimal(0))
    shares = sum((outlook.weight * share_on(share, outlook.factor) for outlook in outlooks), Decimal(0))
    return sure + (count - sure) * shares / weights
