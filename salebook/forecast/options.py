"""What can still be done: each option beside the others, and two together where one alone does not do."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from itertools import combinations
from typing import Any, Final

from salebook.forecast.figures import chance_of_target, figures_of
from salebook.forecast.rungs import RungLeft
from salebook.forecast.standing import GoodKey, Standing, state_at
from salebook.forecast.state import SaleState
from salebook.forecast.studio_ahead import StudioAhead, throw_by
from salebook.making.studio import plan_studio
from salebook.plan.model import Ware
from salebook.plan.money import ZERO, rounded
from salebook.pricing.costing import cost_lines
from salebook.pricing.good import AS_PLANNED
from salebook.pricing.levers import LOWER_TARGET
from salebook.pricing.number_wanted import with_wanted
from salebook.pricing.outcome import enough_for

BETTER: Final = 0.005
"""A chance that rises by less than this is no better."""

TRIED: Final = (5, 10, 20, 40)
"""How many more pieces are thought of."""


@dataclass(frozen=True, kw_only=True)
class MorePieces:
    """More pieces of one ware, thrown in time, and what they add to the costs that the sale meets."""

    ware: Ware
    count: int
    comes: Decimal
    """The chance that each of them comes through."""
    by: date
    """The last day on which throwing can begin."""
    cost: Decimal


@dataclass(frozen=True, kw_only=True)
class Option:
    """One thing that can be done, or two together, with what can be expected then (net unrounded)."""

    rung: RungLeft | None = None
    """Other prices for what is left."""
    more: MorePieces | None = None
    target: Decimal | None = None
    """A lower target."""
    expected_net: Decimal
    chance: float


def options_of(
    standing: Standing, ladder: Sequence[RungLeft], ahead: StudioAhead, today: date
) -> tuple[Option, ...]:
    """Return what can still be done; nothing where the sale is over, or would go no better for it.

    Other prices, more thrown in time, a lower target; two of them together where none alone makes the target
    as sure as the plan asks; and in the end the target that is as sure as that.
    """
    if standing.over >= 1:
        return ()
    enough = enough_for(standing.plan.sale.confidence)
    now = state_at(standing)
    chance = chance_of_target(now)
    if chance >= enough:
        return ()
    changes: dict[str, Any] = {
        "rung": _best_rung(ladder, chance, enough),
        "more": _more_pieces(standing, ahead, today, enough),
        "target": rounded(standing.plan.sale.target * LOWER_TARGET, 0),
    }
    possible = [(name, change) for name, change in changes.items() if change is not None]
    single = [_option(standing, **dict(one)) for one in combinations(possible, 1)]
    pairs = [] if any(option.chance >= enough for option in single) else combinations(possible, 2)
    together = [_option(standing, **dict(pair)) for pair in pairs]
    better = [option for option in (*single, *together) if option.chance > chance + BETTER]
    return (*better, *_sure_target(standing, now, enough))


def _option(
    standing: Standing,
    *,
    rung: RungLeft | None = None,
    more: MorePieces | None = None,
    target: Decimal | None = None,
) -> Option:
    changed = standing if more is None else _with_more(standing, more)
    state = state_at(changed, AS_PLANNED if rung is None else rung.prices)
    figures = figures_of(state if target is None else replace(state, target=target))
    return Option(
        rung=rung, more=more, target=target, expected_net=figures.expected_net, chance=figures.chance
    )


def _best_rung(ladder: Sequence[RungLeft], chance: float, enough: float) -> RungLeft | None:
    """Return the lowest prices that are sure enough, else those with the best chance.

    Prices of which the plan does not say how many would sell come in only where no others help.
    """
    for guessed in (False, True):
        rungs = [rung for rung in ladder if rung.is_guessed == guessed]
        better = [rung for rung in rungs if rung.figures.chance > chance + BETTER]
        if better:
            sure = (rung for rung in better if rung.figures.chance >= enough)
            return next(sure, max(better, key=lambda rung: round(rung.figures.chance, 9)))
    return None


def _more_pieces(standing: Standing, ahead: StudioAhead, today: date, enough: float) -> MorePieces | None:
    """Return as many more as make the target sure, or as many as there is time for, of what brings most."""
    goods = [good for good in state_at(standing).goods if good.grade == "first" and good.brings_then > 0]
    if not ahead.is_working or not goods:
        return None
    best = max(goods, key=lambda good: good.share * good.brings_then)
    found = None
    for count in TRIED:
        more = _thrown_in_time(standing, ahead, today, best.code, count)
        if more is None:
            break
        found = more
        if chance_of_target(state_at(_with_more(standing, more)), within=BETTER) >= enough:
            break
    return found


def _thrown_in_time(
    standing: Standing, ahead: StudioAhead, today: date, code: str, count: int
) -> MorePieces | None:
    to_throw = ahead.all_to_throw
    all_ = {**to_throw, code: to_throw.get(code, 0) + count}
    by = throw_by(standing.reckoning, ahead.tallied, all_)
    if by is None or by < today:
        return None
    run = next(run for run in standing.reckoning.studio.runs if run.ware.code == code)
    comes = ahead.good_share(run)
    return MorePieces(
        ware=run.ware,
        count=count,
        comes=comes,
        by=by,
        cost=_cost_of_more(standing, run.ware, round(count * comes)),
    )


def _cost_of_more(standing: Standing, ware: Ware, count: int) -> Decimal:
    """Return what the costs that the sale meets grow by with so many more good pieces wanted."""
    larger = with_wanted(standing.plan, ware, ware.wanted + count)
    return cost_lines(larger, plan_studio(larger)).fixed("sale") - standing.reckoning.costs.fixed("sale")


def _with_more(standing: Standing, more: MorePieces) -> Standing:
    key: GoodKey = (more.ware.code, "first")
    count = standing.counts[key]
    coming = replace(count, on_the_way=(*count.on_the_way, (more.count, more.comes)))
    return replace(standing, counts={**standing.counts, key: coming}, reached=standing.reached - more.cost)


def _sure_target(standing: Standing, state: SaleState, enough: float) -> Iterator[Option]:
    """Yield the highest round target, lower than the plan's, that is as sure as the plan asks."""
    step = _round_step(state.target)
    fewest = int(max(ZERO, state.sure) // step)
    missed = bisect_left(
        range(fewest, int(state.target // step) + 1),
        True,
        key=lambda steps: chance_of_target(replace(state, target=steps * step)) < enough,
    )
    target = (fewest + missed - 1) * step
    if missed and 0 < target < state.target:
        yield _option(standing, target=target)


def _round_step(target: Decimal) -> Decimal:
    """Return half a tenth of a target's size: 50 for 4000, 5 for 240."""
    return max(Decimal(1), Decimal(5).scaleb(target.adjusted() - 2))
