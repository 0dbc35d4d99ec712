"""The steps that a batch goes through, each to be ticked off on the wall."""

from typing import Final

from salebook.base.words import _
from salebook.plan.model import Per, Plan, Stage, Ware

AT_THE_WHEEL: Final[frozenset[Per]] = frozenset({"piece started", "batch"})
AT_THE_GLAZE: Final[frozenset[Per]] = frozenset({"piece glazed"})
AT_THE_END: Final[frozenset[Per]] = frozenset({"piece finished"})


def steps_of(ware: Ware, plan: Plan) -> tuple[str, ...]:
    """Return a ware's steps in order: the plan's own work and firings, usual ones where it has none."""
    return (
        *(_own_work(AT_THE_WHEEL, ware, plan) or (_("thrown"), _("turned"))),
        _("dry"),
        *(_firings("biscuit", plan) or (_("biscuit"),)),
        *(_own_work(AT_THE_GLAZE, ware, plan) or (_("glazed"), _("signed"))),
        *(_firings("glaze", plan) or (_("fired"),)),
        *(_own_work(AT_THE_END, ware, plan) or (_("feet polished"), _("wrapped"))),
    )


def _own_work(pers: frozenset[Per], ware: Ware, plan: Plan) -> tuple[str, ...]:
    return tuple(
        work.name for work in plan.work if work.per in pers and (not work.wares or ware.code in work.wares)
    )


def _firings(stage: Stage, plan: Plan) -> tuple[str, ...]:
    return tuple(firing.name for firing in plan.firings if firing.stage == stage)
