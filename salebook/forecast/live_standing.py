"""Where a sale stands as its workbook can work it out by itself, live."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Final

from salebook.event.event import Event
from salebook.event.pieces import HELD
from salebook.event.posted_line import PostedLine
from salebook.event.state import EventState
from salebook.forecast.from_book import costs_ahead, counts_in_book
from salebook.forecast.standing import GoodCount, GoodKey, Standing
from salebook.forecast.studio_ahead import StudioAhead
from salebook.plan.model import Plan
from salebook.plan.money import ZERO
from salebook.pricing.costing import Costs
from salebook.pricing.fees import expected_fee
from salebook.pricing.good import AS_PLANNED, Prices, changed_prices
from salebook.pricing.ladder import price_changed
from salebook.reckoning import Reckoning

MOST_SHARE: Final = 3
"""A larger share was typed in per cent."""


@dataclass(frozen=True, kw_only=True)
class StillDue:
    """What pieces held and ordered, and money on its way, still bring; over all claims together."""

    on_pieces: Decimal
    unfilled: Decimal
    """The list price of what is ordered, beyond the pieces that fill orders."""
    paid_ahead: Decimal
    """Paid on orders, and not used up by pieces handed over."""
    payments: int
    fees: Decimal
    to_givers: Decimal
    costs: Decimal
    on_its_way: Decimal

    @property
    def to_pay(self) -> Decimal:
        """What is still to pay."""
        return max(ZERO, self.on_pieces + self.unfilled - self.paid_ahead)

    @property
    def brings(self) -> Decimal:
        """What it comes to."""
        return self.to_pay - self.fees - self.to_givers - self.costs + self.on_its_way


def over_by_lines(plan: Plan, event: Event) -> Decimal:
    """Return the share of the selling time that is past by the evening of the last day that has a line."""
    last = max((line.day for line in event.state.lines), default=None)
    days = plan.sale.days
    return Decimal(sum(last is not None and day <= last for day in days)) / len(days)


def over_now(plan: Plan, event: Event) -> Decimal:
    """Return the share of the selling time that is past: as typed, else by the lines."""
    typed = event.entries.from_here.over
    return over_by_lines(plan, event) if typed is None else min(Decimal(1), as_share(typed))


def as_share(typed: Decimal) -> Decimal:
    """Return a share as it was meant: 80 is 80 per cent."""
    return typed / 100 if typed > MOST_SHARE else typed


def prices_of_rest(plan: Plan, event: Event) -> Prices:
    """Return the prices typed for the rest: of the only ware, or of all in proportion; else the plan's."""
    typed = event.entries.from_here.other
    if not typed:
        return AS_PLANNED
    if len(plan.wares) == 1:
        return Prices(firsts={plan.wares[0].code: typed})
    share = as_share(typed)
    return changed_prices(plan, lambda price: price_changed(price, 100 * share - 100, plan.sale.price_step))


def live_standing(reckoning: Reckoning, event: Event) -> Standing:
    """Return where a sale stands; what is not counted out of the kiln yet is there as planned."""
    costs = costs_ahead(reckoning.costs, event.entries)
    second_of_each: dict[GoodKey, GoodCount] = {
        (ware.code, "second"): GoodCount(offered=0) for ware in reckoning.plan.wares
    }
    return Standing(
        reckoning=reckoning,
        costs=costs,
        counts=second_of_each | dict(counts_in_book(reckoning, event, StudioAhead())),
        reached=event.share_out.pool + event.share_out.named + event.share_out.direct,
        over=over_now(reckoning.plan, event),
        held_brings=still_due(reckoning.plan, event, costs).brings,
    )


def still_due(plan: Plan, event: Event, costs: Costs) -> StillDue:
    """Return what is still due; fees and costs are those of the plan."""
    state = event.state
    held = [piece for piece in state.pieces if piece.status in HELD]
    to_hand_over = [(piece.piece.code, 1) for piece in held]
    to_hand_over += [(totals.code, totals.to_make) for totals in state.piece_totals]
    due = StillDue(
        on_pieces=sum((piece.to_pay for piece in state.pieces), ZERO),
        unfilled=_unfilled(state),
        paid_ahead=_paid_ahead(state),
        payments=sum(piece.to_pay > 0 for piece in state.pieces)
        + sum(totals.to_make for totals in state.piece_totals),
        fees=ZERO,
        to_givers=sum((piece.price * piece.piece.keeps for piece in held), ZERO),
        costs=sum((costs.per_piece_sold(code, "sale") * n for code, n in to_hand_over if n), ZERO),
        on_its_way=sum(_arriving(event), ZERO),
    )
    return replace(due, fees=_fees(due, plan))


def _fees(due: StillDue, plan: Plan) -> Decimal:
    for_each = expected_fee(ZERO, plan)
    return expected_fee(due.to_pay, plan) + for_each * (due.payments - 1) if due.to_pay else ZERO


def _orders(state: EventState) -> list[PostedLine]:
    return [line for line in state.lines if line.kind == "order" and not line.same]


def _unfilled(state: EventState) -> Decimal:
    ordered = sum((line.list_price or ZERO for line in _orders(state)), ZERO)
    return max(ZERO, ordered - sum((piece.price for piece in state.pieces if piece.fills_order), ZERO))


def _paid_ahead(state: EventState) -> Decimal:
    over = (piece for piece in state.pieces if piece.fills_order and piece.status == "sold")
    used = sum((max(ZERO, piece.price - piece.paid) for piece in over), ZERO)
    return max(ZERO, sum((line.amount for line in _orders(state)), ZERO) - used)


def _arriving(event: Event) -> Iterator[Decimal]:
    for way in event.share_out.ways:
        fee = way.payment.fee(way.waiting) if way.waiting > 0 and not way.payment.paid_to else ZERO
        yield way.waiting - fee
