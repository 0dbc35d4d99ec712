"""Every piece by its number: what there is to sell."""

import itertools
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.entries import Grade
from salebook.making.losses import Run
from salebook.plan.model import Donated, Plan, Source
from salebook.plan.piece_numbers import number_of, parts_of


@dataclass(frozen=True, kw_only=True)
class Piece:
    """One row of Pieces: a numbered piece, or a whole ware without numbers (then number = code)."""

    number: str
    code: str
    name: str
    index: int
    """1, 2, 3 … of all with its code, whatever its number; 0 for a ware that is not numbered."""
    source: Source
    planned_grade: Grade
    count: int
    """1, or all for sale of a ware that is not numbered."""
    keeps: Decimal
    giver: str
    """Who gave the piece; empty for the maker's own."""
    agreed_price: Decimal | None = None
    """A price of its own, where one was agreed."""

    @property
    def parts(self) -> tuple[str, int]:
        """What its number begins with, and which one it is; 0 for a ware that is not numbered."""
        return parts_of(self.number) if self.index else (self.code, 0)


def register_of(plan: Plan, runs: Sequence[Run]) -> tuple[Piece, ...]:
    """Return every piece in plan order: each ware's to the number started, those donated, those left before.

    A ware's first pieces, as many as wanted, are firsts; the next, as many as the seconds expected,
    are seconds where the plan has a price for them; the others are firsts to spare. They take the numbers
    that no piece has which an earlier sale left: its label is on it already.
    """
    taken = frozenset(number for carried in plan.carried for number in carried.numbers)
    own = (piece for run in runs for piece in _pieces_of(run, taken))
    given = (
        _piece(donated, number_of(donated.code, index), index)
        for donated in plan.donated
        for index in range(1, donated.count + 1)
    )
    left = (
        _piece(carried, number, index, "second" if carried.second else "first")
        for carried in plan.carried
        for index, number in enumerate(carried.numbers, start=1)
    )
    return (*own, *given, *left)


def _pieces_of(run: Run, taken: Container[str]) -> Iterator[Piece]:
    ware = run.ware
    seconds = range(ware.wanted + 1, ware.wanted + run.seconds_for_sale + 1)
    if not ware.numbered:
        yield _piece(ware, ware.code, 0, count=run.for_sale)
    numbers = (number_of(ware.code, each) for each in itertools.count(1))
    free = (number for number in numbers if number not in taken)
    for index in range(1, run.started + 1 if ware.numbered else 0):
        yield _piece(ware, next(free), index, "second" if index in seconds else "first")


def _piece(source: Source, number: str, index: int, grade: Grade = "first", *, count: int = 1) -> Piece:
    donated = source if isinstance(source, Donated) else None
    return Piece(
        number=number,
        code=source.code,
        name=source.name,
        index=index,
        source=source,
        planned_grade=grade,
        count=count,
        keeps=donated.keeps if donated else Decimal(0),
        giver=donated.maker if donated else "",
    )
