"""What came out of the kiln as the studio counted it, and which pieces are the seconds."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from salebook.event.entries import Entries, PieceEntry
from salebook.event.register import Piece
from salebook.making.losses import Offer
from salebook.plan.model import Plan, Ware

KilnCounts = Mapping[str, Offer]
"""What the studio counted out of the last firing, by ware code; a ware not counted is left out."""


def kiln_counts(plan: Plan, entries: Entries) -> KilnCounts:
    """Return what was counted out of the last firing and is for sale: no seconds without a price."""
    return dict(_counts(plan.wares, entries))


def _counts(wares: Sequence[Ware], entries: Entries) -> Iterator[tuple[str, Offer]]:
    for ware in wares:
        count = entries.studio.get(ware.code)
        if count is None or (count.good is None and count.seconds is None):
            continue
        seconds = 0 if ware.seconds_price is None else count.seconds or 0
        yield ware.code, Offer(firsts=count.good or 0, seconds=seconds)


@dataclass(frozen=True, kw_only=True)
class Grading:
    """Which pieces of one ware that are out of the kiln nobody graded, and how many of them are seconds."""

    ungraded: Mapping[str, int]
    """By number, the place among them, from 1."""
    seconds_left: int
    """Counted in the studio, less those that are graded so; the last of the ungraded ones stand for them."""

    def is_second(self, number: str) -> bool:
        """Whether a piece is a second by the count alone."""
        return self.ungraded.get(number, 0) > max(0, len(self.ungraded) - self.seconds_left)


def grading_of(pieces: Sequence[Piece], counted: Offer | None, out: int, entries: Entries) -> Grading:
    """Return how the pieces of one ware are graded that are out of the kiln."""
    there = [piece.number for piece in pieces if 0 < piece.index <= out]
    grades = {number: entries.pieces.get(number, PieceEntry()).grade for number in there}
    free = (number for number, grade in grades.items() if grade is None)
    graded_seconds = sum(grade == "second" for grade in grades.values())
    return Grading(
        ungraded={number: place for place, number in enumerate(free, start=1)},
        seconds_left=max(0, counted.seconds - graded_seconds) if counted else 0,
    )


def graded(piece: Piece, counts: KilnCounts, gradings: Mapping[str, Grading]) -> Piece:
    """Return a piece with the grade that follows from the studio's count, where its ware was counted."""
    if piece.code not in counts or not piece.index:
        return piece
    is_second = gradings[piece.code].is_second(piece.number)
    return replace(piece, planned_grade="second" if is_second else "first")
