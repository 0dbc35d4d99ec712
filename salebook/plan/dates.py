"""Days and times of day as people write them."""

import re
from collections.abc import Mapping, Sequence
from datetime import date, time
from functools import lru_cache
from typing import NamedTuple

from babel import Locale
from babel.dates import get_month_names

from salebook.base.errors import UnfitError
from salebook.base.words import _

FIRST_YEAR, LAST_YEAR = 2000, 2199
MONTHS = 12
MINUTES_A_DAY = 24 * 60

_DAY_OR_YEAR = re.compile(r"([0-9]{1,2}|[0-9]{4})(?:st|nd|rd|th)?")
_CLOCK = re.compile(
    r"(?P<hour>[0-9]{1,2})(?:[:.h](?P<minute>[0-5][0-9])(?:[:.][0-5][0-9])?)?"
    r" ?(?P<half>am|pm|a\.m\.|p\.m\.)?h?"
)


class DayParts(NamedTuple):
    """A day of a month, and the month and the year where they were said."""

    day: int
    month: int | None = None
    year: int | None = None

    def to_date(self) -> date:
        """Return the date; raises UnfitError where it lacks a part, or no sale can be on it."""
        try:
            found = date(self.year or 0, self.month or 0, self.day)
        except ValueError as trouble:
            raise UnfitError(day_words()) from trouble
        if not FIRST_YEAR <= found.year <= LAST_YEAR:
            raise UnfitError(day_words())
        return found


def day_words() -> str:
    """Say what a date looks like that reads one way only."""
    return _("a date as year-month-day, such as 2027-06-12")


def day_parts(
    text: str, *, locale: str = "en", month_first: bool | None = None, strangers: int = 0
) -> DayParts:
    """Read a day such as "2027-06-12", "12 June 2027", "June 12th", "12. 6. 27" or "12/6".

    Months may be named in English and in the language of `locale`. `month_first` says which of two numbers is
    the month; without it they are refused where both may be. Beside a named month so many `strangers` may
    stand, words that mean nothing here, such as a weekday. Raises UnfitError.
    """
    words = [word for word in re.split(r"[\s,./-]+", text.lower()) if word not in {"", "of", "the"}]
    numbers = [found[1] for word in words if (found := _DAY_OR_YEAR.fullmatch(word))]
    named = [word for word in words if word in _months(locale)]
    unknown = len(words) - len(numbers) - len(named)
    if len(named) > 1 or unknown > (strangers if named else 0):
        raise UnfitError(day_words())
    if not named:
        return _of_numbers(numbers, month_first=month_first)
    behind = words[words.index(named[0]) + 1 :]
    return _of_named(_months(locale)[named[0]], numbers, year_last=any(map(_DAY_OR_YEAR.fullmatch, behind)))


def _of_named(month: int, numbers: Sequence[str], *, year_last: bool) -> DayParts:
    match numbers:
        case [day]:
            return DayParts(int(day), month)
        case [year, day] if len(year) == 4:
            return DayParts(int(day), month, int(year))
        case [day, year] if year_last or len(year) == 4:
            return DayParts(int(day), month, _year(year))
    raise UnfitError(day_words())


def _of_numbers(numbers: Sequence[str], *, month_first: bool | None) -> DayParts:
    match numbers:
        case [day]:
            return DayParts(int(day))
        case [year, month, day] if len(year) == 4:
            return DayParts(int(day), int(month), int(year))
        case [one, other, *years] if len(one + other) < 5 and len(years) < 2:
            in_order = _in_order(int(one), int(other), month_first=month_first)
            return DayParts(*in_order, _year(years[0]) if years else None)
    raise UnfitError(day_words())


def _in_order(one: int, other: int, *, month_first: bool | None) -> tuple[int, int]:
    """Return which of two numbers is the day and which the month: above 12 it is the day."""
    if max(one, other) > MONTHS:
        month_first = one <= MONTHS
    if month_first is None:
        raise UnfitError(day_words())
    return (other, one) if month_first else (one, other)


def _year(number: str) -> int:
    if len(number) == 1:
        raise UnfitError(day_words())
    return int(number) if len(number) == 4 else 2000 + int(number)


@lru_cache
def is_month_first(locale: str) -> bool:
    """Whether a locale writes a day and a month in numbers with the month first, by CLDR."""
    pattern = str(Locale.parse(locale).datetime_skeletons["Md"].pattern)
    return pattern.find("M") < pattern.find("d")


@lru_cache
def _months(locale: str) -> Mapping[str, int]:
    """Return the number of each month by its names, long and short, in English and the locale's language."""
    found: dict[str, int] = {}
    for of in ("en", "en_GB", locale):
        for names in (get_month_names("abbreviated", locale=of), get_month_names("wide", locale=of)):
            found |= {name.lower().rstrip("."): number for number, name in names.items()}
    return found


def minutes_in(text: str) -> int:
    """Read a time of day such as "7:30", "9.15 pm" or "24:00" in minutes; raises UnfitError."""
    found = _CLOCK.fullmatch(text.strip().lower())
    if found is None or not (found["minute"] or found["half"]):
        raise UnfitError(clock_words())
    hour, half = int(found["hour"]), found["half"]
    if half and not 1 <= hour <= 12:
        raise UnfitError(clock_words())
    minutes = 60 * (hour % 12 + 12 * half.startswith("p") if half else hour) + int(found["minute"] or 0)
    if minutes > MINUTES_A_DAY:
        raise UnfitError(clock_words())
    return minutes


def minutes_of(clock: time) -> int:
    """Return the minutes since midnight of a time of day, its seconds left off."""
    return 60 * clock.hour + clock.minute


def clock_words() -> str:
    """Say what a time of day looks like."""
    return _('a time of day from "00:00" to "24:00", such as "07:30"')


def clock_text(minutes: int) -> str:
    """Say minutes since midnight as a time of day: "07:30"."""
    return f"{minutes // 60:02}:{minutes % 60:02}"
