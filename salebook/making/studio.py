"""The whole making of a plan, from bags of clay to fired loads."""

from collections.abc import Mapping
from dataclasses import dataclass

from salebook.making.clay import ClayNeed, Sizes, clay_needs, sizes_of
from salebook.making.firing import FiringNeed, needs_for
from salebook.making.hours import HoursNeed, hours_for
from salebook.making.loading import Loading, loadings_for
from salebook.making.losses import Run, run_of
from salebook.plan.model import Plan, Stage


@dataclass(frozen=True, kw_only=True)
class Studio:
    """Everything that the making room works out, in plan order."""

    runs: tuple[Run, ...]
    clays: tuple[ClayNeed, ...]
    sizes: tuple[Sizes, ...]
    loadings: tuple[Loading, ...]
    """One for each stage that the plan fires."""
    firings: tuple[FiringNeed, ...]
    hours: HoursNeed


def plan_studio(plan: Plan, *, loads: Mapping[Stage, int] | None = None) -> Studio:
    """Work out the making of a plan; `loads` overrules the number of kiln loads of a stage.

    Raises FaultyPlanError naming each piece that fits no empty kiln, ValueError where `loads` asks for none.
    """
    runs = tuple(run_of(ware, plan) for ware in plan.wares)
    loadings = loadings_for(plan, runs, loads=loads)
    return Studio(
        runs=runs,
        clays=tuple(clay_needs(plan, runs)),
        sizes=tuple(sizes_of(ware, plan.clay_of(ware)) for ware in plan.wares),
        loadings=loadings,
        firings=needs_for(plan, runs, loadings),
        hours=hours_for(plan, runs, loadings),
    )
