"""Which pieces to print: numbers and stretches of numbers, as a person types them."""

import re
from collections.abc import Iterator, Sequence
from difflib import get_close_matches

from salebook.errors import WrongUse
from salebook.event.register import Piece, number_of
from salebook.words import _

LONGEST_SHOWN = 40
_SHORT = re.compile(r"(.+)-([0-9]{1,6})")


def chosen(pieces: Sequence[Piece], only: str) -> tuple[Piece, ...]:
    """Return the pieces that `only` names, such as "LAN-003, LAN-007..012", in the order of `pieces`.

    Zeros at the start of a number may be left out.

    Raises WrongUse for a number that is not there, naming the nearest.
    """
    items = [item.strip().upper() for item in only.split(",") if item.strip()]
    if not items:
        raise WrongUse(_('No numbers to print: expected some such as "LAN-003,LAN-007..012".'))
    wanted = {number for item in items for number in _numbers(pieces, item)}
    return tuple(piece for piece in pieces if piece.number in wanted)


def _numbers(pieces: Sequence[Piece], item: str) -> Iterator[str]:
    first_text, dots, last_text = (part.strip() for part in item.partition(".."))
    first = _piece(pieces, first_text)
    if not dots:
        yield first.number
        return
    last = _piece(pieces, f"{first.code}-{last_text}" if last_text.isdigit() else last_text)
    if last.code != first.code or last.index < first.index:
        says = _("“{item}” is no stretch of numbers: expected one such as LAN-007..012.")
        raise WrongUse(says.format(item=item[:LONGEST_SHOWN]))
    for piece in pieces:
        if piece.code == first.code and first.index <= piece.index <= last.index:
            yield piece.number


def _piece(pieces: Sequence[Piece], number: str) -> Piece:
    short = _SHORT.fullmatch(number)
    full = number_of(short[1], int(short[2])) if short else number
    for piece in pieces:
        if piece.number == full:
            return piece
    says = _("There is no piece {number}{nearest}.").format(
        number=number[:LONGEST_SHOWN], nearest=_nearest(pieces, number)
    )
    raise WrongUse(says)


def _nearest(pieces: Sequence[Piece], number: str) -> str:
    found = get_close_matches(number[:LONGEST_SHOWN], [piece.number for piece in pieces], n=1, cutoff=0.0)
    return _("; the nearest is {number}").format(number=found[0]) if found else ""
