"""The whole reckoning of a plan: making, costs and price advice in one value for the writers."""

from collections.abc import Mapping
from dataclasses import dataclass

from salebook.costing import Costs, cost_lines
from salebook.making.studio import Studio, plan_studio
from salebook.plan.model import Plan, Stage
from salebook.pricing.advice import Advice, advise


@dataclass(frozen=True, kw_only=True)
class Reckoning:
    """A plan with everything that follows from it before the sale."""

    plan: Plan
    studio: Studio
    costs: Costs
    advice: Advice


def reckon(plan: Plan, *, loads: Mapping[Stage, int] | None = None) -> Reckoning:
    """Work out a plan; `loads` overrules the number of kiln loads of a stage.

    Raises FaultyPlan where a piece fits no empty kiln.
    """
    studio = plan_studio(plan, loads=loads)
    costs = cost_lines(plan, studio)
    return Reckoning(plan=plan, studio=studio, costs=costs, advice=advise(plan, studio, costs))
