"""What each cost comes to as the sale stands."""

from decimal import Decimal

from salebook.event.entries import Entries
from salebook.event.state import EventState
from salebook.plan.money import rounded
from salebook.pricing.costing import CostLine


def cost_key(line: CostLine) -> str:
    """Return the key under which an actual cost is filled in: kind and name."""
    return f"{line.kind}: {line.name}"


def cost_to_date(line: CostLine, state: EventState, entries: Entries, digits: int) -> Decimal:
    """Return a cost as it counts: the actual one, else by pieces sold where it grows, else as planned."""
    actual = entries.actual_costs.get(cost_key(line))
    if actual is not None:
        return actual
    if not line.grows:
        return line.total
    return rounded(line.per_piece_sold * sum(state.sold(code) for code in line.codes), digits)
