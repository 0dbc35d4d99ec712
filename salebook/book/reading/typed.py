"""What people type into a cell, understood without guessing."""

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from functools import cached_property
from typing import Any, Final

from babel.numbers import get_currency_symbol, get_decimal_symbol, get_group_symbol
from openpyxl.utils.datetime import from_excel

from salebook.base.errors import UnfitError
from salebook.book.reading.raw import Percentage, SheetError
from salebook.plan import dates
from salebook.plan.dates import (
    FIRST_YEAR,
    LAST_YEAR,
    MINUTES_A_DAY,
    DayParts,
    day_parts,
    is_month_first,
    minutes_in,
)
from salebook.plan.money import MOST_IN_A_CELL, is_finer_than_coins
from salebook.plan.quantities import parse_number

MOST_COUNT: Final = 1_000_000
DAY_ZERO: Final = date(1899, 12, 30)
"""From which a spreadsheet counts days."""
FIRST_SERIAL, LAST_SERIAL = (
    (day - DAY_ZERO).days for day in (date(FIRST_YEAR, 1, 1), date(LAST_YEAR, 12, 31))
)

NOISE: Final = 1e-6
"""Minutes by which a clock time, kept as a fraction of a day, may fall short of itself."""
SPACES: Final = re.compile(r"[\s\u00a0\u2007\u2009\u202f]+")
PLAIN: Final = re.compile(r"-?[0-9]+(?:\.[0-9]+)?")
YES: Final = frozenset({"yes", "y", "x", "1", "true", "✓", "✔", "ja", "oui", "si", "sì", "sí"})


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
    """Return a number as it was typed: a spreadsheet keeps 15 digits; raises UnfitError."""
    if isinstance(value, float) and not math.isfinite(value):
        raise UnfitError
    return Decimal(value) if isinstance(value, int) else Decimal(f"{value:.15g}")


def whole(value: Any) -> int:
    """Return a whole number; raises UnfitError."""
    if isinstance(value, str) and not isinstance(value, SheetError) and PLAIN.fullmatch(tidy(value)):
        value = float(tidy(value))
    if isinstance(value, bool | Percentage) or not isinstance(value, int | float):
        raise UnfitError
    if abs(value) > MOST_COUNT or value != int(value):
        raise UnfitError
    return int(value)


def count_of(value: Any) -> int:
    """Return a whole number that is not below 0; raises UnfitError."""
    count = whole(value)
    if count < 0:
        raise UnfitError
    return count


def number_of(value: Any) -> Decimal:
    """Return a number that is not below 0, a percentage as a share; raises UnfitError."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise UnfitError
    found = exact(float(value))
    if not 0 <= found <= MOST_COUNT:
        raise UnfitError
    return found


def one_of(words: Sequence[str], value: Any) -> str:
    """Return which of some words, in small letters, a cell says; raises UnfitError."""
    said = tidy(value).lower()
    if said in words:
        return said
    raise UnfitError


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
    def _signs(self) -> tuple[str, ...]:
        signs = {
            get_currency_symbol(self.currency, self.locale),
            get_currency_symbol(self.currency, "en"),
            self.currency,
        }
        return tuple(sorted(signs, key=len, reverse=True))

    def amount(self, value: Any) -> Decimal:
        """Return an amount of money; raises UnfitError where it could be read in two ways, or in none."""
        if isinstance(value, bool | SheetError | Percentage):
            raise UnfitError
        if isinstance(value, int | float):
            found = exact(value)
        elif isinstance(value, str):
            found = self._amount_in(tidy(value))
        else:
            raise UnfitError
        if abs(found) > MOST_IN_A_CELL:
            raise UnfitError
        return found

    def _amount_in(self, text: str) -> Decimal:
        bare = self._without_sign(text)
        bare = re.sub(r"[.,][-–—]$", "", bare)
        negative = bare[:1] in {"-", "−"}
        number = parse_number(
            bare.lstrip("-−").strip(),
            point=get_decimal_symbol(self.locale),
            thousands=get_group_symbol(self.locale),
        )
        if is_finer_than_coins(number, self.currency):
            raise UnfitError
        return -number if negative else number

    def _without_sign(self, text: str) -> str:
        for sign in self._signs:
            for bare in (text.removeprefix(sign), text.removesuffix(sign)):
                if bare != text:
                    return bare.strip()
            if text.startswith(("-" + sign, "−" + sign)):
                return "-" + text[1 + len(sign) :].strip()
        return text

    def day(self, value: Any) -> date:
        """Return a day; raises UnfitError."""
        if isinstance(value, bool | SheetError):
            raise UnfitError
        if isinstance(value, int | float) and FIRST_SERIAL <= value <= LAST_SERIAL:
            value = from_excel(value)
        if isinstance(value, datetime):
            value = value.date()
        if isinstance(value, str):
            parts = day_parts(
                tidy(value), locale=self.locale, month_first=is_month_first(self.locale), strangers=1
            )
            return parts._replace(year=parts.year or self.first_day.year).to_date()
        if isinstance(value, date):
            return DayParts(value.day, value.month, value.year).to_date()
        raise UnfitError


def clock(value: Any) -> time:
    """Return a time of day; raises UnfitError."""
    if isinstance(value, datetime):
        return value.time().replace(second=0, microsecond=0)
    if isinstance(value, time):
        return value.replace(second=0, microsecond=0)
    minutes = minutes_of(value)
    if minutes == MINUTES_A_DAY:
        raise UnfitError
    return time(minutes // 60, minutes % 60)


def minutes_of(value: Any) -> int:
    """Return minutes since midnight, 24:00 among them; raises UnfitError."""
    if isinstance(value, bool | SheetError):
        raise UnfitError
    if isinstance(value, datetime):
        value = value.time() if value.year > 1901 else (value - datetime.combine(DAY_ZERO, time(0)))
    if isinstance(value, time):
        return dates.minutes_of(value)
    if isinstance(value, timedelta):
        return _minutes(value.total_seconds() / 86_400)
    if isinstance(value, int | float):
        return _minutes(float(value))
    if isinstance(value, str):
        return minutes_in(tidy(value))
    raise UnfitError


def _minutes(days: float) -> int:
    if not 0 <= days <= 1:
        raise UnfitError
    return math.floor(days * MINUTES_A_DAY + NOISE)
