"""The pieces that prints are made for."""

from collections.abc import Iterator
from dataclasses import replace

from salebook.event.event import Event
from salebook.event.pieces import HELD, PieceState, Status
from salebook.event.register import Piece, register_of
from salebook.reckoning import Reckoning

ON_THE_TABLE: frozenset[Status] = HELD | {"here"}


def pieces_for_sale(reckoning: Reckoning) -> tuple[Piece, ...]:
    """Return the pieces planned for sale: firsts wanted, priced seconds expected, and those donated."""
    runs = reckoning.studio.runs
    most = {run.ware.code: run.for_sale for run in runs}
    register = register_of(reckoning.plan, runs)
    return tuple(piece for piece in register if piece.index <= most.get(piece.code, piece.index))


def pieces_on_the_table(
    event: Event, *, only_made: bool = False, without_reserved: bool = False
) -> tuple[Piece, ...]:
    """Return the pieces that wait to be sold, each with its grade and price as they turned out.

    Those of a ware that nobody counted out of the kiln count as planned; `only_made` leaves them
    out, and what others gave. `without_reserved` leaves out what somebody has spoken for.
    """
    left_out = HELD if without_reserved else frozenset[Status]()
    made = {totals.code for totals in event.state.piece_totals if totals.is_counted or not only_made}
    return tuple(
        piece
        for state in event.state.pieces
        if state.piece.code in made and state.status in ON_THE_TABLE - left_out
        for piece in _left(state, event)
    )


def pieces_as_they_are(event: Event) -> tuple[Piece, ...]:
    """Return every piece of the register, sold or not, each with its grade and price as they turned out."""
    return tuple(_as_it_is(each) for each in event.state.pieces)


def _as_it_is(state: PieceState) -> Piece:
    agreed = state.price if state.has_agreed_price else None
    return replace(state.piece, planned_grade=state.grade, agreed_price=agreed)


def _left(state: PieceState, event: Event) -> Iterator[Piece]:
    """Yield a piece as it is; of a ware without numbers, as many as are not sold."""
    piece = _as_it_is(state)
    if piece.index:
        yield piece
        return
    here = next(totals.here for totals in event.state.piece_totals if totals.code == piece.code)
    yield replace(piece, count=here)
