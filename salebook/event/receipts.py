"""What came in, added up by day, kind, way to pay and line; and how much of it is in the bank."""

from collections import Counter
from collections.abc import Sequence
from datetime import date, time
from decimal import Decimal
from operator import attrgetter
from typing import NamedTuple

from salebook.event.cash_up import CashUp
from salebook.event.entries import Entries, LineKind
from salebook.event.lines import bundle_of, kind_label
from salebook.event.posted_line import PostedLine
from salebook.event.share_out import ShareOut
from salebook.event.state import EventState
from salebook.plan.model import Plan
from salebook.plan.money import ZERO


def money_in(
    state: EventState,
    *,
    day: date | None = None,
    kind: LineKind | None = None,
    way: str | None = None,
    till: str | None = None,
) -> Decimal:
    """Return the money that arrived, refunds taken off, on the lines that fit all that is asked for.

    `way` "" asks for lines on which no way to pay is known.
    """
    arrived = (
        line.arrived
        for line in state.lines
        if (day is None or line.day == day)
        and (kind is None or kind_label(line.line) == kind)
        and (way is None or line.way == way)
        and (till is None or line.line.till == till)
    )
    return sum(arrived, ZERO)


def given_back(state: EventState, since: date) -> Decimal:
    """Return what was given back to buyers from a day on, out of the takings."""
    refunds = (line for line in state.lines if line.kind == "refund" and line.day >= since)
    return -sum((line.arrived for line in refunds if not line.straight), ZERO)


class Timed(NamedTuple):
    """A line, when it was typed, and how many times of day were typed in its bundle up to it."""

    line: PostedLine
    moment: tuple[date, time]
    times_before: int


def moments_of(state: EventState) -> list[Timed]:
    """Return when each line was typed; one without a time follows the last of its bundle that has one.

    Where that is of another day, or there is none, it stands at the beginning of its day.
    """
    last: dict[int, tuple[date, time]] = {}
    typed: Counter[int] = Counter()
    moments = []
    for line in state.lines:
        bundle = bundle_of(line.line)
        if line.line.at is not None:
            last[bundle] = line.day, line.line.at
            typed[bundle] += 1
        day, at = last.get(bundle, (line.day, time(0)))
        moments.append(Timed(line, (line.day, at if day == line.day else time(0)), typed[bundle]))
    return moments


def in_order_of_time(state: EventState) -> Sequence[PostedLine]:
    """Return the lines as Takings shows them: those of several bundles in the order of time."""
    if len({bundle_of(line.line) for line in state.lines}) < 2:
        return state.lines
    return [timed.line for timed in sorted(moments_of(state), key=attrgetter("moment"))]


def last_line_with_money(state: EventState) -> int:
    """Return which line, as Takings shows them, is the last on which money arrived; 0: none."""
    places = (n for n, line in enumerate(in_order_of_time(state), start=1) if line.arrived)
    return max(places, default=0)


def banked(entries: Entries) -> Decimal:
    """Return all money that is known to have arrived in the bank."""
    return sum((entry.arrived for entry in entries.banked if entry.arrived is not None), ZERO)


def paid_to_groups(entries: Entries) -> Decimal:
    """Return all payments made to groups."""
    return sum((payment.amount for payment in entries.payments), ZERO)


def to_pay(share_out: ShareOut) -> Decimal:
    """Return what is still to pay to the groups that are owed something, whatever others have too much."""
    return sum((max(ZERO, group.to_pay) for group in share_out.groups), ZERO)


def ready_to_pay(entries: Entries, share_out: ShareOut) -> Decimal:
    """Return how much of what is still to pay lies in the bank: arrived less paid, never below 0."""
    return max(ZERO, min(to_pay(share_out), banked(entries) - paid_to_groups(entries)))


def cash_elsewhere(plan: Plan, state: EventState, cash_ups: Sequence[CashUp]) -> Decimal:
    """Return the cash that was taken on days that have no cash-up."""
    cash = (money_in(state, way=way.name) for way in plan.payments if way.cash and not way.paid_to)
    return sum(cash, ZERO) - sum((cash_up.cash_takings for cash_up in cash_ups), ZERO)


def sampled_lines(last: int, points: int) -> tuple[int, ...]:
    """Return line numbers spread evenly from 0 to the last, `points` steps apart, halves rounded up."""
    return tuple((2 * last * point + points) // (2 * points) for point in range(points + 1))
