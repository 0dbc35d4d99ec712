"""Sizes, shelves, shrinkage and power as people say them."""

import re
from decimal import Decimal
from typing import Final

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.plan.fields import length, mass
from salebook.plan.quantities import (
    Length,
    Mass,
    lengths_together,
    parse_number,
    parse_percent,
    parse_two_lengths,
    plain,
)
from salebook.start.spoken_numbers import in_digits

MOST_SHRINKAGE: Final = Decimal("0.4")

_SIDE = "(?:high|tall|height|wide|across|width|diameter)"
_NAMED = re.compile(
    rf"(?:(?P<before>{_SIDE})[\s:]*)?(?P<size>\d(?:(?!{_SIDE}|by\b|and\b|x\b|[,;]\s).)*)(?P<behind>{_SIDE})?"
)
_BETWEEN = re.compile(r"(?:[\s,;x×]|\bby\b|\band\b)*")
_TALL: Final = ("high", "tall", "height")


def mass_in(text: str) -> Mass:
    """Read a mass; raises UnfitError."""
    return mass(re.sub(r"^an? ", "1 ", in_digits(text)))


def length_in(text: str) -> Length:
    """Read a length, feet too; raises UnfitError."""
    return length(in_digits(text))


def size_in(text: str, expected: str) -> tuple[Length, Length]:
    """Read a height and a width: in this order, or each by its name ("4 in wide, 5 in tall").

    Raises UnfitError.
    """
    tidy = in_digits(text).lower()
    sides = list(_NAMED.finditer(tidy))
    names = [found["before"] or found["behind"] for found in sides]
    sizes = [found["size"].strip(" ,;") for found in sides]
    if len(sides) != 2 or not any(names) or not _BETWEEN.fullmatch(_NAMED.sub("", tidy)):
        return two_lengths_in(text, expected)
    if names[0] not in _TALL and (names[0] or names[1] in _TALL):
        sizes.reverse()
    return two_lengths_in(" x ".join(sizes), expected)


def two_lengths_in(text: str, expected: str) -> tuple[Length, Length]:
    """Read "11 x 9 cm" in the order in which it was said; raises UnfitError."""
    try:
        first, second = parse_two_lengths(in_digits(text))
        return length(first), length(second)
    except UnfitError as trouble:
        raise UnfitError(expected) from trouble


def round_shelf_in(text: str) -> Length | None:
    """Read "round 46 cm"; None where the text says nothing of round or across, or holds two lengths."""
    found = re.fullmatch(
        r"(?:round\b[ ,]*)?(.+?)(?:[ ,]*\b(?:round|across|diameter|wide)\b)*", in_digits(text).lower()
    )
    if found is None or re.search(r"[x×X*]|\bby\b", text):
        return None
    return length(found[1])


def shrinkage_in(text: str) -> Decimal:
    """Read "12 %", 0.12 or "10 cm becomes 8.8 cm" as a share; raises UnfitError."""
    text = in_digits(text)
    ends = re.split(r"\s*(?:\bbecomes?\b|\bto\b|->|→)\s*", text.strip())
    share = _left_over(*ends) if len(ends) == 2 else _share(text)
    if not 0 <= share <= MOST_SHRINKAGE:
        raise UnfitError(_shrinkage_words())
    return share


def format_percent(share: Decimal) -> str:
    """Say a share in per cent."""
    return f"{plain(share * 100)} %"


def kilowatts_in(text: str) -> Decimal:
    """Read "7.2 kW" or "7200 W"; raises UnfitError."""
    found = re.fullmatch(r"([\d.,]+)\s*(k?w|kilowatts?|watts?)?", in_digits(text).lower())
    if found is None:
        raise UnfitError(_power_words())
    power = parse_number(found[1], _power_words())
    power = power / 1000 if (found[2] or "kw").startswith("w") else power
    if not Decimal("0.1") <= power <= 1000:
        raise UnfitError(_power_words())
    return power


def _power_words() -> str:
    return _('the power on the plate of the kiln, such as "7.2 kW"')


def _shrinkage_words() -> str:
    return _('a share from 0 to 40 %, such as "12 %" or "10 cm becomes 8.8 cm"')


def _share(text: str) -> Decimal:
    number, in_percent = parse_percent(text, _shrinkage_words())
    return number if not in_percent and number < MOST_SHRINKAGE else number / 100


def _left_over(before: str, after: str) -> Decimal:
    """Return what a length lost, as a share of it, to a hundredth of a per cent."""
    any_unit = "" if re.search("[a-z\"″”']", before + after, re.IGNORECASE) else " cm"
    try:
        wet, fired = map(length, lengths_together(before + any_unit, after))
    except UnfitError as trouble:
        raise UnfitError(_shrinkage_words()) from trouble
    return round(1 - fired.mm / wet.mm, 4)
