"""The kinds of value that a plan is made of, each with what it accepts and how that is said."""

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import Annotated, Generic, Literal, TypeVar

from pydantic import AfterValidator, BaseModel, BeforeValidator, PlainValidator

from salebook.base.errors import UnfitError
from salebook.base.words import N_, _
from salebook.plan.dates import (
    MINUTES_A_DAY,
    DayParts,
    clock_words,
    day_parts,
    day_words,
    minutes_in,
    minutes_of,
)
from salebook.plan.keys import Kind
from salebook.plan.money import MOST_MONEY, is_currency, is_locale, locale_name
from salebook.plan.piece_numbers import numbers_in
from salebook.plan.quantities import (
    MOST_DIGITS,
    Length,
    Mass,
    Temperature,
    parse_minutes,
    parse_number,
    parse_percent,
    parse_two_lengths,
    plain,
    significant_digits,
)

MetBy = Literal["maker", "sale", "sponsor"]
"""Who bears a cost: the maker, the takings, a sponsor."""

Unit = TypeVar("Unit", Mass, Length)

LONGEST_TEXT = 200
MOST = Decimal(10) ** 9
LEAST = Decimal("0.000001")
FURTHEST_DIGIT = 20
MOST_DAYS = 366
MOST_SEEN = 100_000
MOST_STEPS = 40
MOST_RATES = 96
PER_CENT = Decimal("0.01")


@dataclass(frozen=True)
class Number:
    """Reads a number within a range; `above` leaves the lower end out.

    `say` tells which numbers fit, in English; `percent` is what one per cent is, where it may be said so.
    """

    least: Decimal | int
    most: Decimal | int
    above: bool = False
    whole: bool = False
    say: str = ""
    percent: Decimal | int | None = None

    def __call__(self, value: object) -> Decimal | int:
        """Read a number exactly; raises UnfitError."""
        if self.percent is not None and isinstance(value, str) and "%" in value:
            value = parse_percent(text(value, self.expected()), self.expected())[0] * self.percent
        number = as_number(value, self.expected())
        in_range = self.least <= number <= self.most and not (self.above and number == self.least)
        if not in_range or (self.whole and number != int(number)):
            raise UnfitError(self.expected())
        return int(number) if self.whole else number

    def expected(self) -> str:
        """Say which numbers fit."""
        if self.say:
            return _(self.say)
        says = _("a number from {least} to {most}")
        if self.whole:
            says = _("a whole number from {least} to {most}")
        return says.format(least=grouped(Decimal(self.least)), most=grouped(Decimal(self.most)))


def grouped(number: Decimal) -> str:
    """Write a number with thin groups of three where it is long: "10 000"."""
    return plain(number) if abs(number) < 10_000 else f"{number:,f}".replace(",", " ")


def as_number(value: object, expected: str) -> Decimal:
    """Return a value as an exact, finite number of at most 15 digits; raises UnfitError."""
    number = _exact(value, expected)
    if not number.is_finite():
        raise UnfitError(expected)
    if significant_digits(number) > MOST_DIGITS:
        raise UnfitError(_("a number of at most {most} digits").format(most=MOST_DIGITS))
    if number and abs(number.adjusted()) > FURTHEST_DIGIT:
        raise UnfitError(expected)
    return _without_exponent(number)


def _without_exponent(number: Decimal) -> Decimal:
    """Write out 1E+3 and drop rows of zeros, so that no later sum meets an exponent of millions."""
    if not number:
        return Decimal(0)
    ordinary = -FURTHEST_DIGIT <= int(number.as_tuple().exponent) <= 0
    return number if ordinary else Decimal(plain(number))


def _exact(value: object, expected: str) -> Decimal:
    match value:
        case bool():
            raise UnfitError(expected)
        case Decimal():
            return value
        case int() if value.bit_length() <= 64:
            return Decimal(value)
        case float():
            return Decimal(repr(value))
        case _:
            return parse_number(text(value, expected), expected)


def text(value: object, expected: str) -> str:
    """Return a text of one line, without spaces around it; raises UnfitError."""
    if not isinstance(value, str):
        raise UnfitError(expected)
    line = value.strip(" ")
    if len(line) > LONGEST_TEXT:
        raise UnfitError(_("a text of at most {most} characters").format(most=LONGEST_TEXT))
    if any(_is_control(character) for character in line):
        raise UnfitError(_("a text of one line, of letters and signs that can be printed"))
    return line.strip()


def _is_control(character: str) -> bool:
    """Whether a character ends a line, controls a device or stands in no document (XML 1.0, section 2.2)."""
    code = ord(character)
    no_character = code & 0xFFFE == 0xFFFE or 0xFDD0 <= code <= 0xFDEF
    return no_character or unicodedata.category(character) in {"Cc", "Cs", "Zl", "Zp"}


@dataclass(frozen=True)
class Word:
    """Reads a text that `fits`, spelt as its standard does; `say` tells what it looks like."""

    say: str
    fits: Callable[[str], object] = lambda _text: True
    spelt: Callable[[str], str] = str

    def __call__(self, value: object) -> str:
        """Read a text; raises UnfitError."""
        read = text(value, _(self.say))
        if not self.fits(read):
            raise UnfitError(_(self.say))
        return self.spelt(read)


any_text = Word(N_("a text in quotation marks"))
name = Word(N_("a text in quotation marks, not empty"), fits=bool)
code = Word(
    N_('a code of 1 to 6 capital letters or digits, a letter first, such as "LAN"'),
    fits=re.compile(r"[A-Z][A-Z0-9]{0,5}").fullmatch,
)
currency = Word(
    N_('a currency by its three-letter code (ISO 4217), such as "GBP", "EUR" or "USD"'),
    fits=lambda text: is_currency(text.upper()),
    spelt=str.upper,
)
locale = Word(
    N_('a language and country, such as "en_GB", "en_US" or "de_DE"'), fits=is_locale, spelt=locale_name
)


def yes_or_no(value: object) -> bool:
    """Read true or false, or the words yes and no; raises UnfitError."""
    words = {"yes": True, "no": False, "true": True, "false": False}
    read = words.get(value.strip().lower()) if isinstance(value, str) else value
    if not isinstance(read, bool):
        raise UnfitError(_("true or false"))
    return read


@dataclass(frozen=True)
class Within(Generic[Unit]):
    """Reads a mass or a length within a range, both ends in its base unit (g or mm)."""

    kind: type[Unit]
    least: Decimal | int
    most: Decimal | int
    say: str

    def __call__(self, value: object) -> Unit:
        """Read a quantity with its unit; raises UnfitError."""
        read: Unit = value if isinstance(value, self.kind) else self.kind.parse(text(value, _(self.say)))
        if not self.least <= read.base <= self.most:
            raise UnfitError(_(self.say))
        return read


def footprint_parts(value: object) -> object:
    """Turn "150 x 110 mm" into the two lengths of a footprint; records pass as they are.

    Raises UnfitError.
    """
    expected = _('the widest by the narrowest, such as "150 x 110 mm"')
    if not isinstance(value, str):
        return value if isinstance(value, BaseModel) else _unfit(expected)
    written = text(value, expected)
    try:
        sides = parse_two_lengths(written)
    except UnfitError as trouble:
        raise UnfitError(expected) from trouble
    narrowest, widest = sorted((length(side) for side in sides), key=lambda side: side.mm)
    return {"widest": widest, "narrowest": narrowest}


@dataclass(frozen=True)
class Pair:
    """Turns a list of two into the parts of a record that has these keys; `say` tells what it looks like."""

    keys: tuple[str, str]
    say: str

    def __call__(self, value: object) -> object:
        """Return the parts; records pass as they are.

        Raises UnfitError.
        """
        if isinstance(value, list | tuple) and len(value) == 2:
            return dict(zip(self.keys, value, strict=True))
        return value if isinstance(value, BaseModel) else _unfit(_(self.say))


demand_parts = Pair(
    ("price", "share"), N_("a price and the share expected to sell at it, such as [28, 0.85]")
)
seen_parts = Pair(
    ("lost", "entered"), N_("pieces lost and pieces that went in, such as [5, 44] for 5 lost of 44")
)


def piece_numbers(value: object) -> tuple[str, ...]:
    """Read the numbers of pieces, a text or a list of texts; raises UnfitError."""
    written = value if isinstance(value, list | tuple) else (value,)
    return numbers_in(", ".join(one if isinstance(one, str) else "?" for one in written))


def _unfit(expected: str) -> object:
    raise UnfitError(expected)


def day(value: object) -> date:
    """Read a date: TOML's own, a spreadsheet's midnight, or a text; raises UnfitError."""
    if isinstance(value, str):
        return day_parts(value).to_date()
    if not isinstance(value, date) or (isinstance(value, datetime) and value.time() != time(0)):
        raise UnfitError(day_words())
    return DayParts(value.day, value.month, value.year).to_date()


def in_order(days: tuple[date, ...]) -> tuple[date, ...]:
    """Put dates in the order of the calendar, each once; raises UnfitError."""
    if len(set(days)) < len(days):
        raise UnfitError(_("each date once"))
    return tuple(sorted(days))


@dataclass(frozen=True)
class Listed:
    """Lets a list of one to `most` things pass, whatever they are."""

    most: int
    say: str

    def __call__(self, value: object) -> object:
        """Return the list as it is; raises UnfitError for anything else."""
        if isinstance(value, list | tuple) and 1 <= len(value) <= self.most:
            return value
        raise UnfitError(_(self.say))


def clock_minutes(value: object) -> int:
    """Read a clock time as minutes since midnight, from 0 to 24:00 = 1440; raises UnfitError."""
    if isinstance(value, time):
        return minutes_of(value)
    if isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= MINUTES_A_DAY:
        return value
    return minutes_in(text(value, clock_words()))


def clock_start(value: object) -> int:
    """Read the clock time at which something starts, where 24:00 is midnight, 0; raises UnfitError."""
    return clock_minutes(value) % MINUTES_A_DAY


def clock(value: object) -> time:
    """Read a clock time; 24:00 is midnight; raises UnfitError."""
    hours, minutes = divmod(clock_start(value), 60)
    return time(hours, minutes)


def minutes(value: object) -> Decimal:
    """Read a duration in minutes, at most two days; raises UnfitError."""
    read = Number(0, 2880, say=N_('minutes from 0 to 2 880, such as 15, or "2 h 30 min"'))
    return Decimal(read(parse_minutes(text(value, read.expected())) if isinstance(value, str) else value))


def temperature(value: object) -> Temperature:
    """Read a temperature that a kiln can have, in °C where no unit is given; raises UnfitError."""
    expected = _('a temperature from -20 to 1 400 °C, such as 1000 or "1832 °F"')
    if isinstance(value, str):
        value = Temperature.parse(text(value, expected))
    read = value if isinstance(value, Temperature) else Temperature(as_number(value, expected), "C")
    if not -20 <= read.celsius <= 1400:
        raise UnfitError(expected)
    return read


length = Within(
    Length,
    1,
    10_000,
    N_('a length with its unit, from 1 mm to 10 m, such as "160 mm", "16 cm" or "6 1/4 in"'),
)
distance = Within(
    Length, 0, 10_000, N_('a length with its unit, from 0 mm to 10 m, such as "15 mm" or "1/2 in"')
)
mass = Within(
    Mass,
    Decimal("0.1"),
    10_000_000,
    N_('a mass with its unit, from 0.1 g to 10 000 kg, such as "340 g", "12.5 kg" or "1 lb 4 oz"'),
)
money = Number(0, MOST_MONEY, say=N_("an amount of money, 0 or more, such as 35 or 15.40"))
price = Number(0, MOST_MONEY, above=True, say=N_("an amount of money above 0, such as 28 or 12.50"))
share = Number(0, 1, percent=PER_CENT, say=N_("a share from 0 to 1, such as 0.9 for nine in ten"))
loss = Number(
    0,
    Decimal("0.95"),
    percent=PER_CENT,
    say=N_("a share from 0 to 0.95, such as 0.03 for three in a hundred"),
)
shrinkage = Number(
    0, Decimal("0.4"), percent=PER_CENT, say=N_("a share from 0 to 0.4, such as 0.12 for twelve in a hundred")
)
days = Listed(MOST_DAYS, N_("one or more dates in brackets, such as [2027-06-12]"))
steps = Listed(MOST_STEPS, N_("one to forty steps in brackets, such as [{ rate = 100, to = 600 }]"))
rates = Listed(
    MOST_RATES,
    N_('one or more rates in brackets, such as [{ from = "00:00", to = "24:00", price = 0.27 }]'),
)

Name = Annotated[str, PlainValidator(name), Kind.TEXT]
Text = Annotated[str, PlainValidator(any_text), Kind.TEXT]
Line = Annotated[str, PlainValidator(any_text), Kind.WORD]
ClayName = Annotated[str, PlainValidator(name), Kind.CLAY]
Code = Annotated[str, PlainValidator(code), Kind.WORD]
Codes = Annotated[tuple[Code, ...], Kind.CODES]
PieceNumbers = Annotated[tuple[str, ...], PlainValidator(piece_numbers), Kind.PIECES]
CurrencyCode = Annotated[str, PlainValidator(currency), Kind.WORD]
LocaleName = Annotated[str, PlainValidator(locale), Kind.WORD]
YesNo = Annotated[bool, PlainValidator(yes_or_no), Kind.YES_NO]
Day = Annotated[date, PlainValidator(day), Kind.DAY]
Days = Annotated[tuple[Day, ...], BeforeValidator(days), AfterValidator(in_order)]
Clock = Annotated[time, PlainValidator(clock), Kind.CLOCK]
ClockStart = Annotated[int, PlainValidator(clock_start), Kind.CLOCK]
ClockMinutes = Annotated[int, PlainValidator(clock_minutes), Kind.CLOCK]
Minutes = Annotated[Decimal, PlainValidator(minutes), Kind.NUMBER]
FiringTemperature = Annotated[Temperature, PlainValidator(temperature), Kind.TEMPERATURE]

Money = Annotated[Decimal, PlainValidator(money), Kind.MONEY]
Price = Annotated[Decimal, PlainValidator(price), Kind.MONEY]
Coins = Annotated[tuple[Price, ...], Kind.COINS]
Rate = Annotated[Decimal, PlainValidator(Number(0, MOST)), Kind.RATE]
Share = Annotated[Decimal, PlainValidator(share), Kind.SHARE]
Loss = Annotated[Decimal, PlainValidator(loss), Kind.SHARE]
Shrinkage = Annotated[Decimal, PlainValidator(shrinkage), Kind.FINE_SHARE]
Confidence = Annotated[
    Decimal, PlainValidator(Number(Decimal("0.5"), Decimal("0.999"), percent=PER_CENT)), Kind.SHARE
]
Waste = Annotated[Decimal, PlainValidator(Number(0, 2, percent=PER_CENT)), Kind.SHARE]
DryFraction = Annotated[Decimal, PlainValidator(Number(Decimal("0.5"), 1, percent=PER_CENT)), Kind.SHARE]
Efficiency = Annotated[Decimal, PlainValidator(Number(PER_CENT, 1, percent=PER_CENT)), Kind.NUMBER]
OnShare = Annotated[Decimal, PlainValidator(Number(PER_CENT, 1, percent=PER_CENT)), Kind.SHARE]
Percent = Annotated[Decimal, PlainValidator(Number(0, 100, percent=1)), Kind.NUMBER]
Factor = Annotated[Decimal, PlainValidator(Number(0, 10, percent=PER_CENT)), Kind.NUMBER]
Room = Annotated[Decimal, PlainValidator(Number(-20, 60)), Kind.NUMBER]
HeatingRate = Annotated[Decimal, PlainValidator(Number(1, 2000)), Kind.NUMBER]
Positive = Annotated[Decimal, PlainValidator(Number(LEAST, MOST)), Kind.NUMBER]
NotNegative = Annotated[Decimal, PlainValidator(Number(0, MOST)), Kind.NUMBER]

Parts = Annotated[int, PlainValidator(Number(1, 1_000_000, whole=True)), Kind.WHOLE]
SeenCount = Annotated[Decimal, PlainValidator(Number(0, MOST_SEEN)), Kind.NUMBER]
Wanted = Annotated[int, PlainValidator(Number(1, 10_000, whole=True)), Kind.WHOLE]
PositiveCount = Annotated[int, PlainValidator(Number(1, 1_000, whole=True)), Kind.WHOLE]
TypedCount = Annotated[PositiveCount, Kind.NUMBER]
PerShelf = Annotated[int, PlainValidator(Number(1, 1_000, whole=True)), Kind.WHOLE]
Count = Annotated[int, PlainValidator(Number(0, 10_000, whole=True)), Kind.WHOLE]
WholeDays = Annotated[int, PlainValidator(Number(0, 365, whole=True)), Kind.WHOLE]

PositiveMass = Annotated[Mass, PlainValidator(mass), Kind.MASS]
PositiveLength = Annotated[Length, PlainValidator(length), Kind.LENGTH]
NotNegativeLength = Annotated[Length, PlainValidator(distance), Kind.LENGTH]
