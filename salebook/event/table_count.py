"""The count of the table: how many pieces the book leaves on it on an evening."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from salebook.event.entries import LineKind, TableCount
from salebook.event.pieces import PieceState, PieceTotals, Status
from salebook.event.posted_line import PostedLine
from salebook.event.state import EventState
from salebook.plan.money import ZERO

OFF_BY_COUNT: Final[dict[LineKind, int]] = {"sale": 1, "balance": 1, "refund": -1}
"""What a line takes off the table of a ware without numbers, by kind: so many times its count."""

ON_OR_OFF: Final[tuple[Status, ...]] = ("here", "left over", "sold", "deposit")
"""What a piece may stand as that was on the table until somebody paid: others stand aside or are gone."""


@dataclass(frozen=True, kw_only=True)
class LastCount:
    """The last evening on which the table was counted, None before; how many counts differ from the book."""

    evening: date | None
    differing: int


def last_count(state: EventState, counts: Sequence[TableCount]) -> LastCount:
    """Return how the last evening's counts agree with the book.

    Earlier ones are left out: what is put aside or breaks later, and has no day beside it, changes what the
    book says of them.
    """
    piece_totals = {totals.code: totals for totals in state.piece_totals}
    known = {(count.day, count.code): count.counted for count in counts if count.code in piece_totals}
    evening = max((day for day, _code in known), default=None)
    differing = sum(
        counted != left_on(state, piece_totals[code], day)
        for (day, code), counted in known.items()
        if day == evening
    )
    return LastCount(evening=evening, differing=differing)


def left_on(state: EventState, totals: PieceTotals, evening: date) -> int:
    """Return how many pieces of a code stood to be sold on an evening.

    These are the pieces here now or left over, and those that lines or marks of later days took off the
    table.
    """
    over = sum(piece.status == "left over" for piece in state.pieces if piece.piece.code == totals.code)
    later = (line for line in state.lines if line.day > evening)
    by_lines = sum(off_table(line) for line in later if _is_of(line, totals.code))
    marked = (piece for piece in state.pieces if piece.piece.code == totals.code)
    by_marks = sum(off_by_mark(piece, totals) for piece in marked if _is_later(piece.aside_from, evening))
    return totals.here + over + by_lines + by_marks


def off_by_mark(piece: PieceState, totals: PieceTotals) -> int:
    """Return 1 where a mark took a piece off the table on its day: it was made, and not paid for."""
    if piece.aside_from is None or piece.piece.index > totals.out:
        return 0
    lines = (line for line in piece.account.lines if line.day <= piece.aside_from)
    return int(sum((line.amount for line in lines), ZERO) <= 0)


def off_table(line: PostedLine) -> int:
    """Return how many pieces a line takes off the table; those that it brings back count negative.

    A numbered piece goes when the first of its price is paid and comes back when all is given back. So a
    balance, a part given back and a second sale of the same piece move nothing, nor does what follows a mark
    with a day.
    """
    piece = line.piece
    if piece is None:
        return 0
    if not line.numbered:
        return line.count * OFF_BY_COUNT.get(line.kind, 0)
    if is_aside(line):
        return 0
    before = paid_before(line)
    return int(before + line.amount > 0) - int(before > 0)


def is_aside(line: PostedLine) -> bool:
    """Whether a line's numbered piece was off the table already, by a mark or as it stands."""
    piece = line.piece
    if piece is None or not line.numbered:
        return False
    return _is_later(line.day, piece.aside_from) if piece.aside_from else piece.status not in ON_OR_OFF


def paid_before(line: PostedLine) -> Decimal:
    """Return what earlier lines moved of a line's numbered piece."""
    lines = line.piece.account.lines if line.piece and line.numbered else ()
    return sum((other.amount for other in lines if other.order < line.order), ZERO)


def _is_later(day: date | None, than: date) -> bool:
    return day is not None and day > than


def _is_of(line: PostedLine, code: str) -> bool:
    return line.piece is not None and line.piece.piece.code == code
