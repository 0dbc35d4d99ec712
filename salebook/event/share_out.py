"""Who gets what, to the last penny."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.costs import CostMet, costs_met
from salebook.event.entries import Entries
from salebook.event.posted_line import PostedLine
from salebook.event.state import EventState
from salebook.plan.model import Beneficiary, Payment, Plan
from salebook.plan.money import ZERO, rounded, share_out
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class WayTaken:
    """What came in by one way to pay (arrived lines only) and what that cost."""

    payment: Payment
    money: Decimal
    positive: Decimal
    payments: int
    planned_fee: Decimal
    fee: Decimal
    """The statement's figure where it was filled in, else by the plan."""
    waiting: Decimal
    """Money not yet arrived: shown apart, not in the pool."""


@dataclass(frozen=True, kw_only=True)
class GroupShare:
    """One group: named gifts and its share of the pool; `direct` is what it received straight from givers."""

    group: Beneficiary
    named: Decimal
    share: Decimal
    direct: Decimal
    paid: Decimal

    @property
    def total(self) -> Decimal:
        """What the sale owes the group in all."""
        return self.named + self.share

    @property
    def to_pay(self) -> Decimal:
        """What is still to pay; negative where too much was paid."""
        return self.total - self.paid

    @property
    def overpaid(self) -> Decimal:
        """What was paid beyond what it gets."""
        return max(ZERO, -self.to_pay)


@dataclass(frozen=True, kw_only=True)
class ShareOut:
    """The pool and how it is shared; a negative pool shares nothing."""

    takings: Decimal
    """All that arrived and was not paid straight to a group, named gifts included."""
    named: Decimal
    ways: tuple[WayTaken, ...]
    fees: Decimal
    costs: tuple[CostMet, ...]
    """Every cost as it counts, whoever met it."""
    costs_met_by_sale: Decimal
    """What the takings must meet of them."""
    to_givers: Decimal
    pool: Decimal
    groups: tuple[GroupShare, ...]
    direct: Decimal

    @property
    def reached(self) -> Decimal:
        """Raised so far, for the target: max(0, pool) + named + paid straight to groups."""
        return max(ZERO, self.pool) + self.named + self.direct


def share_out_of(reckoning: Reckoning, state: EventState, entries: Entries) -> ShareOut:
    """Share out what the lines brought: the pool by parts, by largest remainder, beside what was named."""
    plan = reckoning.plan
    ways = tuple(_way_taken(way, state.lines, entries, plan.sale.digits) for way in plan.payments)
    in_takings = [line for line in state.lines if not line.straight and not line.line.waiting]
    takings = sum((line.arrived for line in in_takings), ZERO)
    named = sum((line.named for line in in_takings), ZERO)
    fees = sum((way.fee for way in ways), ZERO)
    costs = costs_met(reckoning, state, entries)
    met_by_sale = sum((cost.amount for cost in costs if cost.line.met_by == "sale"), ZERO)
    to_givers = sum((piece.to_giver for piece in state.pieces), ZERO)
    pool = rounded(takings - named - fees - met_by_sale - to_givers, plan.sale.digits)
    return ShareOut(
        takings=takings,
        named=named,
        ways=ways,
        fees=fees,
        costs=costs,
        costs_met_by_sale=met_by_sale,
        to_givers=to_givers,
        pool=pool,
        groups=_group_shares(plan, pool, in_takings, ways, entries),
        direct=sum((way.money for way in ways if way.payment.paid_to), ZERO),
    )


def _way_taken(payment: Payment, lines: Sequence[PostedLine], entries: Entries, digits: int) -> WayTaken:
    of_way = [line for line in lines if line.way == payment.name]
    positive = sum((line.bears_fee for line in of_way), ZERO)
    payments = sum(line.is_payment and not line.line.waiting for line in of_way)
    planned = rounded(payment.fee(positive, payments), digits)
    return WayTaken(
        payment=payment,
        money=sum((line.arrived for line in of_way), ZERO),
        positive=positive,
        payments=payments,
        # Rounded once for each way to pay, not for each line.
        planned_fee=planned,
        fee=entries.actual_fees.get(payment.name, planned),
        waiting=sum((line.waiting for line in of_way), ZERO),
    )


def _group_shares(
    plan: Plan,
    pool: Decimal,
    in_takings: Sequence[PostedLine],
    ways: Sequence[WayTaken],
    entries: Entries,
) -> tuple[GroupShare, ...]:
    groups = plan.beneficiaries
    shares = share_out(max(ZERO, pool), [group.parts for group in groups], plan.sale.digits)
    return tuple(
        GroupShare(
            group=group,
            named=sum((line.named for line in in_takings if line.group == group.name), ZERO),
            share=share,
            direct=sum((way.money for way in ways if way.payment.paid_to == group.name), ZERO),
            paid=sum((paid.amount for paid in entries.payments if paid.group == group.name), ZERO),
        )
        for group, share in zip(groups, shares, strict=True)
    )
