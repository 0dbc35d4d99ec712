"""The numbers of pieces, JUG-003, and stretches of them as people write them, JUG-003..012."""

import re
from collections.abc import Iterator, Sequence
from itertools import groupby

from salebook.base.errors import UnfitError
from salebook.base.words import _

MOST_NUMBERS = 1_000
LONGEST_SHOWN = 40
_NUMBER = re.compile(r"([A-Z][A-Z0-9]{0,5})[- ]0*([1-9][0-9]{0,5})")
_LAST = re.compile(r"(?:(?P<code>[A-Z][A-Z0-9]{0,5})[- ])?0*(?P<index>[1-9][0-9]{0,5})")


def number_of(code: str, index: int) -> str:
    """Return the number of a piece: "LAN-003"; more digits where three are not enough."""
    return f"{code}-{index:03d}"


def parts_of(number: str) -> tuple[str, int]:
    """Return the code and the index that a piece's number is made of."""
    code, _dash, index = number.rpartition("-")
    return code, int(index)


def numbers_in(text: str) -> tuple[str, ...]:
    """Return the numbers that a text names, in their order: "JUG-3, JUG-011..014"; one named twice, twice.

    Raises UnfitError that names what is no number, or where they are too many.
    """
    items = [item.strip() for item in text.upper().split(",") if item.strip()]
    stretches = [_stretch(item) for item in items]
    unread = [item[:LONGEST_SHOWN] for item, stretch in zip(items, stretches, strict=True) if not stretch[1]]
    if unread or not items:
        says = _('numbers of pieces in quotation marks, such as "JUG-003, JUG-011..014"')
        but = _("{numbers}, and not {unread}").format(numbers=says, unread=", ".join(unread))
        raise UnfitError(but if unread else says)
    if sum(len(indices) for _code, indices in stretches) > MOST_NUMBERS:
        raise UnfitError(_("at most {most} numbers").format(most=MOST_NUMBERS))
    found = sorted((code, index) for code, indices in stretches for index in indices)
    return tuple(number_of(*parts) for parts in found)


def _stretch(item: str) -> tuple[str, range]:
    """Return the code of a number or a stretch, and its indices; none where it is neither."""
    first_text, dots, last_text = (part.strip() for part in item.partition(".."))
    first, last = _NUMBER.fullmatch(first_text), _LAST.fullmatch(last_text)
    if not first or (dots and not (last and last["code"] in {None, first[1]})):
        return "", range(0)
    return first[1], range(int(first[2]), int(last["index"] if dots and last else first[2]) + 1)


def in_stretches(numbers: Sequence[str]) -> str:
    """Write numbers as people do: "JUG-003, JUG-011..014"."""
    return ", ".join(_stretches(numbers))


def _stretches(numbers: Sequence[str]) -> Iterator[str]:
    placed = [(*parts_of(number), place) for place, number in enumerate(numbers)]
    for (code, _shift), run in groupby(placed, key=lambda one: (one[0], one[1] - one[2])):
        indices = [index for _code, index, _place in run]
        last = f"..{indices[-1]:03d}" if len(indices) > 1 else ""
        yield number_of(code, indices[0]) + last
