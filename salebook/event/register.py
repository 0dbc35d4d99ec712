"""Every piece by its number: what there is to sell."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.entries import Grade
from salebook.making.losses import Run
from salebook.plan.model import Donated, Plan, Ware
from salebook.plan.piece_numbers import number_of


@dataclass(frozen=True, kw_only=True)
class Piece:
    """One row of Pieces: a numbered piece, or a whole ware without numbers (then number = code)."""

    number: str
    code: str
    name: str
    index: int
    """1, 2, 3 … within its code; 0 for a ware that is not numbered."""
    source: Ware | Donated
    planned_grade: Grade
    count: int
    """1, or all for sale of a ware that is not numbered."""
    keeps: Decimal
    giver: str
    """Who gave the piece; empty for the maker's own."""
    agreed_price: Decimal | None = None
    """A price of its own, where one was agreed."""


def register_of(plan: Plan, runs: Sequence[Run]) -> tuple[Piece, ...]:
    """Return every piece in plan order: each ware's to the number started, then those donated.

    A ware's first pieces, as many as wanted, are firsts; the next, as many as the seconds expected,
    are seconds where the plan has a price for them; the others are firsts to spare.
    """
    own = (piece for run in runs for piece in _pieces_of(run))
    given = (_piece(donated, index) for donated in plan.donated for index in range(1, donated.count + 1))
    return (*own, *given)


def wares_and_donated(plan: Plan) -> tuple[Ware | Donated, ...]:
    """Return everything that has a code: the wares, then what is donated, in plan order."""
    return (*plan.wares, *plan.donated)


def _pieces_of(run: Run) -> Iterator[Piece]:
    ware = run.ware
    seconds = range(ware.wanted + 1, ware.wanted + run.seconds_for_sale + 1)
    if not ware.numbered:
        yield _piece(ware, 0, count=run.for_sale)
    for index in range(1, run.started + 1 if ware.numbered else 0):
        yield _piece(ware, index, "second" if index in seconds else "first")


def _piece(source: Ware | Donated, index: int, grade: Grade = "first", *, count: int = 1) -> Piece:
    donated = source if isinstance(source, Donated) else None
    return Piece(
        number=number_of(source.code, index) if index else source.code,
        code=source.code,
        name=source.name,
        index=index,
        source=source,
        planned_grade=grade,
        count=count,
        keeps=donated.keeps if donated else Decimal(0),
        giver=donated.maker if donated else "",
    )
