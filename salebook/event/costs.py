"""What each cost comes to as the sale stands, how that is known, and who met it."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from salebook.base.words import _
from salebook.event.entries import Entries, UnplannedCost
from salebook.event.lines import fold_case
from salebook.event.state import EventState
from salebook.plan.money import ZERO, rounded
from salebook.pricing.costing import CostLine
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class CostMet:
    """One cost as it counts: the actual one, else by pieces sold where it grows, else as planned."""

    line: CostLine
    amount: Decimal
    is_actual: bool
    """Whether what it really cost was filled in."""
    sold: int
    """How many of the pieces are sold with which it grows; 0 where it does not."""
    is_planned: bool = True

    @property
    def is_as_planned(self) -> bool:
        """Whether it is known from the plan alone: neither filled in nor by pieces sold."""
        return not self.is_actual and not self.line.grows


def cost_key(line: CostLine) -> str:
    """Return the key under which an actual cost is filled in: kind and name, and the place among its like."""
    return key_of_cost(line.kind, line.name, line.nth)


def key_of_cost(kind: str, name: str, nth: int) -> str:
    """Return the key of the `nth` cost of a kind with a name, as `cost_key` does."""
    return f"{kind}: {name}" if nth == 1 else f"{kind} {nth}: {name}"


def costs_met(reckoning: Reckoning, state: EventState, entries: Entries) -> tuple[CostMet, ...]:
    """Return every cost as it counts: in the order of the cost lines, then those that nobody planned."""
    digits = reckoning.plan.sale.digits
    planned = (_cost_met(line, state, entries, digits) for line in reckoning.costs.lines)
    return (*planned, *map(_unplanned, entries.unplanned))


def postage_spent(costs: Iterable[CostMet]) -> Decimal:
    """Return what postage comes to: all costs that have the word in their names."""
    word = fold_case(_("postage"))
    return sum((cost.amount for cost in costs if word in fold_case(cost.line.name)), ZERO)


def _cost_met(line: CostLine, state: EventState, entries: Entries, digits: int) -> CostMet:
    sold = sum(state.sold(code) for code in line.codes)
    planned = rounded(line.per_piece_sold * sold, digits) if line.grows else line.total
    actual = entries.actual_costs.get(cost_key(line))
    return CostMet(
        line=line,
        amount=planned if actual is None else actual,
        is_actual=actual is not None,
        sold=sold,
    )


def _unplanned(cost: UnplannedCost) -> CostMet:
    line = CostLine(
        name=cost.name or _("a cost without a name"),
        kind="overhead",
        quantity=Decimal(1),
        unit=_("sale"),
        unit_cost=cost.amount,
        total=cost.amount,
        met_by=cost.met_by,
    )
    return CostMet(line=line, amount=cost.amount, is_actual=True, sold=0, is_planned=False)
