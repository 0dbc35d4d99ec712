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
    owed: Decimal
    """To pay for the pieces put aside."""
    ordered: Decimal
    """The list price of what it ordered."""
    filled: Decimal
    """The price of pieces that its orders are filled with."""
    paid_ahead: Decimal
    """Paid on its orders."""
    used_up: Decimal
    """What pieces that were handed over cost more than was paid on them."""

    @property
    def to_pay(self) -> Decimal:
        """What is still to pay."""
        unfilled, left = max(ZERO, self.ordered - self.filled), max(ZERO, self.paid_ahead - self.used_up)
        return max(ZERO, self.owed + unfilled - left)


def claim_state(claim: str, state: EventState) -> ClaimState:
    """Return how a claim number stands.

    To pay are the pieces that wait for it, and what it ordered while no piece is put aside, less what was
    paid on the orders and is not used up by pieces that were handed over for less than their price.
    """
    key = fold_case(claim)
    pieces = [piece for piece in state.pieces if fold_case(piece.held_for) == key]
    lines = [line for line in state.lines if fold_case(line.line.claim) == key]
    orders = [line for line in lines if line.kind == "order" and not line.same]
    return ClaimState(
        pieces=len(pieces),
        paid=_arrived(lines),
        owed=sum((piece.to_pay for piece in pieces), ZERO),
        ordered=sum((line.list_price or ZERO for line in orders), ZERO),
        filled=sum((piece.price for piece in pieces if piece.fills_order), ZERO),
        paid_ahead=_amounts(orders),
        used_up=_used_up(pieces),
    )


def _used_up(pieces: Sequence[PieceState]) -> Decimal:
    # A piece put to a claim is sold by whatever a sale or balance on it brings, be it 0 where all was paid
    # ahead. So Takings asks for the sum that is left and never takes the list price.
    sold = (piece for piece in pieces if piece.fills_order and piece.status == "sold")
    return sum((max(ZERO, piece.price - piece.paid) for piece in sold), ZERO)


def _arrived(lines: Sequence[PostedLine]) -> Decimal:
    return sum((line.arrived for line in lines), ZERO)


def _amounts(lines: Sequence[PostedLine]) -> Decimal:
    return sum((line.amount for line in lines), ZERO)
