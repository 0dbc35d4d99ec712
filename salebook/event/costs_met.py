"""Costs as the accounts show them: what each comes to now, how that is known, and who met it."""

from dataclasses import dataclass
from decimal import Decimal

from salebook.event.costs_to_date import cost_key, cost_to_date
from salebook.event.event import Event
from salebook.pricing.costing import CostLine
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class CostMet:
    """One cost; `is_actual` where what it really cost was filled in, else it stands as planned."""

    line: CostLine
    amount: Decimal
    is_actual: bool

    @property
    def is_as_planned(self) -> bool:
        """Whether it is known from the plan alone: neither filled in nor by pieces sold."""
        return not self.is_actual and not self.line.grows


def costs_met(reckoning: Reckoning, event: Event) -> tuple[CostMet, ...]:
    """Return every cost as it counts, in the order of the cost lines."""
    digits, actual = reckoning.plan.sale.digits, event.entries.actual_costs
    return tuple(
        CostMet(
            line=line,
            amount=cost_to_date(line, event.state, event.entries, digits),
            is_actual=cost_key(line) in actual,
        )
        for line in reckoning.costs.lines
    )
