"""What is still to hand over, claim by claim; with names and contacts, for the maker's eyes only."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.claims import claim_standing
from salebook.event.entries import Claim
from salebook.event.lines import in_small_letters, trimmed
from salebook.event.standing import CountedLine, PieceStanding, Standing, Status
from salebook.plan.money import NOTHING

SENT_ON = "sent on"
FOR_SOMEBODY: frozenset[Status] = frozenset({"reserved", "deposit", "sold"})


@dataclass(frozen=True, kw_only=True)
class Waiting:
    """One claim that is not handed over yet; one that has no row on Hand over has no name."""

    claim: Claim
    pieces: tuple[PieceStanding, ...]
    to_make: Mapping[str, int]
    """Ordered and no piece put aside for it yet: how many, by the ware's name."""
    paid: Decimal
    to_pay: Decimal

    @property
    def is_sent(self) -> bool:
        """Whether it is to be sent; all else is fetched."""
        return in_small_letters(self.claim.how) == SENT_ON


def waiting_claims(claims: Sequence[Claim], standing: Standing) -> tuple[Waiting, ...]:
    """Return all that is still to hand over: the rows of Hand over, then claims that have no row there."""
    filled = [claim for claim in claims if _is_filled(claim)]
    known = {in_small_letters(claim.claim) for claim in filled}
    others = (claim for key, claim in _claims_of(standing).items() if key not in known)
    rows = (_waiting(claim, standing) for claim in filled if not claim.done)
    unnamed = (_waiting(claim, standing) for claim in others)
    return (*rows, *(waiting for waiting in unnamed if waiting.pieces or waiting.to_make))


def _is_filled(claim: Claim) -> bool:
    return any(text.strip() for text in (claim.claim, claim.name, claim.contact, claim.what))


def _claims_of(standing: Standing) -> Mapping[str, Claim]:
    """Return claim numbers typed with lines and pieces, the first spelling of each."""
    found: dict[str, Claim] = {}
    for claim in _typed(standing):
        if claim:
            found.setdefault(in_small_letters(claim), Claim(claim=claim))
    return found


def _typed(standing: Standing) -> Iterator[str]:
    yield from (trimmed(line.line.claim) for line in standing.lines)
    yield from (trimmed(piece.held_for) for piece in standing.pieces)


def _waiting(claim: Claim, standing: Standing) -> Waiting:
    key = in_small_letters(claim.claim)
    stands = claim_standing(claim.claim, standing)
    pieces = [piece for piece in standing.pieces if key and in_small_letters(piece.held_for) == key]
    lines = [line for line in standing.lines if key and in_small_letters(line.line.claim) == key]
    return Waiting(
        claim=claim,
        pieces=tuple(piece for piece in pieces if piece.status in FOR_SOMEBODY),
        to_make=_to_make(pieces, lines),
        paid=stands.paid if key else NOTHING,
        to_pay=stands.to_pay if key else NOTHING,
    )


def _to_make(pieces: Sequence[PieceStanding], lines: Sequence[CountedLine]) -> Mapping[str, int]:
    left: Counter[str] = Counter()
    for line in lines:
        if line.line.kind == "order" and not line.moved.same:
            left[line.moved.seen.name] += line.moved.seen.count
    left.subtract(piece.piece.name for piece in pieces if piece.fills_order)
    return {name: count for name, count in left.items() if count > 0}
