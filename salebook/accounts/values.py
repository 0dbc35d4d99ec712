"""One way to write each value of the list, also when a spreadsheet program has rewritten it."""

import re
import unicodedata
from collections.abc import Iterable
from datetime import date
from typing import Final

from salebook.base.csv_text import FORMULA_SIGNS

TRIMMED: Final = " \t\r\n"
"""By name: what Python takes for space by itself is more than what JavaScript does."""

MOST_WHOLE_DIGITS: Final = 15
"""More money than anybody has; longer ones no program reads exactly."""
NOISE_ABOVE: Final = "000000"
NOISE_BELOW: Final = "999999"
"""What stands behind the last digit where a program wrote -3.63 as -3.6300000000000000001."""

_GUARD = re.compile(f"^'+(?=[{re.escape(FORMULA_SIGNS)}])")
_BETWEEN_DIGITS = re.compile("(?<=[0-9])[ \u00a0\u202f\u2009'’](?=[0-9])")
_AMOUNT = re.compile(r"(-?)([0-9][0-9.,]*|[.,][0-9]+)")
_YEAR_FIRST = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})")
_YEAR_LAST = re.compile(r"([0-9]{1,2})[-/.]([0-9]{1,2})[-/.]([0-9]{4}|[0-9]{2})")


def tidy(text: str) -> str:
    """Return a text in composed letters (NFC), trimmed, without apostrophes that guard against a formula."""
    return _GUARD.sub("", unicodedata.normalize("NFC", text).strip(TRIMMED))


def amount_text(found: str, digits: int) -> str | None:
    """Return an amount with a point and so many digits; None where it cannot be read as one."""
    match = _AMOUNT.fullmatch(_BETWEEN_DIGITS.sub("", found).replace("\N{MINUS SIGN}", "-"))
    parts = _whole_and_rest(match[2], digits) if match else None
    if match is None or parts is None:
        return None
    units = _units(parts[0], parts[1].ljust(digits, "0"), digits)
    if units is None:
        return None
    written = f"{units:0{digits + 1}d}"
    written = f"{written[:-digits]}.{written[-digits:]}" if digits else written
    return f"{match[1]}{written}" if units else written


def _units(whole: str, rest: str, digits: int) -> int | None:
    """Return an amount in smallest units; None where it is finer than that, noise of a program forgiven."""
    whole = whole.lstrip("0")
    if len(whole) > MOST_WHOLE_DIGITS:
        return None
    units, finer = int(whole + rest[:digits] or "0"), rest[digits:].rstrip("0")
    if not finer or finer.startswith(NOISE_ABOVE):
        return units
    return units + 1 if finer.startswith(NOISE_BELOW) else None


def _whole_and_rest(body: str, digits: int) -> tuple[str, str] | None:
    """Take an amount apart at its decimal sign; None where signs stand in no such order."""
    signs = re.findall("[.,]", body)
    if body.endswith((".", ",")):
        return None
    if not signs or (len(signs) > 1 and len(set(signs)) == 1):
        return _ungrouped(body, "")
    decimal = signs[-1]
    before, _sign, rest = body.rpartition(decimal)
    if len(signs) == 1:
        groups = len(rest) == 3 and digits != 3 and before not in {"", "0"}
        return _ungrouped(body, "") if groups else (before, rest)
    return None if signs.count(decimal) > 1 else _ungrouped(before, rest)


def _ungrouped(whole: str, rest: str) -> tuple[str, str] | None:
    first, *groups = re.split("[.,]", whole)
    is_sound = not groups or (0 < len(first) <= 3 and all(len(group) == 3 for group in groups))
    return ("".join((first, *groups)), rest) if is_sound else None


def whole_text(found: str) -> str | None:
    """Return a whole number's digits; None where it is none."""
    return amount_text(found, 0)


def day_text(found: str, *, day_first: bool) -> str | None:
    """Return a day as year-month-day; None where it is none. The year may stand last, days before months."""
    if match := _YEAR_FIRST.fullmatch(found):
        year, month, day = match.groups()
    elif match := _YEAR_LAST.fullmatch(found):
        first, second, year = match.groups()
        month, day = (second, first) if day_first else (first, second)
    else:
        return None
    try:
        return date(int(year) + (2000 if len(year) == 2 else 0), int(month), int(day)).isoformat()
    except ValueError:
        return None


def is_day_first(days: Iterable[str]) -> bool | None:
    """Whether days stand before months in dates that end with the year; None where that cannot be told."""
    found = [match for day in days if (match := _YEAR_LAST.fullmatch(day))]
    if any(int(match[1]) > 12 for match in found):
        return True
    if not found or any(int(match[2]) > 12 for match in found):
        return False
    return None
