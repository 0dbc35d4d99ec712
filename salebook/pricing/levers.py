"""What would help: a few changes that a maker can make, each reckoned through."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any, Literal

from salebook.base.words import _
from salebook.making.studio import Studio, plan_studio
from salebook.plan.model import Plan, Stage, Ware
from salebook.plan.money import format_money, rounded
from salebook.pricing.costing import Costs, cost_lines
from salebook.pricing.good import Good, Prices, goods_of
from salebook.pricing.number_wanted import MOST_PIECES
from salebook.pricing.outcome import Outcome, outcome_of

Kind = Literal["more pieces", "lower target", "price step", "fewer loads", "no fees", "sponsor"]

MORE_PIECES = 10
LOWER_TARGET = Decimal("0.9")


@dataclass(frozen=True, kw_only=True)
class Lever:
    """One change: what it is, what the sale would then bring, and the difference to the plan as it stands.

    Nets are money, unrounded; chances are from 0 to 1.
    """

    kind: Kind
    what: str
    expected_net: Decimal
    chance: float
    more_net: Decimal
    more_chance: float


def levers_of(plan: Plan, studio: Studio, costs: Costs) -> tuple[Lever, ...]:
    """Return the changes that would change the expected net or the chance of the target.

    More pieces and a lower target come first; the others follow, the one that adds most to the net first.
    A change that does nothing to either is left out.
    """
    now = outcome_of(goods_of(plan, studio.runs, costs), plan, costs)
    first = [*_more_pieces(plan, studio, now), *_lower_target(plan, studio, costs, now)]
    others = [
        *_price_step(plan, studio, costs, now),
        *_fewer_loads(plan, studio, now),
        *_no_fees(plan, studio, costs, now),
        *_sponsor(plan, studio, costs, now),
    ]
    others.sort(key=lambda lever: (-lever.more_net, -lever.more_chance))
    return tuple(lever for lever in [*first, *others] if lever.more_net or lever.more_chance)


def _lever(kind: Kind, what: str, then: Outcome, now: Outcome) -> Lever:
    return Lever(
        kind=kind,
        what=what,
        expected_net=then.expected_net,
        chance=then.chance,
        more_net=then.expected_net - now.expected_net,
        more_chance=then.chance - now.chance,
    )


def _more_pieces(plan: Plan, studio: Studio, now: Outcome) -> Iterator[Lever]:
    best = _ware_that_brings_most(plan, studio)
    if best is None or best.wanted + MORE_PIECES > MOST_PIECES:
        return
    more = best.model_copy(update={"wanted": best.wanted + MORE_PIECES})
    wares = tuple(more if ware.code == best.code else ware for ware in plan.wares)
    then = _made_again(_changed(plan, wares=wares), _overruled(studio))
    what = _("{count} more of {ware}, if as large a share of them sells")
    yield _lever("more pieces", what.format(count=MORE_PIECES, ware=best.name), then, now)


def _lower_target(plan: Plan, studio: Studio, costs: Costs, now: Outcome) -> Iterator[Lever]:
    target = rounded(plan.sale.target * LOWER_TARGET, 0)
    lower = _changed(plan, sale=plan.sale.model_copy(update={"target": target}))
    then = outcome_of(goods_of(lower, studio.runs, costs), lower, costs)
    what = _("a target of {target}").format(target=_money(target, plan))
    yield _lever("lower target", what, then, now)


def _price_step(plan: Plan, studio: Studio, costs: Costs, now: Outcome) -> Iterator[Lever]:
    step = plan.sale.price_step
    prices = Prices(
        firsts={ware.code: ware.price + step for ware in plan.wares},
        seconds={
            ware.code: ware.seconds_price + step for ware in plan.wares if ware.seconds_price is not None
        },
    )
    then = outcome_of(goods_of(plan, studio.runs, costs, prices), plan, costs)
    what = _("each of your own prices {step} higher").format(step=_money(step, plan))
    yield _lever("price step", what, then, now)


def _fewer_loads(plan: Plan, studio: Studio, now: Outcome) -> Iterator[Lever]:
    for loading in studio.loadings:
        if loading.to_fire > 1:
            loads = {**_overruled(studio), loading.stage: loading.to_fire - 1}
            what = _("one kiln load fewer in the {stage} firing, if all fits").format(stage=loading.stage)
            yield _lever("fewer loads", what, _made_again(plan, loads), now)


def _no_fees(plan: Plan, studio: Studio, costs: Costs, now: Outcome) -> Iterator[Lever]:
    free = {"percent": Decimal(0), "fixed": Decimal(0)}
    without = _changed(plan, payments_given=tuple(way.model_copy(update=free) for way in plan.payments))
    then = outcome_of(goods_of(without, studio.runs, costs), without, costs)
    yield _lever("no fees", _("no fees for paying"), then, now)


def _sponsor(plan: Plan, studio: Studio, costs: Costs, now: Outcome) -> Iterator[Lever]:
    met = [line for line in costs.lines if line.met_by == "sale"]
    if not met:
        return
    largest = max(met, key=lambda line: line.total)
    lines = tuple(replace(line, met_by="sponsor") if line is largest else line for line in costs.lines)
    then_costs = replace(costs, lines=lines)
    then = outcome_of(goods_of(plan, studio.runs, then_costs), plan, then_costs)
    yield _lever("sponsor", _("a sponsor for {cost}").format(cost=largest.name), then, now)


def _ware_that_brings_most(plan: Plan, studio: Studio) -> Ware | None:
    """Return the ware of which one more piece offered brings most, on average over the kinds of day."""
    goods = goods_of(plan, studio.runs, cost_lines(plan, studio))
    firsts = [good for good in goods if good.grade == "first"]
    if not firsts:
        return None
    best = max(firsts, key=_brought_by_one_more)
    return next(ware for ware in plan.wares if ware.code == best.code)


def _brought_by_one_more(good: Good) -> Decimal:
    free = good.count - good.sure
    share = (good.expected_sold - good.sure) / free if free else Decimal(1)
    return share * good.contribution


def _made_again(plan: Plan, loads: dict[Stage, int]) -> Outcome:
    studio = plan_studio(plan, loads=loads)
    costs = cost_lines(plan, studio)
    return outcome_of(goods_of(plan, studio.runs, costs), plan, costs)


def _overruled(studio: Studio) -> dict[Stage, int]:
    """Return the loads that a person put in the place of those worked out."""
    told = (loading for loading in studio.loadings if loading.to_fire != len(loading.loads))
    return {loading.stage: loading.to_fire for loading in told}


def _changed(plan: Plan, **tables: Any) -> Plan:
    """Return a plan with some tables changed, made anew so that nothing derived from the old ones stays."""
    kept = {name: getattr(plan, name) for name in Plan.model_fields}
    return Plan.model_construct(**(kept | tables))


def _money(amount: Decimal, plan: Plan) -> str:
    return format_money(amount, plan.sale.currency, plan.sale.locale)
