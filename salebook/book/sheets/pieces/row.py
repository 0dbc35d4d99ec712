"""What one row of Pieces is about."""

from typing import NamedTuple

from salebook.event.entries import PieceEntry
from salebook.event.pieces import PieceState, PieceTotals
from salebook.event.register import Piece
from salebook.plan.model import Donated


class PieceRow(NamedTuple):
    """One piece's row."""

    entry: PieceEntry
    state: PieceState
    piece: Piece
    totals: PieceTotals
    size: str
    n: int
    """Which row it is, from 1."""
    has_keeps: bool
    """Whether the book knows what its giver keeps of its price."""

    @property
    def is_numbered(self) -> bool:
        """Whether it is one piece, not all of a ware without numbers."""
        return self.piece.index > 0

    @property
    def has_grade(self) -> bool:
        """Whether it may come out as a second."""
        return self.is_numbered and not isinstance(self.piece.source, Donated)


def plan_section(piece: Piece) -> str:
    """Return the table of the plan in which a piece's ware stands."""
    return "donated" if isinstance(piece.source, Donated) else "wares"
