"""Money in the bank beside the takings, way by way: what should arrive, what did, and who can say why not."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from salebook.base.words import N_
from salebook.event.entries import Entries
from salebook.event.event import Event
from salebook.event.lines import fold_case
from salebook.event.receipts import money_in
from salebook.plan.model import Plan
from salebook.plan.money import ZERO

# Words to choose from and no text of one's own: the reason is printed, and a name must not be.
REASONS: Final = (
    N_("still on its way"),
    N_("fee billed apart"),
    N_("float paid in too"),
    N_("miscounted"),
    N_("buyer paid too much"),
    N_("buyer paid too little"),
    N_("bank charge"),
    N_("other reason"),
)


@dataclass(frozen=True, kw_only=True)
class WayBanked:
    """One way to pay; `name` is empty for money of which nobody says by which way it came."""

    name: str
    taken: Decimal
    fee: Decimal = ZERO
    paid_out: Decimal = ZERO
    """Out of the cash box."""
    found: Decimal = ZERO
    """What the counts of the cash box differ by, as they stand on the cash-up."""
    arrived: Decimal | None
    """None while nothing is known to have arrived, by any way; from then on what has not is missing."""
    is_cash: bool = False
    reason: str = ""

    @property
    def expected(self) -> Decimal:
        """What should arrive."""
        return self.taken - self.fee - self.paid_out + self.found

    @property
    def difference(self) -> Decimal | None:
        """What arrived beyond that; None while nothing did."""
        return None if self.arrived is None else self.arrived - self.expected

    @property
    def is_open(self) -> bool:
        """Whether it differs and nobody says why."""
        return bool(self.difference) and not self.reason


def ways_banked(plan: Plan, event: Event) -> tuple[WayBanked, ...]:
    """Return every way to pay that ends in the bank, in plan order; last, money without a way."""
    return (*_of_ways(plan, event), *_without_way(plan, event))


def bank_ways(plan: Plan) -> tuple[str, ...]:
    """Return the names of the ways to pay that end in the bank, not straight with a group."""
    return tuple(way.name for way in plan.payments if not way.paid_to)


def _of_ways(plan: Plan, event: Event) -> Iterator[WayBanked]:
    # The boxes hold the cash of all such ways together: what they differ by is said of the first.
    first = next((way.name for way in plan.payments if way.cash and not way.paid_to), "")
    for taken in event.share_out.ways:
        way = taken.payment
        if not way.paid_to:
            boxes = event.cash_ups if way.name == first else ()
            yield WayBanked(
                name=way.name,
                taken=taken.money,
                fee=taken.fee,
                paid_out=sum((box.paid_out for box in boxes), ZERO),
                found=sum((box.difference or ZERO for box in boxes), ZERO),
                arrived=_arrived(event.entries, way.name),
                is_cash=way.cash,
                reason=event.entries.bank_reasons.get(way.name, ""),
            )


def _arrived(entries: Entries, way: str) -> Decimal | None:
    sums = [
        entry.arrived
        for entry in entries.banked
        if entry.arrived is not None and fold_case(entry.what) == fold_case(way)
    ]
    return sum(sums, ZERO) if any(entry.arrived is not None for entry in entries.banked) else None


def arrived_without_way(plan: Plan, entries: Entries) -> Decimal:
    """Return what arrived of which nobody says by which way to pay."""
    ways = {fold_case(name) for name in bank_ways(plan)}
    sums = (entry.arrived or ZERO for entry in entries.banked if fold_case(entry.what) not in ways)
    return sum(sums, ZERO)


def _without_way(plan: Plan, event: Event) -> Iterator[WayBanked]:
    taken, arrived = money_in(event.state, way=""), arrived_without_way(plan, event.entries)
    if taken or arrived:
        yield WayBanked(name="", taken=taken, arrived=arrived or None)
