"""Sizes, shelves, shrinkage and power as people say them."""

import re
from decimal import Decimal
from typing import Final

from salebook.base.words import _
from salebook.plan.fields import UnfitError, length, mass
from salebook.plan.quantities import (
    Length,
    Mass,
    lengths_together,
    parse_number,
    parse_two_lengths,
    plain,
)
from salebook.start.spoken_numbers import in_digits

MOST_SHRINKAGE: Final = Decimal("0.4")
INCHES_PER_FOOT: Final = 12

_FEET = re.compile(
    r"(?<![\d.,/])(?P<feet>\d+(?:[.,]\d+)?) ?(?:foot|feet|ft\b\.?|')(?!')"
    r"(?:,? ?(?P<inches>\d+)(?: ?(?:inch(?:es)?\b|ins?\b\.?|\"))?)?"
)
_SIDE = "(?:high|tall|height|wide|across|width|diameter)"
_NAMED = re.compile(
    rf"(?:(?P<before>{_SIDE})[\s:]*)?(?P<size>\d[^a-z\"″”]*(?:(?!{_SIDE}|by\b|and\b|x\b)[a-z\"″”]+)?)"
    rf"(?:\s*(?P<behind>{_SIDE}))?"
)
_BETWEEN = re.compile(r"(?:[\s,;x×]|\bby\b|\band\b)*")
_TALL: Final = ("high", "tall", "height")


def mass_in(text: str) -> Mass:
    """Read a mass; raises UnfitError."""
    return mass(re.sub(r"^an? ", "1 ", in_digits(text)))


def length_in(text: str) -> Length:
    """Read a length, feet too; raises UnfitError."""
    return length(_without_feet(text))


def size_in(text: str, expected: str) -> tuple[Length, Length]:
    """Read a height and a width: in this order, or each by its name ("4 in wide, 5 in tall").

    Raises UnfitError.
    """
    tidy = _without_feet(text).lower()
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
        first, second = parse_two_lengths(_without_feet(text))
        return length(first), length(second)
    except ValueError as trouble:
        raise UnfitError(expected) from trouble


def round_shelf_in(text: str) -> Length | None:
    """Read "round 46 cm"; None where the text says nothing of round or across, or holds two lengths."""
    found = re.fullmatch(
        r"(?:round\b[ ,]*)?(.+?)(?:[ ,]*\b(?:round|across|diameter|wide)\b)*", _without_feet(text).lower()
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
    power = _plain_number(found[1], _power_words())
    power = power / 1000 if (found[2] or "kw").startswith("w") else power
    if not Decimal("0.1") <= power <= 1000:
        raise UnfitError(_power_words())
    return power


def _without_feet(text: str) -> str:
    """Put feet into inches, in which a plan keeps them."""
    return _FEET.sub(_in_inches, in_digits(text))


def _in_inches(found: re.Match[str]) -> str:
    feet = Decimal(found["feet"].replace(",", "."))
    return f"{plain(INCHES_PER_FOOT * feet + int(found['inches'] or 0))} in"


def _power_words() -> str:
    return _('the power on the plate of the kiln, such as "7.2 kW"')


def _shrinkage_words() -> str:
    return _('a share from 0 to 40 %, such as "12 %" or "10 cm becomes 8.8 cm"')


def _share(text: str) -> Decimal:
    found = re.fullmatch(r"([\d.,]+)\s*(%|per ?cent)?", text.strip().lower())
    if found is None:
        raise UnfitError(_shrinkage_words())
    number = _plain_number(found[1], _shrinkage_words())
    return number if not found[2] and number < MOST_SHRINKAGE else number / 100


def _left_over(before: str, after: str) -> Decimal:
    """Return what a length lost, as a share of it, to a hundredth of a per cent."""
    any_unit = "" if re.search("[a-z\"″”']", before + after, re.IGNORECASE) else " cm"
    try:
        wet, fired = map(length, lengths_together(before + any_unit, after))
    except ValueError as trouble:
        raise UnfitError(_shrinkage_words()) from trouble
    return round(1 - fired.mm / wet.mm, 4)


def _plain_number(text: str, expected: str) -> Decimal:
    try:
        return parse_number(text)
    except ValueError as trouble:
        raise UnfitError(expected) from trouble
