"""The work: how many hours, and the worth put on them."""

from dataclasses import dataclass
from decimal import Decimal

from salebook.making.counts import count_for
from salebook.making.loading import Loading
from salebook.making.losses import Run
from salebook.plan.model import Plan, Work
from salebook.plan.money import rounded

MINUTES_PER_HOUR = 60


@dataclass(frozen=True, kw_only=True)
class WorkLine:
    """One kind of work over the whole sale."""

    work: Work
    count: int
    hours: Decimal


@dataclass(frozen=True, kw_only=True)
class HoursNeed:
    """All the work: hours and their worth in money (rounded), which is never money spent."""

    lines: tuple[WorkLine, ...]
    total: Decimal
    value: Decimal


def hours_for(plan: Plan, runs: tuple[Run, ...], loadings: tuple[Loading, ...]) -> HoursNeed:
    """Return the hours of all the work in the plan, and their worth at the plan's rate."""
    counts = tuple(count_for(work.per, work.wares, plan, runs, loadings) for work in plan.work)
    lines = tuple(
        WorkLine(work=work, count=count, hours=work.minutes * count / MINUTES_PER_HOUR)
        for work, count in zip(plan.work, counts, strict=True)
    )
    minutes = sum((line.work.minutes * line.count for line in lines), Decimal(0))
    total = minutes / MINUTES_PER_HOUR
    # A worth beside the costs, never taken from the takings: someone who is paid is an overhead.
    value = rounded(minutes * plan.hours.rate / MINUTES_PER_HOUR, plan.sale.digits)
    return HoursNeed(lines=lines, total=total, value=value)
