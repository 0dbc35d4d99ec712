"""Masses, lengths, temperatures and durations as people write them, as exact numbers with a unit."""

import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal
from fractions import Fraction
from typing import ClassVar, Self

from salebook.base.errors import UnfitError
from salebook.base.words import N_, _
from salebook.plan.money import rounded

GRAMS_PER = {
    "g": Decimal(1),
    "kg": Decimal(1000),
    "oz": Decimal("28.349523125"),
    "lb": Decimal("453.59237"),
}
"""Grams in one unit of mass; the pound is exactly 0.45359237 kg (NIST Handbook 44, Appendix C)."""

MILLIMETRES_PER = {"mm": Decimal(1), "cm": Decimal(10), "m": Decimal(1000), "in": Decimal("25.4")}
"""Millimetres in one unit of length; the inch is exactly 25.4 mm (NIST Handbook 44, Appendix C)."""

MINUTES_PER = {"min": Decimal(1), "h": Decimal(60)}
"""Minutes in one unit of time."""

OUNCES_PER_POUND, INCHES_PER_FOOT = 16, 12

MOST_DIGITS = 15
"""Significant digits that are kept: as many as a spreadsheet keeps."""

_MASS_WORDS = {
    "g": ("g", "gram", "grams", "gramme", "grammes"),
    "kg": ("kg", "kgs", "kilo", "kilos", "kilogram", "kilograms", "kilogramme", "kilogrammes"),
    "oz": ("oz", "ozs", "ounce", "ounces"),
    "lb": ("lb", "lbs", "pound", "pounds"),
}
_LENGTH_WORDS = {
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "cm": ("cm", "cms", "centimetre", "centimetres", "centimeter", "centimeters"),
    "m": ("m", "metre", "metres", "meter", "meters"),
    "ft": ("ft", "foot", "feet", "'", "′"),
    "in": ("in", "ins", "inch", "inches", '"', "″", "”", "''"),
}
_TIME_WORDS = {
    "min": ("min", "mins", "minute", "minutes"),
    "h": ("h", "hr", "hrs", "hour", "hours"),
}
_DEGREE_WORDS = {
    "C": ("c", "°c", "° c", "ºc", "º c", "℃", "celsius", "degrees c", "degrees celsius", "°", "º"),
    "F": ("f", "°f", "° f", "ºf", "º f", "℉", "fahrenheit", "degrees f", "degrees fahrenheit"),
}

_FIFTEEN = Context(prec=MOST_DIGITS, rounding=ROUND_HALF_UP)
_PART = re.compile(
    r"""
    (?: (?P<decimal> [0-9]+ (?: [.,][0-9]+ )? | \.[0-9]+ )
      | (?: (?P<whole> [0-9]+ ) [ -]? )? (?P<vulgar> [¼-¾⅐-⅞] )
      | (?: (?P<whole_before> [0-9]+ ) [ -] )? (?P<above> [0-9]+ ) [ ]?[/⁄][ ]? (?P<below> [0-9]+ )
    )
    (?! [0-9.,/⁄¼-¾⅐-⅞] ) [ ]? (?P<unit> [^\W\d_¼-¾⅐-⅞]+ | ["″”] | '' | ['′] ) \.? (?: ,?[ ]* | $ )
    """,
    re.VERBOSE,
)
_THOUSANDS = re.compile(
    r"""
    (?<! [0-9.,/] ) (?P<whole> [1-9][0-9]{0,2} (?P<mark> [ '’.,] ) [0-9]{3} (?: (?P=mark) [0-9]{3} )* )
    (?: (?! (?P=mark) ) [.,] (?P<rest> [0-9]+ ) )? (?! [0-9/] | [.,'’][0-9] )
    """,
    re.VERBOSE,
)
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:[.,][0-9]+)?|\.[0-9]+)")
_NUMBER_ALONE = re.compile(r"[0-9.,/½¼¾ ]+")
_UNIT_BEHIND = re.compile(r"[^0-9.,/½¼¾ ][^0-9/½¼¾]*$")
_FEET_AND_INCHES = re.compile(r"(?:\bft\.?|foot|feet|(?<!')['′]),? ?[0-9]+$", re.IGNORECASE)
_BETWEEN_SIDES = re.compile(r"\s*(?:[x×X*]|\bby\b|\band\b)\s*")
_TEMPERATURE = re.compile(r"(?P<number>[+-]?[0-9.,]+) ?(?P<unit>\D*)")
_PERCENT = re.compile(r"(?P<number>[0-9.,]+) ?(?P<sign>%|per ?cent)?", re.IGNORECASE)


def plain(number: Decimal) -> str:
    """Write a number without an exponent and without zeros at the end: "12.5", "1000"."""
    text = format(number, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def parse_number(text: str, expected: str = "", *, point: str = ".", thousands: str = "") -> Decimal:
    """Read a number with a decimal point or a decimal comma, and with marks between its thousands or without.

    A lone point or comma before three digits may be either: it is a decimal one where it is the `point`,
    stands between thousands where it is one of `thousands`, and is refused elsewhere. `expected` says which
    number fits. Raises UnfitError, also for more than 15 digits.
    """
    tidy = _tidy(text, point, thousands)
    if not _NUMBER.fullmatch(tidy):
        raise UnfitError(expected or _("a plain number, such as 12.5"))
    number = Decimal(tidy.replace(",", "."))
    if significant_digits(number) > MOST_DIGITS:
        raise UnfitError(_("a number of at most {most} digits").format(most=MOST_DIGITS))
    return number


def parse_percent(text: str, expected: str) -> tuple[Decimal, bool]:
    """Read a number, and whether a sign or words for per cent stand behind it; raises UnfitError."""
    found = _PERCENT.fullmatch(text.strip())
    if found is None:
        raise UnfitError(expected)
    return parse_number(found["number"], expected), bool(found["sign"])


def significant_digits(number: Decimal) -> int:
    """Count the digits from the first to the last that is not 0."""
    digits = "".join(map(str, number.as_tuple().digits)).strip("0")
    return len(digits)


@dataclass(frozen=True, eq=False)
class Quantity:
    """An amount as it was said, with its unit; equal to any other of its kind that is as much."""

    amount: Decimal
    unit: str

    sizes: ClassVar[Mapping[str, Decimal]]
    """How many of the kind's own unit, g or mm, each unit is."""
    words: ClassVar[Mapping[str, tuple[str, ...]]]
    expected: ClassVar[str]

    @property
    def base(self) -> Decimal:
        """The amount in the kind's own unit: g, mm or °C, exact."""
        return self.amount * self.sizes[self.unit]

    def __eq__(self, other: object) -> bool:
        return isinstance(other, type(self)) and self.base == other.base

    def __hash__(self) -> int:
        return hash(self.base)

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read an amount with its unit; one of several parts is kept in its smallest unit.

        Raises UnfitError.
        """
        return cls(*_parsed(text, words=cls.words, sizes=cls.sizes, expected=_(cls.expected)))

    def to_text(self) -> str:
        """Say it in its own unit: "12 oz"."""
        return f"{plain(self.amount)} {self.unit}"


class Mass(Quantity):
    """A mass, such as "283 g", "1 lb 4 oz" or "½ lb"."""

    sizes = GRAMS_PER
    words = _MASS_WORDS
    expected = N_('a mass with its unit, such as "340 g", "12.5 kg", "12 oz" or "1 lb 4 oz"')

    @property
    def g(self) -> Decimal:
        """Grams, exact."""
        return self.base

    @property
    def kg(self) -> Decimal:
        """Kilograms, exact."""
        return self.g / 1000

    @property
    def oz(self) -> Decimal:
        """Ounces (avoirdupois)."""
        return self.amount if self.unit == "oz" else self.g / GRAMS_PER["oz"]

    def to_text_in_both_units(self) -> str:
        """Say the mass for either kind of scales, to what one can weigh out: "340 g (12 oz)"."""
        return f"{self._metric_text()} ({self._pounds_text()})"

    def _metric_text(self) -> str:
        grams = rounded(self.g, 0 if self.g >= 10 else 1)
        return f"{plain(rounded(self.kg, 2))} kg" if grams >= 1000 else f"{plain(grams)} g"

    def _pounds_text(self) -> str:
        ounces = rounded(self.oz, 1 if self.oz < 10 * OUNCES_PER_POUND else 0)
        pounds, rest = divmod(ounces, OUNCES_PER_POUND)
        said = [f"{plain(pounds)} lb"] if pounds else []
        return " ".join(said + ([f"{plain(rest)} oz"] if rest or not pounds else []))


class Length(Quantity):
    """A length, such as "160 mm", "16 cm" or "6 1/4 in"; feet are put into inches."""

    sizes: ClassVar = {**MILLIMETRES_PER, "ft": INCHES_PER_FOOT * MILLIMETRES_PER["in"]}
    words = _LENGTH_WORDS
    expected = N_('a length with its unit, such as "160 mm", "16 cm" or "6 1/4 in"')

    @property
    def mm(self) -> Decimal:
        """Millimetres, exact."""
        return self.base

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read a length; behind feet a number without a unit is inches. Raises UnfitError."""
        read = super().parse(f"{text} in" if _FEET_AND_INCHES.search(text) else text)
        return cls(INCHES_PER_FOOT * read.amount, "in") if read.unit == "ft" else read


class Temperature(Quantity):
    """A temperature in "C" or "F"."""

    @property
    def base(self) -> Decimal:
        """Degrees Celsius."""
        return self.amount if self.unit == "C" else (self.amount - 32) * 5 / 9

    celsius = base

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read a temperature such as "1832 F" or "1000 °C"; a number without a unit is °C.

        Raises UnfitError, saying what was expected.
        """
        expected = _('a temperature, such as 1000, "1000 °C" or "1832 °F"')
        found = _TEMPERATURE.fullmatch(_tidy(text))
        if found is None:
            raise UnfitError(expected)
        unit = _unit_of(found["unit"].strip() or "c", _DEGREE_WORDS, expected)
        return cls(parse_number(found["number"], expected), unit)

    def to_text(self) -> str:
        """Say the temperature on its own scale: "1832 °F"."""
        return f"{plain(self.amount)} °{self.unit}"


def mm(amount: Decimal | int | str) -> Length:
    """Return a length in millimetres."""
    return Length(Decimal(amount), "mm")


def parse_two_lengths(text: str) -> tuple[Length, Length]:
    """Read two lengths such as "150 x 110 mm" or "15 cm by 11 cm", in the order in which they are said.

    Raises UnfitError, saying what was expected.
    """
    sides = _BETWEEN_SIDES.split(text.strip())
    if len(sides) != 2:
        raise UnfitError(_('two lengths, such as "150 x 110 mm"'))
    return lengths_together(*sides)


def lengths_together(one: str, other: str) -> tuple[Length, Length]:
    """Read two lengths, of which one may leave its unit to the other.

    Raises UnfitError, saying what was expected.
    """
    return Length.parse(_with_unit_of(other, one)), Length.parse(_with_unit_of(one, other))


def _with_unit_of(other: str, text: str) -> str:
    unit = _UNIT_BEHIND.search(other)
    return f"{text} {unit[0]}" if unit and _NUMBER_ALONE.fullmatch(text) else text


def parse_minutes(text: str) -> Decimal:
    """Read a duration such as "2 h 30 min" or "45 min" in minutes; a number without a unit is minutes.

    Raises UnfitError, saying what was expected.
    """
    if _NUMBER.fullmatch(_tidy(text)):
        return parse_number(text)
    expected = _('a duration, such as 45, "45 min" or "2 h 30 min"')
    amount, unit = _parsed(text, words=_TIME_WORDS, sizes=MINUTES_PER, expected=expected)
    return amount * MINUTES_PER[unit]


def _tidy(text: str, point: str = ".", thousands: str = "") -> str:
    """Return a text without marks between thousands; raises UnfitError where one may be a decimal mark."""

    def without_marks(number: re.Match[str]) -> str:
        mark, rest = number["mark"], number["rest"]
        if mark in ".," and not rest and number["whole"].count(mark) == 1:
            if mark == point:
                return number[0]
            if mark not in thousands:
                raise UnfitError(_("a number that reads one way only: 1000 or 1.000, not 1,000"))
        return number["whole"].replace(mark, "") + (f".{rest}" if rest else "")

    return _THOUSANDS.sub(without_marks, " ".join(text.split()).replace("−", "-"))


def _parsed(
    text: str, *, words: Mapping[str, tuple[str, ...]], sizes: Mapping[str, Decimal], expected: str
) -> tuple[Decimal, str]:
    """Add up the parts of a quantity in the unit of its last part, which must be its smallest."""
    parts = [(value, _unit_of(unit, words, expected)) for value, unit in _parts(_tidy(text), expected)]
    in_order = sorted(parts, key=lambda part: -sizes[part[1]])
    if not parts or parts != in_order or len({unit for _value, unit in parts}) < len(parts):
        raise UnfitError(expected)
    smallest = parts[-1][1]
    total = sum(value * Fraction(sizes[unit]) / Fraction(sizes[smallest]) for value, unit in parts)
    return _decimal(Fraction(total)), smallest


def _parts(text: str, expected: str) -> Iterator[tuple[Fraction, str]]:
    start = 0
    while start < len(text):
        part = _PART.match(text, start)
        if part is None:
            raise UnfitError(expected)
        yield _value(part, expected), part["unit"]
        start = part.end()


def _value(part: re.Match[str], expected: str) -> Fraction:
    if part["decimal"]:
        return Fraction(parse_number(part["decimal"]))
    whole = Fraction(part["whole"] or part["whole_before"] or 0)
    if part["vulgar"]:
        return whole + Fraction(unicodedata.numeric(part["vulgar"])).limit_denominator(10)
    if int(part["below"]) == 0:
        raise UnfitError(expected)
    return whole + Fraction(int(part["above"]), int(part["below"]))


def _unit_of(word: str, words: Mapping[str, tuple[str, ...]], expected: str) -> str:
    for unit, spellings in words.items():
        if word.lower() in spellings:
            return unit
    raise UnfitError(expected)


def _decimal(value: Fraction) -> Decimal:
    """Turn a fraction into a decimal of at most 15 digits."""
    return _FIFTEEN.divide(Decimal(value.numerator), Decimal(value.denominator))
