"""The count of the table: how many pieces the book leaves on it on an evening."""

from datetime import date
from typing import Final

from salebook.event.entries import LineKind
from salebook.event.lines import SeenLine
from salebook.event.standing import Standing, Tally

MOVES: Final[dict[LineKind, int]] = {"sale": 1, "deposit": 1, "refund": -1}
"""What a line takes off the table, by kind: a balance takes nothing, its piece went with the deposit."""


def left_on(standing: Standing, tally: Tally, evening: date) -> int:
    """Return how many pieces of a code stood to be sold on an evening.

    These are the pieces here now, and those that lines of later days took off the table.
    """
    later = (line.moved.seen for line in standing.lines if line.day > evening)
    return tally.here + sum(_moved(seen) for seen in later if _is_of(seen, tally.code))


def _moved(seen: SeenLine) -> int:
    return seen.count * MOVES.get(seen.line.kind, 0)


def _is_of(seen: SeenLine, code: str) -> bool:
    return seen.piece == code or seen.piece.startswith(f"{code}-")
