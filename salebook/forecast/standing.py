"""Where a sale stands: what there is of each good, what has come in, how much of the time is past."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from salebook.forecast.state import Offered, SaleState
from salebook.plan.model import Plan
from salebook.plan.money import ZERO
from salebook.pricing import demand
from salebook.pricing.costing import Costs
from salebook.pricing.good import AS_PLANNED, Good, Grade, Prices, goods_of, second_of
from salebook.pricing.outcome import other_income
from salebook.reckoning import Reckoning

GoodKey = tuple[str, Grade]
"""What tells a good from others: its code and its grade."""


@dataclass(frozen=True, kw_only=True)
class GoodCount:
    """What there is of one good, and what became of it; see `Offered`."""

    offered: int
    gone: int = 0
    sold: int = 0
    held: int = 0
    on_the_way: tuple[tuple[int, Decimal], ...] = ()


@dataclass(frozen=True, kw_only=True)
class Standing:
    """A sale at one moment, before any price for the rest is chosen; money unrounded."""

    reckoning: Reckoning
    costs: Costs
    """Costs that each piece sold from now on still has to meet."""
    counts: Mapping[GoodKey, GoodCount]
    reached: Decimal
    over: Decimal = ZERO
    held_brings: Decimal = ZERO

    @property
    def plan(self) -> Plan:
        """The plan of the sale."""
        return self.reckoning.plan


def planned_standing(reckoning: Reckoning) -> Standing:
    """Return where a sale stands before anything has happened: all that is wanted will be there."""
    return Standing(
        reckoning=reckoning,
        costs=reckoning.costs,
        counts={(good.code, good.grade): GoodCount(offered=good.count) for good in reckoning.advice.goods},
        reached=-reckoning.costs.fixed("sale"),
    )


def state_at(standing: Standing, prices: Prices = AS_PLANNED) -> SaleState:
    """Return the state of a sale with other prices asked for what is left; the plan's without them."""
    plan = standing.plan
    now = goods_by_key(standing)
    return SaleState(
        over=standing.over,
        target=plan.sale.target,
        reached=standing.reached,
        other_left=other_income(plan) * (1 - standing.over),
        held_brings=standing.held_brings,
        outlooks=plan.outlooks,
        goods=tuple(
            _offered(standing.counts[key], now[key], then)
            for key, then in goods_by_key(standing, prices).items()
            if key in standing.counts
        ),
    )


def codes_left(standing: Standing) -> frozenset[str]:
    """Return the codes of which something is left to sell, or may still come from the studio."""
    goods = state_at(standing).goods
    return frozenset(good.code for good in goods if good.left or good.promised or good.on_the_way)


def is_guessed(standing: Standing, prices: Prices) -> bool:
    """Whether the plan does not say how many of what is left would sell at such prices."""
    left = codes_left(standing)
    return demand.is_guessed((ware for ware in standing.plan.wares if ware.code in left), prices.firsts)


def _offered(count: GoodCount, now: Good, then: Good) -> Offered:
    spoken_for = 0 if now.grade == "second" else now.source.spoken_for
    return Offered(
        code=now.code,
        grade=now.grade,
        offered=count.offered,
        gone=count.gone,
        spoken_for=min(spoken_for, count.offered + sum(pieces for pieces, _comes in count.on_the_way)),
        sold=count.sold,
        held=count.held,
        share=now.share,
        price_then=then.price,
        share_then=then.share,
        brings_then=then.contribution,
        on_the_way=count.on_the_way,
    )


def goods_by_key(standing: Standing, prices: Prices = AS_PLANNED) -> dict[GoodKey, Good]:
    """Return each good by its key, in plan order; seconds of every ware, whether any are planned or not."""
    runs = standing.reckoning.studio.runs
    goods = {(good.code, good.grade): good for good in goods_of(standing.plan, runs, standing.costs, prices)}
    return dict(_with_seconds(standing, goods, prices))


def _with_seconds(
    standing: Standing, goods: Mapping[GoodKey, Good], prices: Prices
) -> Iterator[tuple[GoodKey, Good]]:
    runs = {run.ware.code: run for run in standing.reckoning.studio.runs}
    for key, good in goods.items():
        yield key, good
        second: GoodKey = (good.code, "second")
        if good.grade == "first" and second in standing.counts and second not in goods:
            run = runs[good.code]
            # A second without a price of its own costs as much as a first.
            own = good.price if run.ware.seconds_price is None else run.ware.seconds_price
            asked = Prices(firsts=prices.firsts, seconds={good.code: own, **prices.seconds})
            yield second, second_of(standing.plan, run, standing.costs, asked)
