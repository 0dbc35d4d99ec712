"""The whole sale at other prices: the maker's own, changed rung by rung."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.making.losses import Run
from salebook.plan.model import Plan
from salebook.plan.money import rounded_up_to_step
from salebook.pricing.costing import Costs
from salebook.pricing.good import Prices, changed_prices
from salebook.pricing.outcome import Outcome, enough_for, outcome_at, reaches

CHANGES = tuple(range(-30, 61, 5))
"""Per cent by which the maker's own prices are changed, lowest first."""


@dataclass(frozen=True, kw_only=True)
class Rung(Outcome):
    """The whole sale with the maker's own prices changed by `change` per cent."""

    change: int
    prices: dict[str, Decimal]
    seconds_prices: dict[str, Decimal]


def price_changed(price: Decimal, change: int | Decimal, step: Decimal) -> Decimal:
    """Return a price changed by so many per cent, rounded up to a whole number of steps."""
    return rounded_up_to_step(price * (100 + change) / 100, step)


def prices_at(plan: Plan, change: int | Decimal) -> Prices:
    """Return the maker's own prices on one rung, seconds too; other prices stand."""
    # Prices in the plan stand as written, proposed ones are rounded up: the rung at 0 % may differ a little.
    return changed_prices(plan, lambda price: price_changed(price, change, plan.sale.price_step))


def ladder_of(plan: Plan, runs: Sequence[Run], costs: Costs) -> Iterator[Rung]:
    """Yield every rung, lowest prices first."""
    for change in CHANGES:
        prices = prices_at(plan, change)
        yield Rung(
            **vars(outcome_at(plan, runs, costs, prices)),
            change=change,
            prices=dict(prices.firsts),
            seconds_prices=dict(prices.seconds),
        )


def lowest_change(ladder: Sequence[Rung], target: Decimal) -> int | None:
    """Return the lowest change whose expected net reaches the target; None where none does."""
    return next((rung.change for rung in ladder if reaches(rung.expected_net, target)), None)


def sure_change(ladder: Sequence[Rung], confidence: Decimal) -> int | None:
    """Return the lowest change whose chance of the target reaches a confidence; None where none does."""
    return next((rung.change for rung in ladder if rung.chance >= enough_for(confidence)), None)


def best_change(ladder: Sequence[Rung], plan: Plan) -> int | None:
    """Return the change with the highest expected net, the lower of two that are equal.

    None where the maker has no wares or one has no demand points: it would sell as well at any price.
    """
    if not plan.wares or not all(ware.demand for ware in plan.wares):
        return None
    return _best(ladder).change


def as_good_as_best(ladder: Sequence[Rung], within: Decimal = Decimal("0.01")) -> tuple[Rung, ...]:
    """Return the neighbouring rungs round the best whose expected net is within a share of the best net."""
    best = _best(ladder)
    least = best.expected_net - abs(best.expected_net) * within
    first = last = ladder.index(best)
    while first > 0 and ladder[first - 1].expected_net >= least:
        first -= 1
    while last < len(ladder) - 1 and ladder[last + 1].expected_net >= least:
        last += 1
    return tuple(ladder[first : last + 1])


def _best(ladder: Sequence[Rung]) -> Rung:
    """Return the rung with the highest net, the lower of two equal; what a division left over is forgiven."""
    return max(ladder, key=lambda rung: (round(rung.expected_net, 9), -rung.change))
