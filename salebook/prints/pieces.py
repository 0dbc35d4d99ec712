"""The pieces that prints are made for."""

from salebook.event.register import Piece, register_of
from salebook.reckoning import Reckoning


def pieces_for_sale(reckoning: Reckoning) -> tuple[Piece, ...]:
    """Return the pieces planned for sale: firsts wanted, priced seconds expected, and those donated."""
    runs = reckoning.studio.runs
    most = {run.ware.code: run.for_sale for run in runs}
    register = register_of(reckoning.plan, runs)
    return tuple(piece for piece in register if piece.index <= most.get(piece.code, piece.index))
