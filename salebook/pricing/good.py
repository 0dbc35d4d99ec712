"""What is offered for sale: the kinds of piece that differ in price, chance to sell or what they bring."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal

from salebook.making.losses import Run
from salebook.plan.model import Donated, Plan, Source, Ware
from salebook.pricing.costing import Basis, Costs
from salebook.pricing.demand import expected_sold, share_of_carried, share_of_ware
from salebook.pricing.fees import expected_fee

Grade = Literal["first", "second", "donated", "carried"]


@dataclass(frozen=True, kw_only=True)
class Good:
    """Pieces alike in price and in what they bring; a ware's firsts, its seconds, or what is there."""

    code: str
    name: str
    grade: Grade
    source: Source
    count: int
    price: Decimal
    keeps: Decimal
    fee: Decimal
    """Fee expected on one sale at this price, unrounded."""
    contribution: Decimal
    """What one sold piece brings on the basis `sale`, unrounded."""
    share: Decimal
    """Share expected to sell at this price before the outlook, from 0 to 1."""
    sure: int
    """Pieces spoken for: these sell on every outlook."""
    expected_sold: Decimal
    """Weighted mean over the outlooks."""

    @property
    def is_made(self) -> bool:
        """Whether it is made for the sale, so that its price may be another; what is there has its label."""
        return isinstance(self.source, Ware)


@dataclass(frozen=True, kw_only=True)
class Prices:
    """Prices that stand in place of the plan's, by ware code; the plan's where a code is not named."""

    firsts: Mapping[str, Decimal] = field(default_factory=dict)
    seconds: Mapping[str, Decimal] = field(default_factory=dict)


AS_PLANNED = Prices()


def changed_prices(plan: Plan, change: Callable[[Decimal], Decimal]) -> Prices:
    """Return the maker's own prices, seconds too, each changed alike; other prices stand."""
    seconds = {ware.code: ware.seconds_price for ware in plan.wares if ware.seconds_price is not None}
    return Prices(
        firsts={ware.code: change(ware.price) for ware in plan.wares},
        seconds={code: change(price) for code, price in seconds.items()},
    )


def goods_of(plan: Plan, runs: Sequence[Run], costs: Costs, prices: Prices = AS_PLANNED) -> tuple[Good, ...]:
    """Return everything for sale in plan order: each ware's firsts, its seconds where sold, what is there.

    A ware's seconds sell like its firsts: the same share, at the price of a first.
    """
    return tuple(_goods(plan, runs, costs, prices))


def contribution_on(good: Good, costs: Costs, basis: Basis) -> Decimal:
    """Return what one sold piece brings on a basis, unrounded: its price less what it costs to sell it."""
    return good.price * (1 - good.keeps) - good.fee - costs.per_piece_sold(good.code, basis)


def _goods(plan: Plan, runs: Sequence[Run], costs: Costs, prices: Prices) -> Iterator[Good]:
    for run in runs:
        ware = run.ware
        price = prices.firsts.get(ware.code, ware.price)
        share = share_of_ware(ware, price)
        yield _good(plan, costs, ware, "first", count=run.offer.firsts, price=price, share=share)
        if run.offer.seconds:
            yield second_of(plan, run, costs, prices)
    for given in plan.donated:
        yield _good(plan, costs, given, "donated", count=given.count, price=given.price, share=given.sells)
    for left in plan.carried:
        share = share_of_carried(left, plan)
        yield _good(plan, costs, left, "carried", count=left.count, price=left.price, share=share)


def second_of(plan: Plan, run: Run, costs: Costs, prices: Prices = AS_PLANNED) -> Good:
    """Return a ware's seconds, which sell like its firsts; none, at no price, where the plan has no price."""
    ware = run.ware
    share = share_of_ware(ware, prices.firsts.get(ware.code, ware.price))
    price = prices.seconds.get(ware.code, ware.seconds_price or Decimal(0))
    return _good(plan, costs, ware, "second", count=run.offer.seconds, price=price, share=share)


def _good(
    plan: Plan,
    costs: Costs,
    source: Source,
    grade: Grade,
    *,
    count: int,
    price: Decimal,
    share: Decimal,
) -> Good:
    keeps = source.keeps if isinstance(source, Donated) else Decimal(0)
    fee = expected_fee(price, plan)
    sure = 0 if grade == "second" else min(source.spoken_for, count)
    return Good(
        code=source.code,
        name=source.name,
        grade=grade,
        source=source,
        count=count,
        price=price,
        keeps=keeps,
        fee=fee,
        contribution=price * (1 - keeps) - fee - costs.per_piece_sold(source.code, "sale"),
        share=share,
        sure=sure,
        expected_sold=expected_sold(count=count, sure=sure, share=share, outlooks=plan.outlooks),
    )
