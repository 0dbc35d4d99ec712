"""What waits for people: by claim number, never by name."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.lines import in_small_letters
from salebook.event.standing import CountedLine, PieceStanding, Standing
from salebook.plan.money import NOTHING


@dataclass(frozen=True, kw_only=True)
class ClaimStanding:
    """One claim number: pieces put aside for it, what was paid on it, and what is still to pay."""

    pieces: int
    paid: Decimal
    to_pay: Decimal


def claim_standing(claim: str, standing: Standing) -> ClaimStanding:
    """Return how a claim number stands.

    To pay are the pieces that wait for it, and what it ordered while no piece is put aside, less what was
    paid on the orders and is not used up by pieces that were handed over for less than their price.
    """
    key = in_small_letters(claim)
    pieces = [piece for piece in standing.pieces if in_small_letters(piece.held_for) == key]
    lines = [line for line in standing.lines if in_small_letters(line.line.claim) == key]
    orders = [line for line in lines if line.line.kind == "order" and not line.moved.same]
    filled = sum((piece.price for piece in pieces if piece.fills_order), NOTHING)
    unfilled = max(NOTHING, sum((line.list_price or NOTHING for line in orders), NOTHING) - filled)
    owed = sum((piece.to_pay for piece in pieces), unfilled)
    paid_ahead = max(NOTHING, _amounts(orders) - _used_up(pieces))
    return ClaimStanding(pieces=len(pieces), paid=_arrived(lines), to_pay=max(NOTHING, owed - paid_ahead))


def _used_up(pieces: Sequence[PieceStanding]) -> Decimal:
    # A piece put to a claim is sold by whatever a sale or balance on it brings, be it 0 where all was paid
    # ahead. So Takings asks for the sum that is left and never takes the list price.
    sold = (piece for piece in pieces if piece.fills_order and piece.status == "sold")
    return sum((max(NOTHING, piece.price - piece.paid) for piece in sold), NOTHING)


def _arrived(lines: Sequence[CountedLine]) -> Decimal:
    return sum((line.arrived for line in lines), NOTHING)


def _amounts(lines: Sequence[CountedLine]) -> Decimal:
    return sum((line.amount for line in lines), NOTHING)
