"""What people type into a cell, understood without guessing."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import cached_property, lru_cache
from typing import Any, Final

from babel import Locale
from babel.dates import get_date_format, get_month_names
from babel.numbers import get_currency_symbol, get_decimal_symbol, get_group_symbol
from openpyxl.utils.datetime import from_excel

from salebook.book.reading.raw import Percentage, SheetError
from salebook.plan.money import minor_digits

MOST_MONEY: Final = Decimal(10) ** 9
"""Of one cell: ten thousand of them still make a sum that a spreadsheet holds to the last coin."""
MOST_COUNT: Final = 1_000_000
FIRST_YEAR, LAST_YEAR = 2000, 2199
FIRST_SERIAL, LAST_SERIAL = 36_526, 109_574
"""1 January 2000 and 31 December 2199 as a spreadsheet counts days."""

NOISE: Final = 1e-6
"""Minutes by which a clock time, kept as a fraction of a day, may fall short of itself."""
SPACES: Final = re.compile(r"[\s\u00a0\u2007\u2009\u202f]+")
PLAIN: Final = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
ENGLISH_MONTHS: Final = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
CLOCK: Final = re.compile(r"([0-9]{1,2})(?:[:.h]([0-9]{2})(?:[:.][0-9]{2})?)? ?(am|pm|a\.m\.|p\.m\.)?h?")
YES: Final = frozenset({"yes", "y", "x", "1", "true", "✓", "✔", "ja", "oui", "si", "sì", "sí"})


class UnreadError(ValueError):
    """What was typed cannot be understood with certainty."""


def tidy(value: Any) -> str:
    """Return what was typed as text, without spaces around it and with single ones within."""
    if value is None:
        return ""
    if isinstance(value, str):
        return SPACES.sub(" ", value).strip()
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and not isinstance(value, Percentage):
        return str(int(value)) if value.is_integer() else f"{value:.15g}"
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time(0) else value.isoformat(" ")
    return str(value)


def till_of(value: Any, usual: str) -> str:
    """Return a table's number; what is none, such as a note typed beside it, means the usual table."""
    said = tidy(value)
    return said if said.isdecimal() else usual


def text(value: Any) -> str:
    """Return a text as it was typed, without spaces around it: within it any space may be meant."""
    return value.strip() if isinstance(value, str) else tidy(value)


def exact(value: float) -> Decimal:
    """Return a number as it was typed: a spreadsheet keeps 15 digits; raises UnreadError."""
    if isinstance(value, float) and not math.isfinite(value):
        raise UnreadError
    return Decimal(value) if isinstance(value, int) else Decimal(f"{value:.15g}")


def whole(value: Any) -> int:
    """Return a whole number; raises UnreadError."""
    if isinstance(value, str) and not isinstance(value, SheetError) and PLAIN.fullmatch(tidy(value)):
        value = float(tidy(value))
    if isinstance(value, bool | Percentage) or not isinstance(value, int | float):
        raise UnreadError
    if abs(value) > MOST_COUNT or value != int(value):
        raise UnreadError
    return int(value)


def count_of(value: Any) -> int:
    """Return a whole number that is not below 0; raises UnreadError."""
    count = whole(value)
    if count < 0:
        raise UnreadError
    return count


def one_of(words: Sequence[str], value: Any) -> str:
    """Return which of some words, in small letters, a cell says; raises UnreadError."""
    said = tidy(value).lower()
    if said in words:
        return said
    raise UnreadError


def is_yes(value: Any) -> tuple[bool, bool]:
    """Return whether a cell means yes, as the sheet takes it, and whether that is certain."""
    said = tidy(value).lower()
    if said in {"", "no"}:
        return False, True
    return True, said in YES


@dataclass(frozen=True, kw_only=True)
class CellParser:
    """How amounts and dates are written where the sale is held."""

    locale: str
    currency: str
    first_day: date

    @cached_property
    def _digits(self) -> int:
        return minor_digits(self.currency)

    @cached_property
    def _signs(self) -> tuple[str, ...]:
        signs = {
            get_currency_symbol(self.currency, self.locale),
            get_currency_symbol(self.currency, "en"),
            self.currency,
        }
        return tuple(sorted(signs, key=len, reverse=True))

    @cached_property
    def _decimal(self) -> str:
        return get_decimal_symbol(self.locale)

    @cached_property
    def _groups(self) -> frozenset[str]:
        group = get_group_symbol(self.locale)
        alike = next((signs for signs in ("'’", " \u202f\u00a0") if group in signs), group)
        return frozenset(alike)

    def amount(self, value: Any) -> Decimal:
        """Return an amount of money; raises UnreadError where it could be read in two ways, or in none."""
        if isinstance(value, bool | SheetError | Percentage):
            raise UnreadError
        if isinstance(value, int | float):
            found = exact(value)
        elif isinstance(value, str):
            found = self._amount_in(tidy(value))
        else:
            raise UnreadError
        if abs(found) > MOST_MONEY:
            raise UnreadError
        return found

    def _amount_in(self, text: str) -> Decimal:
        bare = self._without_sign(text)
        bare = re.sub(r"[.,][-–—]$", "", bare)
        negative = bare[:1] in {"-", "−"}
        number = self._number_in(bare.lstrip("-−").strip())
        if -int(number.as_tuple().exponent) > self._digits and number != round(number, self._digits):
            raise UnreadError
        return -number if negative else number

    def _without_sign(self, text: str) -> str:
        for sign in self._signs:
            for bare in (text.removeprefix(sign), text.removesuffix(sign)):
                if bare != text:
                    return bare.strip()
            if text.startswith(("-" + sign, "−" + sign)):
                return "-" + text[1 + len(sign) :].strip()
        return text

    def _number_in(self, text: str) -> Decimal:
        """Read digits with marks between them; a single mark is a decimal one unless three digits follow."""
        marks = re.findall(r"[^0-9]", text)
        if not re.fullmatch(r"[0-9]+(?:[.,'’ ][0-9]+)*", text.replace("\u202f", " ")):
            raise UnreadError
        if not marks:
            return Decimal(text)
        last = len(text) - text.rfind(marks[-1]) - 1
        if len(marks) == 1 and marks[0] in ".," and last != 3:
            return Decimal(text.replace(marks[0], "."))
        is_decimal = marks[-1] == self._decimal and marks.count(marks[-1]) == 1
        return self._grouped(text, marks[:-1] if is_decimal else marks, marks[-1] if is_decimal else "")

    def _grouped(self, text: str, groups: Sequence[str], decimal: str) -> Decimal:
        if len(set(groups)) > 1 or not set(groups) <= self._groups:
            raise UnreadError
        before, _mark, after = text.partition(decimal) if decimal else (text, "", "")
        parts = re.split(r"[^0-9]", before)
        if not 1 <= len(parts[0]) <= 3 and len(parts) > 1:
            raise UnreadError
        if any(len(part) != 3 for part in parts[1:]):
            raise UnreadError
        return Decimal("".join(parts) + ("." + after if after else ""))

    def day(self, value: Any) -> date:
        """Return a day; raises UnreadError."""
        if isinstance(value, bool | SheetError):
            raise UnreadError
        if isinstance(value, int | float) and FIRST_SERIAL <= value <= LAST_SERIAL:
            value = from_excel(value)
        if isinstance(value, datetime):
            value = value.date()
        if isinstance(value, str):
            value = self._day_in(tidy(value).lower())
        if isinstance(value, date) and FIRST_YEAR <= value.year <= LAST_YEAR:
            return value
        raise UnreadError

    def _day_in(self, text: str) -> date:
        words = [word for word in re.split(r"[\s,./\-]+", text) if word]
        numbers = [word for word in words if re.fullmatch(r"[0-9]{1,4}(?:st|nd|rd|th)?", word)]
        months = [month for word in words if (month := self._month(word))]
        others = len(words) - len(numbers) - len(months)
        values = [int(re.sub(r"[a-z]", "", number)) for number in numbers]
        if len(months) > 1 or others > 1 or (others and not months):
            raise UnreadError
        if months:
            return self._of_parts(values, month=months[0])
        return self._of_numbers(values, [len(number) for number in numbers])

    def _month(self, word: str) -> int:
        return _months(self.locale).get(word, 0)

    def _of_parts(self, values: Sequence[int], *, month: int) -> date:
        if len(values) == 1:
            return _day(self.first_day.year, month, values[0])
        if len(values) != 2:
            raise UnreadError
        year, day = max(values), min(values)
        return _day(year if year > 99 else 2000 + year, month, day)

    def _of_numbers(self, values: Sequence[int], lengths: Sequence[int]) -> date:
        if len(values) == 3 and lengths[0] == 4:
            return _day(*values)
        if len(values) not in {2, 3}:
            raise UnreadError
        first, second = values[:2]
        day, month = (first, second) if self._day_comes_first else (second, first)
        year = values[2] if len(values) == 3 else self.first_day.year
        return _day(year if year > 99 else 2000 + year, month, day)

    @cached_property
    def _day_comes_first(self) -> bool:
        pattern = get_date_format("short", locale=Locale.parse(self.locale)).pattern
        return pattern.find("d") < pattern.find("M")


def _day(year: int, month: int, day: int) -> date:
    try:
        return date(year, month, day)
    except ValueError as trouble:
        raise UnreadError from trouble


@lru_cache
def _months(locale: str) -> dict[str, int]:
    """Return the number of each month by its names, long and short, in the locale's language and English."""
    found = {name: n for n, name in enumerate(ENGLISH_MONTHS, start=1)}
    found |= {name[:3]: n for name, n in found.items()}
    for width in ("wide", "abbreviated"):
        names = get_month_names(width, locale=locale)
        found |= {str(name).lower().rstrip("."): number for number, name in names.items()}
    return found


def clock(value: Any) -> time:
    """Return a time of day; raises UnreadError."""
    if isinstance(value, datetime):
        return value.time().replace(second=0, microsecond=0)
    if isinstance(value, time):
        return value.replace(second=0, microsecond=0)
    minutes = minutes_of(value)
    if not 0 <= minutes < 24 * 60:
        raise UnreadError
    return time(minutes // 60, minutes % 60)


def minutes_of(value: Any) -> int:
    """Return minutes since midnight, 24:00 among them; raises UnreadError."""
    if isinstance(value, bool | SheetError):
        raise UnreadError
    if isinstance(value, datetime):
        value = value.time() if value.year > 1901 else (value - datetime(1899, 12, 30))
    if isinstance(value, time):
        return value.hour * 60 + value.minute
    if isinstance(value, timedelta):
        return _minutes(value.total_seconds() / 86_400)
    if isinstance(value, int | float):
        return _minutes(float(value))
    if isinstance(value, str):
        return _minutes_in(tidy(value).lower())
    raise UnreadError


def _minutes(days: float) -> int:
    if not 0 <= days <= 1:
        raise UnreadError
    return math.floor(days * 24 * 60 + NOISE)


def _minutes_in(text: str) -> int:
    found = CLOCK.fullmatch(text)
    if found is None or (found[2] is None and found[3] is None):
        raise UnreadError
    hour, minute = int(found[1]), int(found[2] or 0)
    if found[3]:
        if not 1 <= hour <= 12:
            raise UnreadError
        hour = hour % 12 + (12 if found[3].startswith("p") else 0)
    if minute > 59 or hour * 60 + minute > 24 * 60:
        raise UnreadError
    return hour * 60 + minute
