"""Where a sale stands by its workbook: what came out of the kiln, what has sold, what is still to come in."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from salebook.event.claims import claim_state
from salebook.event.costs import cost_key
from salebook.event.entries import Claim, Entries
from salebook.event.event import Event
from salebook.event.lines import fold_case
from salebook.event.offers import offers_of
from salebook.event.pieces import GONE, HELD, PieceState
from salebook.event.state import EventState
from salebook.forecast.selling_time import share_over
from salebook.forecast.standing import GoodCount, GoodKey, Standing
from salebook.forecast.studio_ahead import StudioAhead
from salebook.making.losses import Offer, Run
from salebook.plan.model import Plan
from salebook.plan.money import ZERO
from salebook.pricing.costing import Costs
from salebook.pricing.fees import expected_fee
from salebook.reckoning import Reckoning


def standing_from_book(reckoning: Reckoning, event: Event, now: datetime, ahead: StudioAhead) -> Standing:
    """Return where a sale stands by what was filled in, at a moment.

    `ahead` is what may still come from the studio. Pieces of a ware that nobody counted are there as planned.
    """
    costs = costs_ahead(reckoning.costs, event.entries)
    return Standing(
        reckoning=reckoning,
        costs=costs,
        counts=counts_in_book(reckoning, event, ahead),
        reached=event.share_out.pool + event.share_out.named + event.share_out.direct,
        over=share_over(reckoning.plan.sale, now),
        held_brings=_held_brings(reckoning.plan, event, costs),
    )


def costs_ahead(costs: Costs, entries: Entries) -> Costs:
    """Return the costs without those that grow with sales and were filled in: these are met in full."""
    lines = (line for line in costs.lines if not (line.grows and cost_key(line) in entries.actual_costs))
    return replace(costs, lines=tuple(lines))


def counts_in_book(reckoning: Reckoning, event: Event, ahead: StudioAhead) -> Mapping[GoodKey, GoodCount]:
    """Return what there is of each good, and what became of it."""
    counts: dict[GoodKey, GoodCount] = {}
    pieces: dict[str, list[PieceState]] = {}
    offers = offers_of(reckoning, event)
    for piece in event.state.pieces:
        pieces.setdefault(piece.piece.code, []).append(piece)
    for run in reckoning.studio.runs:
        counts |= _of_ware(run, pieces[run.ware.code], offers[run.ware.code], event, ahead)
    for good in reckoning.advice.goods:
        if not good.is_made:
            there = pieces[good.code]
            counts[good.code, good.grade] = _count(there, offered=len(there))
    return counts


def _of_ware(
    run: Run, pieces: Sequence[PieceState], offer: Offer, event: Event, ahead: StudioAhead
) -> Iterator[tuple[GoodKey, GoodCount]]:
    """Yield the firsts of a ware, and its seconds where there are any."""
    code = run.ware.code
    there = [piece for piece in pieces if piece.status != "not made"]
    if code in ahead.tallied and code not in event.state.kiln_counts:
        firsts = seconds = 0
    elif run.ware.numbered:
        seconds = sum(piece.grade == "second" for piece in there)
        firsts = len(there) - seconds
    else:
        firsts, seconds = offer.firsts, offer.seconds
    yield from _by_grade(code, there, firsts, seconds, ahead.on_the_way(code))


def _by_grade(
    code: str,
    there: Sequence[PieceState],
    firsts: int,
    seconds: int,
    on_the_way: tuple[tuple[int, Decimal], ...],
) -> Iterator[tuple[GoodKey, GoodCount]]:
    """Yield firsts and seconds; of a ware without numbers the firsts are taken to sell first."""
    of_seconds = [piece for piece in there if piece.piece.index and piece.grade == "second"]
    of_firsts = [piece for piece in there if piece.piece.index and piece.grade == "first"]
    without_number = sum(piece.sold for piece in there if not piece.piece.index)
    seconds_sold = min(seconds, max(0, without_number - firsts))
    yield (
        (code, "first"),
        replace(
            _count(of_firsts, offered=firsts, sold_besides=without_number - seconds_sold),
            on_the_way=on_the_way,
        ),
    )
    if seconds or of_seconds:
        yield (code, "second"), _count(of_seconds, offered=seconds, sold_besides=seconds_sold)


def _count(pieces: Sequence[PieceState], *, offered: int, sold_besides: int = 0) -> GoodCount:
    """Count pieces; more sold than there were to offer were there all the same."""
    sold = sum(piece.status == "sold" for piece in pieces) + sold_besides
    held = sum(piece.status in HELD for piece in pieces)
    gone = sum(piece.status in GONE for piece in pieces)
    return GoodCount(offered=max(offered, sold + held + gone), gone=gone, sold=sold, held=held)


def _held_brings(plan: Plan, event: Event, costs: Costs) -> Decimal:
    """Return what pieces held and ordered, and money on its way, still bring once all is paid."""
    held = [piece for piece in event.state.pieces if piece.status in HELD]
    due = sum((amount - expected_fee(amount, plan) for amount in _due(held, event.state) if amount), ZERO)
    to_givers = sum((piece.price * piece.piece.keeps for piece in held), ZERO)
    to_hand_over = Counter(piece.piece.code for piece in held)
    to_hand_over.update({totals.code: totals.to_make for totals in event.state.piece_totals})
    costs_of_each = (
        costs.per_piece_sold(code, "sale") * count for code, count in to_hand_over.items() if count
    )
    return due - to_givers - sum(costs_of_each, ZERO) + _on_its_way(event)


def _due(held: Sequence[PieceState], state: EventState) -> Iterator[Decimal]:
    """Yield what is still to pay: by each claim with an order, its pieces too; then on all other pieces."""
    orders = (line for line in state.lines if line.kind == "order" and not line.same)
    claims = {fold_case(line.line.claim) for line in orders}
    for claim in sorted(claims):
        yield claim_state(Claim(claim=claim), state).to_pay
    for piece in held:
        if fold_case(piece.held_for) not in claims:
            yield piece.to_pay


def _on_its_way(event: Event) -> Decimal:
    """Return the money that was promised or taken and has not arrived, less what the way to pay takes."""
    arriving = [(way.payment, way.waiting) for way in event.share_out.ways if way.waiting]
    fees = sum((way.fee(max(ZERO, amount)) for way, amount in arriving if not way.paid_to), ZERO)
    return sum((amount for _way, amount in arriving), ZERO) - fees
