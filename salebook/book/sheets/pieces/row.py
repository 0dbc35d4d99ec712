"""What one row of Pieces is about."""

from typing import NamedTuple

from salebook.event.entries import Grade, PieceEntry
from salebook.event.kiln_count import Grading
from salebook.event.pieces import PieceState, PieceTotals
from salebook.event.register import Piece
from salebook.plan.model import Ware
from salebook.plan.tables import table_of


class PieceRow(NamedTuple):
    """One piece's row."""

    entry: PieceEntry
    state: PieceState
    piece: Piece
    totals: PieceTotals
    size: str
    n: int
    """Which row it is, from 1."""
    planned_grade: Grade
    """The grade in the plan, before anything was counted."""
    grading: Grading
    """How the pieces of its ware are graded."""
    has_keeps: bool
    """Whether the book knows what its giver keeps of its price."""

    @property
    def is_numbered(self) -> bool:
        """Whether it is one piece, not all of a ware without numbers."""
        return self.piece.index > 0

    @property
    def is_ungraded(self) -> bool:
        """Whether it is out of the kiln, and nobody graded it."""
        return self.piece.number in self.grading.ungraded

    @property
    def is_graded_second(self) -> bool:
        """Whether it is out of the kiln, and somebody graded it a second."""
        return self.entry.grade == "second" and self.piece.index <= self.totals.out

    @property
    def place(self) -> int:
        """Which one it is of those that nobody graded; 0 where no second is left to find among them."""
        return self.grading.ungraded.get(self.piece.number, 0) if self.grading.seconds_left else 0

    @property
    def has_grade(self) -> bool:
        """Whether it may come out as a second."""
        return self.is_numbered and isinstance(self.piece.source, Ware)


def plan_section(piece: Piece) -> str:
    """Return the table of the plan in which a piece's ware stands."""
    return table_of(type(piece.source))
