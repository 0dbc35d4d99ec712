"""Days as people say them: "12 and 13 June 2027", "Saturday 5 June", "2027-06-12"."""

import re
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import Final

from babel.dates import format_date

from salebook.base.words import _
from salebook.plan.fields import FIRST_YEAR, LAST_YEAR, MOST_DAYS, UnfitError

MONTHS: Final = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
YEARS_AHEAD: Final = 6
"""Years in which a weekday that was said is looked for; nobody plans further (judgement)."""
IN_WORDS: Final = "EEEE, d MMMM yyyy"
SAID_IN: Final = "en_GB"
"""The language in which days are read, so that they are said back in it too."""

_WEEKDAY = re.compile(r"\b(mon|tue|wed|thu|fri|sat|sun)(?:s|nes|rs?|ur)?(?:days?)?\b\.?,?", re.IGNORECASE)
_ISO = re.compile(r"(?P<year>\d{4})-(?P<month>\d\d?)-(?P<day>\d\d?)")
_NUMBERS = re.compile(r"(?P<first>\d\d?)[./](?P<second>\d\d?)[./](?P<year>\d{4})")
_DAY_FIRST = re.compile(
    r"(?P<day>\d\d?)(?:st|nd|rd|th|\.)?(?: +(?:of +)?(?P<name>[a-z]+)\.?)?(?: +(?P<year>\d{4}))?",
    re.IGNORECASE,
)
_MONTH_FIRST = re.compile(
    r"(?P<name>[a-z]+)\.? +(?P<day>\d\d?)(?:st|nd|rd|th)?(?: +(?P<year>\d{4}))?", re.IGNORECASE
)

Parts = tuple[int, int | None, int | None]
"""A day, its month and its year as far as they were said."""


def days_in(text: str, *, today: date, month_first: bool = False) -> tuple[date, ...]:
    """Read one or more days in the order of the calendar; raises UnfitError.

    A day without a month or a year takes those of the day said after it; without any year it is the next such
    day from today on that falls on the weekday said. `month_first` is how numbers alone such as 6/12/2027 are
    read.
    """
    weekdays = {WEEKDAYS.index(found.lower()) for found in _WEEKDAY.findall(text)}
    first = _days_from(text, today, month_first=month_first)
    later = (date(today.year + ahead, 1, 1) for ahead in range(1, YEARS_AHEAD + 1) if weekdays)
    for days in (first, *(_days_from(text, start, month_first=month_first) for start in later)):
        if weekdays <= {day.weekday() for day in days}:
            return days
    raise UnfitError(_("a weekday that fits, since that is {days}").format(days=days_in_words(first)))


def days_in_words(days: Sequence[date]) -> str:
    """Say days with their weekdays: "Saturday, 12 June 2027"."""
    return "; ".join(format_date(day, IN_WORDS, locale=SAID_IN) for day in days)


def reads_two_ways(text: str) -> bool:
    """Whether a day such as 12/4/2027 is another one where the month comes first."""
    dates = (_NUMBERS.fullmatch(item) for item in _items(text) if "/" in item)
    return any(max(ends) <= len(MONTHS) and ends[0] != ends[1] for ends in map(_day_and_month, dates))


def _day_and_month(found: re.Match[str] | None) -> tuple[int, int]:
    return (int(found["first"]), int(found["second"])) if found else (0, 0)


def _days_from(text: str, today: date, *, month_first: bool) -> tuple[date, ...]:
    spans = [
        re.split(r"\s+(?:to|until|till|-|–)\s+|(?<=\d)\s?[-–]\s?(?=\d+\s+[A-Za-z])", each)
        for each in _items(text)
    ]
    said = [_parts(each, month_first=month_first) for span in spans for each in span]
    dates = iter(_dates(said, today))
    found = {day for span in spans for day in _between([next(dates) for _each in span])}
    if len(found) > MOST_DAYS:
        raise UnfitError(_expected())
    return tuple(sorted(found))


def saturday_in(weeks: int, today: date) -> date:
    """Return the Saturday on or after so many weeks from a day."""
    later = today + timedelta(weeks=weeks)
    return later + timedelta(days=(5 - later.weekday()) % 7)


def _items(text: str) -> list[str]:
    tidy = _WEEKDAY.sub(" ", text)
    tidy = re.sub(r",\s*(\d{4})\b(?!-)", r" \1", tidy)
    return [" ".join(item.split()) for item in re.split(r",|;|&|\band\b", tidy) if item.strip()]


def _parts(text: str, *, month_first: bool) -> Parts:
    if found := _ISO.fullmatch(text):
        return int(found["day"]), int(found["month"]), int(found["year"])
    if found := _NUMBERS.fullmatch(text):
        one, other = int(found["first"]), int(found["second"])
        return (other, one, int(found["year"])) if month_first else (one, other, int(found["year"]))
    found = _DAY_FIRST.fullmatch(text) or _MONTH_FIRST.fullmatch(text)
    if found is None:
        raise UnfitError(_expected())
    year = int(found["year"]) if found["year"] else None
    return int(found["day"]), _month(found["name"]) if found["name"] else None, year


def _month(name: str) -> int:
    if len(name) < 3 or name[:3].lower() not in MONTHS:
        raise UnfitError(_expected())
    return MONTHS.index(name[:3].lower()) + 1


def _dates(said: list[Parts], today: date) -> list[date]:
    dates: list[date] = []
    month: int | None = None
    year: int | None = None
    for day, own_month, own_year in reversed(said):
        month, year = own_month or month, own_year or year
        dates.append(_date(day, month, year, today))
    if not dates:
        raise UnfitError(_expected())
    return dates[::-1]


def _date(day: int, month: int | None, year: int | None, today: date) -> date:
    if month is None:
        raise UnfitError(_expected())
    try:
        found = date(year or today.year, month, day)
        if year is None and found < today:
            found = date(today.year + 1, month, day)
    except ValueError as trouble:
        raise UnfitError(_expected()) from trouble
    if not FIRST_YEAR <= found.year <= LAST_YEAR:
        raise UnfitError(_expected())
    return found


def _between(ends: list[date]) -> Iterator[date]:
    """Yield a day, or each day from the first to the last."""
    if len(ends) > 2 or ends[-1] < ends[0] or (ends[-1] - ends[0]).days >= MOST_DAYS:
        raise UnfitError(_expected())
    yield from (ends[0] + timedelta(days=later) for later in range((ends[-1] - ends[0]).days + 1))


def _expected() -> str:
    return _('a day or days, such as "12 June 2027", "12 to 13 June 2027" or "2027-06-12"')
