"""The maker's own pieces that a sale left: good, unsold, and nobody's."""

from collections.abc import Iterator
from decimal import Decimal

from salebook.event.entries import Grade
from salebook.event.event import Event
from salebook.event.pieces import PieceState
from salebook.plan.model import Carried, Donated, Ware
from salebook.plan.piece_numbers import MOST_NUMBERS, in_stretches, parts_of

LEFT = frozenset({"here", "left over"})


def carried_from(event: Event) -> tuple[Carried, ...]:
    """Return the pieces that are left, one record for those alike: with their numbers, at their price.

    Where no line tells that the sale took place, only pieces that somebody counted are there.
    """
    alike: dict[tuple[str, Grade, Decimal], list[PieceState]] = {}
    presumed = frozenset(() if event.state.lines else uncounted(event))
    for piece in filter(_is_left, event.state.pieces):
        if piece.piece.code in presumed:
            continue
        code, _index = parts_of(piece.piece.number)
        alike.setdefault((code, piece.grade, piece.price), []).append(piece)
    return tuple(
        _carried(code, pieces[begin : begin + MOST_NUMBERS])
        for (code, *_rest), pieces in alike.items()
        for begin in range(0, len(pieces), MOST_NUMBERS)
    )


def uncounted(event: Event) -> tuple[str, ...]:
    """Return the codes of wares that nobody counted out of the kiln, so that they are there as planned."""
    wares = {piece.piece.code for piece in event.state.pieces if isinstance(piece.piece.source, Ware)}
    totals = (totals for totals in event.state.piece_totals if not totals.is_counted)
    return tuple(one.code for one in totals if one.code in wares and (one.sold or one.here))


def held_back(event: Event) -> tuple[str, ...]:
    """Return the numbers of pieces that wait for somebody, and so are not carried."""
    held = (piece for piece in event.state.pieces if piece.status in {"reserved", "deposit"})
    return tuple(piece.piece.number for piece in held if not isinstance(piece.piece.source, Donated))


def _is_left(piece: PieceState) -> bool:
    is_own = not isinstance(piece.piece.source, Donated)
    return is_own and bool(piece.piece.index) and piece.status in LEFT


def _carried(code: str, pieces: list[PieceState]) -> Carried:
    first = pieces[0]
    source = first.piece.source
    said = {
        "second": first.grade == "second",
        "sells": source.sells_given if isinstance(source, Carried) else None,
        "care": source.care,
    }
    numbers = sorted((piece.piece.number for piece in pieces), key=parts_of)
    always = {"name": source.name, "code": code, "numbers": in_stretches(numbers), "price": first.price}
    return Carried.model_validate(always | {key: value for key, value in said.items() if value})


def without_number(event: Event) -> Iterator[tuple[str, int]]:
    """Yield the name of each ware without numbers of which pieces are left, and how many."""
    for piece, totals in ((piece, piece.piece) for piece in event.state.pieces if not piece.piece.index):
        if left := totals.count - piece.sold:
            yield totals.name, left
