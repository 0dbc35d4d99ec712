"""Whether what Pieces has out of the kiln is what the studio counted."""

from dataclasses import dataclass

from salebook.event.pieces import PieceTotals
from salebook.event.state import EventState
from salebook.plan.model import Ware


@dataclass(frozen=True, kw_only=True)
class OutOfKiln:
    """The pieces of one code that are out of the kiln by the sheet Pieces, whatever became of them since."""

    pieces: int
    seconds: int
    differs: bool
    """Whether the studio counted otherwise."""


def out_of_kiln(state: EventState, totals: PieceTotals) -> OutOfKiln:
    """Return what is out of the kiln of one code; a ware without numbers shows no seconds."""
    there = [
        piece for piece in state.pieces if piece.piece.code == totals.code and piece.piece.index <= totals.out
    ]
    is_numbered = any(piece.piece.index for piece in there)
    pieces = len(there) if is_numbered else totals.out
    seconds = sum(piece.grade == "second" for piece in there)
    counted = state.kiln_counts.get(totals.code)
    return OutOfKiln(
        pieces=pieces,
        seconds=seconds,
        differs=counted is not None
        and (
            pieces != counted.pieces
            or (is_numbered and _is_priced(there[0].piece.source) and seconds != counted.seconds)
        ),
    )


def _is_priced(source: object) -> bool:
    return isinstance(source, Ware) and source.seconds_price is not None


def kiln_differences(state: EventState) -> tuple[str, ...]:
    """Return the codes of the wares that Pieces and the studio count otherwise."""
    return tuple(totals.code for totals in state.piece_totals if out_of_kiln(state, totals).differs)
