"""What would help: a few changes that a maker can make, each reckoned through."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Literal

from salebook.base.words import _
from salebook.making.studio import Studio, plan_studio
from salebook.plan.model import Plan, Stage, Ware
from salebook.plan.money import rounded
from salebook.pricing.costing import Costs, cost_lines
from salebook.pricing.good import Good, changed_prices, goods_of
from salebook.pricing.number_wanted import MOST_PIECES, remade, with_wanted
from salebook.pricing.outcome import Outcome, outcome_at

Kind = Literal["more pieces", "lower target", "price step", "fewer loads", "no fees", "sponsor"]

MORE_PIECES = 10
LOWER_TARGET = Decimal("0.9")


@dataclass(frozen=True, kw_only=True)
class Lever(Outcome):
    """One change: what it is, what the sale would then bring, and the difference to the plan as it stands.

    Nets are money, unrounded; chances are from 0 to 1.
    """

    kind: Kind
    what: str
    more_net: Decimal
    more_chance: float


Change = tuple[Kind, str, Outcome]
"""A change, what to say of it, and what the sale would then bring."""


def levers_of(plan: Plan, studio: Studio, costs: Costs) -> tuple[Lever, ...]:
    """Return the changes that would change the expected net or the chance of the target.

    More pieces and a lower target come first; the others follow, the one that adds most to the net first.
    A change that does nothing to either is left out.
    """
    now = outcome_at(plan, studio.runs, costs)
    first = [*_more_pieces(plan, studio), _lower_target(plan, studio, costs)]
    others = [
        _price_step(plan, studio, costs),
        *_fewer_loads(plan, studio),
        _no_fees(plan, studio, costs),
        *_sponsor(plan, studio, costs),
    ]
    levers = [_lever(*change, now) for change in first]
    more = [_lever(*change, now) for change in others]
    levers += sorted(more, key=lambda lever: (-lever.more_net, -lever.more_chance))
    return tuple(lever for lever in levers if lever.more_net or lever.more_chance)


def _lever(kind: Kind, what: str, then: Outcome, now: Outcome) -> Lever:
    more_net, more_chance = then.expected_net - now.expected_net, then.chance - now.chance
    return Lever(**vars(then), kind=kind, what=what, more_net=more_net, more_chance=more_chance)


def _more_pieces(plan: Plan, studio: Studio) -> Iterator[Change]:
    best = _ware_that_brings_most(plan, studio)
    if best is None or best.wanted + MORE_PIECES > MOST_PIECES:
        return
    what = _("{count} more of {ware}, if as large a share of them sells")
    then = _made_again(with_wanted(plan, best, best.wanted + MORE_PIECES), _overruled(studio))
    yield "more pieces", what.format(count=MORE_PIECES, ware=best.name), then


def _lower_target(plan: Plan, studio: Studio, costs: Costs) -> Change:
    target = rounded(plan.sale.target * LOWER_TARGET, 0)
    lower = remade(plan, sale=plan.sale.model_copy(update={"target": target}))
    what = _("a target of {target}").format(target=plan.sale.format_money(target))
    return "lower target", what, outcome_at(lower, studio.runs, costs)


def _price_step(plan: Plan, studio: Studio, costs: Costs) -> Change:
    step = plan.sale.price_step
    what = _("each of your own prices {step} higher").format(step=plan.sale.format_money(step))
    prices = changed_prices(plan, lambda price: price + step)
    return "price step", what, outcome_at(plan, studio.runs, costs, prices)


def _fewer_loads(plan: Plan, studio: Studio) -> Iterator[Change]:
    for loading in studio.loadings:
        if loading.to_fire > 1:
            loads = {**_overruled(studio), loading.stage: loading.to_fire - 1}
            what = _("one kiln load fewer in the {stage} firing, if all fits").format(stage=loading.stage)
            yield "fewer loads", what, _made_again(plan, loads)


def _no_fees(plan: Plan, studio: Studio, costs: Costs) -> Change:
    free = {"percent": Decimal(0), "fixed": Decimal(0)}
    without = remade(plan, payments_given=tuple(way.model_copy(update=free) for way in plan.payments))
    return "no fees", _("no fees for paying"), outcome_at(without, studio.runs, costs)


def _sponsor(plan: Plan, studio: Studio, costs: Costs) -> Iterator[Change]:
    met = [line for line in costs.lines if line.met_by == "sale"]
    if not met:
        return
    largest = max(met, key=lambda line: line.total)
    lines = tuple(replace(line, met_by="sponsor") if line is largest else line for line in costs.lines)
    then = outcome_at(plan, studio.runs, replace(costs, lines=lines))
    yield "sponsor", _("a sponsor for {cost}").format(cost=largest.name), then


def _ware_that_brings_most(plan: Plan, studio: Studio) -> Ware | None:
    """Return the ware of which one more piece offered brings most, on average over the kinds of day."""
    goods = goods_of(plan, studio.runs, cost_lines(plan, studio))
    firsts = [good for good in goods if good.grade == "first"]
    if not firsts:
        return None

    def brought_by_one_more(good: Good) -> Decimal:
        free = good.count - good.sure
        return ((good.expected_sold - good.sure) / free if free else 1) * good.contribution

    best = max(firsts, key=brought_by_one_more)
    return next(ware for ware in plan.wares if ware.code == best.code)


def _made_again(plan: Plan, loads: dict[Stage, int]) -> Outcome:
    studio = plan_studio(plan, loads=loads)
    return outcome_at(plan, studio.runs, cost_lines(plan, studio))


def _overruled(studio: Studio) -> dict[Stage, int]:
    """Return the loads that a person put in the place of those worked out."""
    told = (loading for loading in studio.loadings if loading.to_fire != len(loading.loads))
    return {loading.stage: loading.to_fire for loading in told}
