"""The cash box: expected, counted, difference."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from salebook.event.entries import DayCount, Entries
from salebook.event.state import EventState
from salebook.plan.model import Plan
from salebook.plan.money import ZERO


@dataclass(frozen=True, kw_only=True)
class CashUp:
    """One day's cash: `counted` is None while nothing is counted; difference = counted - float - expected."""

    day: date
    till: str
    float_: Decimal
    cash_takings: Decimal
    paid_out: Decimal
    counted: Decimal | None

    @property
    def expected(self) -> Decimal:
        """Cash takings less what was paid out of the box."""
        return self.cash_takings - self.paid_out

    @property
    def is_empty(self) -> bool:
        """Whether nothing went through the box and nothing was counted."""
        return self.counted is None and not (self.float_ or self.cash_takings or self.paid_out)

    @property
    def difference(self) -> Decimal | None:
        """Signed, never hidden; None while nothing is counted."""
        return None if self.counted is None else self.counted - self.float_ - self.expected


def cash_ups(plan: Plan, state: EventState, entries: Entries) -> tuple[CashUp, ...]:
    """Return the cash box of each day and till: the days of the sale, others with cash."""
    taken = _cash_taken(plan, state)
    counted = {(count.day, count.till): count for count in entries.cash}
    tills = {line.line.till for line in state.lines} | {till for _day, till in counted}
    boxes = {(day, till) for day in plan.sale.days for till in tills or {"1"}} | taken.keys() | counted.keys()
    in_order = sorted(boxes, key=lambda box: (box[0], len(box[1]), box[1]))
    return tuple(
        _cash_up(counted.get(box, DayCount(day=box[0], till=box[1])), taken.get(box, ZERO))
        for box in in_order
    )


def _cash_taken(plan: Plan, state: EventState) -> Mapping[tuple[date, str], Decimal]:
    in_the_box = {way.name for way in plan.payments if way.cash and not way.paid_to}
    taken: dict[tuple[date, str], Decimal] = {}
    for line in state.lines:
        if line.way in in_the_box and line.arrived:
            box = line.day, line.line.till
            taken[box] = taken.get(box, ZERO) + line.arrived
    return taken


def _cash_up(count: DayCount, taken: Decimal) -> CashUp:
    return CashUp(
        day=count.day,
        till=count.till,
        float_=count.float_,
        cash_takings=taken,
        paid_out=count.paid_out,
        counted=count.total,
    )
