"""The whole reckoning of a plan: making, costs and price advice in one value for the writers."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from salebook.making.days import Days, days_for
from salebook.making.losses import Offer
from salebook.making.studio import Studio, plan_studio
from salebook.plan.model import Plan, Stage
from salebook.pricing.advice import Advice, advise
from salebook.pricing.costing import Costs, cost_lines
from salebook.pricing.good import goods_of
from salebook.pricing.number_wanted import with_number_wanted
from salebook.pricing.sums_held import refuse_sums_too_large


@dataclass(frozen=True, kw_only=True)
class Reckoning:
    """A plan with everything that follows from it before the sale."""

    plan: Plan
    studio: Studio
    costs: Costs
    advice: Advice
    days: Days


def reckon(plan: Plan, *, loads: Mapping[Stage, int] | None = None, today: date | None = None) -> Reckoning:
    """Work out a plan; `loads` overrules the number of kiln loads of a stage, `today` asks if there is time.

    The plan in the answer says how many of each ware are wanted, also where the plan given leaves it to the
    target. Raises FaultyPlanError as `made_and_costed` does.
    """
    plan, studio, costs = made_and_costed(plan, loads=loads)
    return Reckoning(
        plan=plan,
        studio=studio,
        costs=costs,
        advice=advise(plan, studio, costs),
        days=days_for(plan, studio, today),
    )


def made_and_costed(plan: Plan, *, loads: Mapping[Stage, int] | None = None) -> tuple[Plan, Studio, Costs]:
    """Work out what is made and what it costs, which is enough to know that a plan has no faults.

    Raises FaultyPlanError where a piece fits no empty kiln, no number of pieces makes the target, or a sum
    has more digits than a spreadsheet keeps.
    """
    plan = with_number_wanted(plan, loads=loads)
    studio = plan_studio(plan, loads=loads)
    costs = cost_lines(plan, studio)
    refuse_sums_too_large(plan, goods_of(plan, studio.runs, costs), costs)
    return plan, studio, costs


def with_counts(reckoning: Reckoning, counted: Mapping[str, Offer]) -> Reckoning:
    """Return a reckoning whose price advice goes by pieces counted, by ware code; costs stay as planned."""
    runs = tuple(
        run
        if counted.get(run.ware.code, run.offer) == run.offer
        else replace(run, counted=counted[run.ware.code])
        for run in reckoning.studio.runs
    )
    if runs == reckoning.studio.runs:
        return reckoning
    studio = replace(reckoning.studio, runs=runs)
    return replace(reckoning, studio=studio, advice=advise(reckoning.plan, studio, reckoning.costs))
