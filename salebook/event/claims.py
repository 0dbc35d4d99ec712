"""What waits for people, claim by claim; with names and contacts, for the maker's eyes only."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.entries import Claim
from salebook.event.lines import fold_case, trimmed
from salebook.event.pieces import HELD, PieceState, Status
from salebook.event.posted_line import PostedLine
from salebook.event.state import EventState
from salebook.plan.money import ZERO

POSTING = "posting"
FOR_SOMEBODY: frozenset[Status] = HELD | {"sold"}


@dataclass(frozen=True, kw_only=True)
class ClaimState:
    """How one claim stands; one that has no row on Hand over has no name."""

    claim: Claim
    held: tuple[PieceState, ...]
    """Pieces put aside for it, whatever became of them."""
    to_make: Mapping[str, int]
    """Ordered and no piece put aside for it yet: how many, by the ware's name."""
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

    @property
    def pieces(self) -> int:
        """How many pieces are put aside for it."""
        return len(self.held)

    @property
    def to_hand_over(self) -> tuple[PieceState, ...]:
        """The pieces that somebody will fetch or be sent, or has paid for."""
        return tuple(piece for piece in self.held if piece.status in FOR_SOMEBODY)

    @property
    def is_sent(self) -> bool:
        """Whether it is to be sent; all else is fetched."""
        return fold_case(self.claim.how) == POSTING


def claim_state(claim: Claim, state: EventState) -> ClaimState:
    """Return how a claim stands.

    To pay are the pieces that wait for it, and what it ordered while no piece is put aside, less what was
    paid on the orders and is not used up by pieces that were handed over for less than their price.
    """
    key = fold_case(claim.claim)
    pieces = [piece for piece in state.pieces if key and fold_case(piece.held_for) == key]
    lines = [line for line in state.lines if key and fold_case(line.line.claim) == key]
    orders = [line for line in lines if line.kind == "order" and not line.same]
    return ClaimState(
        claim=claim,
        held=tuple(pieces),
        to_make=_to_make(pieces, orders),
        paid=sum((line.arrived for line in lines), ZERO),
        owed=sum((piece.to_pay for piece in pieces), ZERO),
        ordered=sum((line.list_price or ZERO for line in orders), ZERO),
        filled=sum((piece.price for piece in pieces if piece.fills_order), ZERO),
        paid_ahead=sum((line.amount for line in orders), ZERO),
        used_up=_used_up(pieces),
    )


def _used_up(pieces: Sequence[PieceState]) -> Decimal:
    # A piece put to a claim is sold by whatever a sale or balance on it brings, be it 0 where all was paid
    # ahead. So Takings asks for the sum that is left and never takes the list price.
    sold = (piece for piece in pieces if piece.fills_order and piece.status == "sold")
    return sum((max(ZERO, piece.price - piece.paid) for piece in sold), ZERO)


def _to_make(pieces: Sequence[PieceState], orders: Sequence[PostedLine]) -> Mapping[str, int]:
    left: Counter[str] = Counter()
    for line in orders:
        left[line.name] += line.count
    left.subtract(piece.piece.name for piece in pieces if piece.fills_order)
    return {name: count for name, count in left.items() if count > 0}


def waiting_claims(claims: Sequence[Claim], state: EventState) -> tuple[ClaimState, ...]:
    """Return all that is still to hand over: the rows of Hand over, then claims that have no row there."""
    filled = [claim for claim in claims if _is_filled(claim)]
    known = {fold_case(claim.claim) for claim in filled}
    others: dict[str, Claim] = {}
    for typed in _typed(state):
        others.setdefault(fold_case(typed), Claim(claim=typed))
    rows = (claim_state(claim, state) for claim in filled if not claim.done)
    unnamed = (claim_state(claim, state) for key, claim in others.items() if key and key not in known)
    return (*rows, *(waiting for waiting in unnamed if waiting.to_hand_over or waiting.to_make))


def _is_filled(claim: Claim) -> bool:
    return any(text.strip() for text in (claim.claim, claim.name, claim.contact, claim.what))


def _typed(state: EventState) -> Iterator[str]:
    """Yield the claim numbers typed with lines and pieces."""
    yield from (trimmed(line.line.claim) for line in state.lines)
    yield from (trimmed(piece.held_for) for piece in state.pieces)
