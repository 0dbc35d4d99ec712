"""What waits for people: by claim number, never by name."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.lines import fold_case
from salebook.event.state import EventState, PieceState, PostedLine
from salebook.plan.money import ZERO


@dataclass(frozen=True, kw_only=True)
class ClaimState:
    """One claim number: pieces put aside for it, what was paid on it, and what is still to pay."""

    pieces: int
    paid: Decimal
    to_pay: Decimal


def claim_state(claim: str, state: EventState) -> ClaimState:
    """Return how a claim number stands.

    To pay are the pieces that wait for it, and what it ordered while no piece is put aside, less what was
    paid on the orders and is not used up by pieces that were handed over for less than their price.
    """
    key = fold_case(claim)
    pieces = [piece for piece in state.pieces if fold_case(piece.held_for) == key]
    lines = [line for line in state.lines if fold_case(line.line.claim) == key]
    orders = [line for line in lines if line.kind == "order" and not line.same]
    filled = sum((piece.price for piece in pieces if piece.fills_order), ZERO)
    unfilled = max(ZERO, sum((line.list_price or ZERO for line in orders), ZERO) - filled)
    owed = sum((piece.to_pay for piece in pieces), unfilled)
    paid_ahead = max(ZERO, _amounts(orders) - _used_up(pieces))
    return ClaimState(pieces=len(pieces), paid=_arrived(lines), to_pay=max(ZERO, owed - paid_ahead))


def _used_up(pieces: Sequence[PieceState]) -> Decimal:
    # A piece put to a claim is sold by whatever a sale or balance on it brings, be it 0 where all was paid
    # ahead. So Takings asks for the sum that is left and never takes the list price.
    sold = (piece for piece in pieces if piece.fills_order and piece.status == "sold")
    return sum((max(ZERO, piece.price - piece.paid) for piece in sold), ZERO)


def _arrived(lines: Sequence[PostedLine]) -> Decimal:
    return sum((line.arrived for line in lines), ZERO)


def _amounts(lines: Sequence[PostedLine]) -> Decimal:
    return sum((line.amount for line in lines), ZERO)
