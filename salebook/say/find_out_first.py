"""Which assumptions to replace by facts first."""

from collections.abc import Iterator
from typing import Final

from salebook.base.words import _
from salebook.plan.model import Plan

MOST: Final = 3


def find_out_first(plan: Plan) -> tuple[str, ...]:
    """Return at most three things to find out, those first that usually move the answer most (judgement)."""
    found = (
        *_about_buyers(plan),
        *_about_losses(plan),
        *_about_energy(plan),
        *_about_fees(plan),
        *_about_groups(plan),
        *_about_clay(plan),
    )
    return found[:MOST]


def _about_buyers(plan: Plan) -> Iterator[str]:
    silent = [ware.code for ware in plan.wares if not ware.demand]
    if silent:
        yield _(
            "How many would sell at each price ({codes}): look at an earlier sale, or show a "
            "piece to ten people and ask what they would pay."
        ).format(codes=", ".join(silent))
    if not plan.outlooks_given:
        yield _("How a quiet day and a busy day differ: ask the hall, or somebody who sold there before.")


def _about_losses(plan: Plan) -> Iterator[str]:
    silent = [ware.code for ware in plan.wares if ware.losses_given is None and not ware.has_counts]
    if silent:
        yield _(
            "How many pieces you lose at each stage ({codes}): keep a tally of one batch from wheel to shelf."
        ).format(codes=", ".join(silent))


def _about_energy(plan: Plan) -> Iterator[str]:
    metered = plan.kiln is not None and (
        plan.kiln.calibration is not None or all(firing.metered_kwh for firing in plan.firings)
    )
    if plan.firings and not metered:
        yield _("What one firing uses: read the meter before and after it, and write it on Plan.")


def _about_fees(plan: Plan) -> Iterator[str]:
    if len(plan.payments) == 1 and plan.payments[0].cash:
        yield _("Whether buyers may pay by card, and what that costs: it changes what each piece brings in.")


def _about_groups(plan: Plan) -> Iterator[str]:
    silent = [group.name for group in plan.beneficiaries if group.agreed is None]
    if silent:
        yield _(
            "Whether the groups agree to name, parts and costs ({names}): ask, and write the day down."
        ).format(names=", ".join(silent))


def _about_clay(plan: Plan) -> Iterator[str]:
    silent = [clay.name for clay in plan.clays if clay.drying_shrinkage_given is None and clay.shrinkage]
    if silent:
        yield _(
            "How much the clay shrinks ({names}): mark 10 cm on a test bar and measure it dry and fired."
        ).format(names=", ".join(silent))
