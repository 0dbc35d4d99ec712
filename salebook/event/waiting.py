"""What is still to hand over, claim by claim; with names and contacts, for the maker's eyes only."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.claims import claim_state
from salebook.event.entries import Claim
from salebook.event.lines import fold_case, trimmed
from salebook.event.state import EventState, PieceState, PostedLine, Status
from salebook.plan.money import ZERO

SENT_ON = "sent on"
FOR_SOMEBODY: frozenset[Status] = frozenset({"reserved", "deposit", "sold"})


@dataclass(frozen=True, kw_only=True)
class Waiting:
    """One claim that is not handed over yet; one that has no row on Hand over has no name."""

    claim: Claim
    pieces: tuple[PieceState, ...]
    to_make: Mapping[str, int]
    """Ordered and no piece put aside for it yet: how many, by the ware's name."""
    paid: Decimal
    to_pay: Decimal

    @property
    def is_sent(self) -> bool:
        """Whether it is to be sent; all else is fetched."""
        return fold_case(self.claim.how) == SENT_ON


def waiting_claims(claims: Sequence[Claim], state: EventState) -> tuple[Waiting, ...]:
    """Return all that is still to hand over: the rows of Hand over, then claims that have no row there."""
    filled = [claim for claim in claims if _is_filled(claim)]
    known = {fold_case(claim.claim) for claim in filled}
    others = (claim for key, claim in _claims_of(state).items() if key not in known)
    rows = (_waiting(claim, state) for claim in filled if not claim.done)
    unnamed = (_waiting(claim, state) for claim in others)
    return (*rows, *(waiting for waiting in unnamed if waiting.pieces or waiting.to_make))


def _is_filled(claim: Claim) -> bool:
    return any(text.strip() for text in (claim.claim, claim.name, claim.contact, claim.what))


def _claims_of(state: EventState) -> Mapping[str, Claim]:
    """Return claim numbers typed with lines and pieces, the first spelling of each."""
    found: dict[str, Claim] = {}
    for claim in _typed(state):
        if claim:
            found.setdefault(fold_case(claim), Claim(claim=claim))
    return found


def _typed(state: EventState) -> Iterator[str]:
    yield from (trimmed(line.line.claim) for line in state.lines)
    yield from (trimmed(piece.held_for) for piece in state.pieces)


def _waiting(claim: Claim, state: EventState) -> Waiting:
    key = fold_case(claim.claim)
    stands = claim_state(claim.claim, state)
    pieces = [piece for piece in state.pieces if key and fold_case(piece.held_for) == key]
    lines = [line for line in state.lines if key and fold_case(line.line.claim) == key]
    return Waiting(
        claim=claim,
        pieces=tuple(piece for piece in pieces if piece.status in FOR_SOMEBODY),
        to_make=_to_make(pieces, lines),
        paid=stands.paid if key else ZERO,
        to_pay=stands.to_pay if key else ZERO,
    )


def _to_make(pieces: Sequence[PieceState], lines: Sequence[PostedLine]) -> Mapping[str, int]:
    left: Counter[str] = Counter()
    for line in lines:
        if line.kind == "order" and not line.same:
            left[line.name] += line.count
    left.subtract(piece.piece.name for piece in pieces if piece.fills_order)
    return {name: count for name, count in left.items() if count > 0}
