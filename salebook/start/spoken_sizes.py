"""Clay, sizes, shelves, shrinkage, power and heat as people say them."""

import re
from collections.abc import Sequence
from decimal import Decimal
from typing import Final, NamedTuple

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.plan.fields import length, mass, temperature
from salebook.plan.quantities import (
    Length,
    Mass,
    Temperature,
    lengths_together,
    parse_number,
    parse_percent,
    parse_two_lengths,
    plain,
)
from salebook.start.choices import without
from salebook.start.energy_price import GAS
from salebook.start.question import Reader, SoFar
from salebook.start.spoken_money import amount_in, money_for
from salebook.start.spoken_numbers import in_digits

MOST_SHRINKAGE: Final = Decimal("0.4")
MOST_SIZE_MM: Final = 2000
"""Larger than any piece for a table (judgement)."""
LEAST_TOP: Final = 500
"""°C below which clay does not become ware that lasts (common practice, no source)."""
NO_KILN: Final = "no kiln"

_A_BAG = re.compile(r"\b(?:(?:an?|per|each)\s+)?bags?(?:\s+of)?\b\s*|\ban?\s+(?=\d)", re.IGNORECASE)
_BETWEEN_MASS_AND_PRICE = re.compile(
    r"\s*(?:\b(?:at|for|costs?|is)\b|[@;]|,\s|\s[-–]\s|\s(?=[£€$¥]))\s*", re.IGNORECASE
)
_WEIGHS = re.compile(r"\d\s*(?:k?g|kilo\w*|gram\w*|lbs?|oz|pounds?|ounces?)\b", re.IGNORECASE)

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


class Bag(NamedTuple):
    """What is in a bag of clay, and what it costs."""

    mass: Mass
    price: Decimal


def _read_bag(text: str, so_far: SoFar) -> Bag:
    """Read "12.5 kg at 15" or "12.5kg bag, £28.40 each", in either order; raises UnfitError."""
    sides = _BETWEEN_MASS_AND_PRICE.split(_A_BAG.sub("", in_digits(text)).strip(" ,"), maxsplit=1)
    if len(sides) != 2:
        says = _('the mass and the price with "at" between, such as "12.5 kg at {price}"')
        raise UnfitError(says.format(price=money_for("15", so_far.currency)))
    if not _WEIGHS.search(sides[0]):
        sides.reverse()
    return Bag(mass(sides[0]), amount_in(sides[1], so_far.currency))


def _mass_in_words(mass: Mass, _so_far: SoFar) -> str:
    """Say a mass for metric scales too: "283 g (10 oz)"."""
    return mass.to_text_in_both_units() if mass.unit in {"oz", "lb"} else mass.to_text()


def _read_size(text: str, _so_far: SoFar) -> tuple[Length, Length]:
    expected = _('the height, "x" and the width, with their unit, such as "11 x 9.5 cm"')
    tall, wide = size_in(text, expected)
    if max(tall.mm, wide.mm) > MOST_SIZE_MM:
        raise UnfitError(_("a piece that fits in a kiln: at most 2 m high and wide"))
    return tall, wide


def _read_shelf(text: str, _so_far: SoFar) -> tuple[Length, ...]:
    """Read a round shelf's diameter, or a rectangular one's width and depth; none without a kiln."""
    if text.strip().lower() in {NO_KILN, "none", "no", "no kiln of my own"}:
        return ()
    expected = _(
        '"round" and how far across, or width "x" depth, with the unit, such as "round 46 cm" or "40 x 45 cm"'
    )
    try:
        across = round_shelf_in(text)
    except UnfitError as trouble:
        raise UnfitError(expected) from trouble
    return two_lengths_in(text, expected) if across is None else (across,)


def _sides_text(sides: Sequence[Length]) -> str:
    return " x ".join(side.to_text() for side in sides)


def _shelf_text(sides: Sequence[Length]) -> str:
    return ("round " if len(sides) == 1 else "") + (_sides_text(sides) or NO_KILN)


def _read_top(text: str, _so_far: SoFar) -> Temperature:
    if re.search(r"\bcones?\b|\u25b3", text, re.IGNORECASE):
        raise UnfitError(
            _(
                "a temperature, which a cone is not: look up the end temperature on the controller of the "
                'kiln, or in the chart of the maker of the cone, such as 1000 or "1832 °F"'
            )
        )
    top = temperature(in_digits(text))
    if top.celsius < LEAST_TOP:
        raise UnfitError(_('a temperature from 500 to 1 400 °C, such as 1000 or "1832 °F"'))
    return top


BAG: Final = Reader(read=_read_bag, words=lambda bag: f"{bag.mass.to_text()} at {plain(bag.price)}")
BALL: Final = Reader(read=lambda text, _so_far: mass_in(text), words=Mass.to_text, in_words=_mass_in_words)
SHRINKAGE: Final = Reader(read=lambda text, _so_far: shrinkage_in(text), words=format_percent)
SIZE: Final = Reader(read=_read_size, words=_sides_text)
SHELF: Final = Reader(read=_read_shelf, words=_shelf_text)
HEIGHT: Final = Reader(read=lambda text, _so_far: length_in(text), words=Length.to_text)
POWER: Final = without(GAS, kilowatts_in, lambda power: f"{plain(power)} kW")
TOP: Final = Reader(read=_read_top, words=Temperature.to_text)
