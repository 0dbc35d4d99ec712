"""Which pieces to print: numbers and stretches of numbers, as a person types them."""

import re
from collections.abc import Iterator, Sequence
from difflib import get_close_matches

from salebook.base.errors import WrongUseError
from salebook.base.words import _
from salebook.event.register import Piece
from salebook.plan.piece_numbers import number_of

LONGEST_SHOWN = 40
_SHORT = re.compile(r"(.+)-([0-9]{1,6})")


def chosen(pieces: Sequence[Piece], only: str | None) -> tuple[Piece, ...]:
    """Return the pieces that `only` names, such as "LAN-003, LAN-007..012", in the order of `pieces`.

    Zeros at the start of a number may be left out; None means all.

    Raises WrongUseError for a number that is not there, naming the nearest.
    """
    if only is None:
        return tuple(pieces)
    items = [item.strip().upper() for item in only.split(",") if item.strip()]
    if not items:
        raise WrongUseError(_('No numbers to print: expected some such as "LAN-003,LAN-007..012".'))
    wanted = {number for item in items for number in _numbers(pieces, item)}
    return tuple(piece for piece in pieces if piece.number in wanted)


def _numbers(pieces: Sequence[Piece], item: str) -> Iterator[str]:
    first_text, dots, last_text = (part.strip() for part in item.partition(".."))
    if dots and not (first_text and last_text):
        raise _no_stretch(item)
    first = _piece(pieces, first_text)
    if not dots:
        yield first.number
        return
    code = first.parts[0]
    last = _piece(pieces, f"{code}-{last_text}" if last_text.isdigit() else last_text)
    if last.parts[0] != code or last.parts < first.parts:
        raise _no_stretch(item)
    for piece in pieces:
        if first.parts <= piece.parts <= last.parts:
            yield piece.number


def _piece(pieces: Sequence[Piece], number: str) -> Piece:
    short = _SHORT.fullmatch(number)
    full = number_of(short[1], int(short[2])) if short else number
    for piece in pieces:
        if piece.number == full:
            return piece
    nearest = _nearest(pieces, number)
    says = (
        _("There is no piece {number}; the nearest is {nearest}.")
        if nearest
        else _("There is no piece {number}.")
    )
    raise WrongUseError(says.format(number=number[:LONGEST_SHOWN], nearest=nearest))


def _nearest(pieces: Sequence[Piece], number: str) -> str:
    """Name the nearest piece: of the code most like the one that was typed, the nearest number."""
    code, _dash, digits = number[:LONGEST_SHOWN].partition("-")
    like = get_close_matches(code, [piece.parts[0] for piece in pieces], n=1, cutoff=0.0)
    index = int(digits) if digits.isdecimal() else 0
    alike = (piece for piece in pieces if piece.parts[0] in like)
    nearest = min(alike, key=lambda piece: abs(piece.parts[1] - index), default=None)
    return nearest.number if nearest else ""


def _no_stretch(item: str) -> WrongUseError:
    says = _("“{item}” is no stretch of numbers: expected one such as LAN-007..012.")
    return WrongUseError(says.format(item=item[:LONGEST_SHOWN]))
