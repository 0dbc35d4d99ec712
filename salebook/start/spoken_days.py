"""Days as people say them: "12 and 13 June 2027", "Saturday 5 June", "2027-06-12"."""

import re
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from typing import Final

from babel.dates import format_date

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.plan.dates import DayParts, day_parts, is_month_first
from salebook.plan.fields import MOST_DAYS
from salebook.start.question import Doubt, Reader, SoFar

WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
YEARS_AHEAD: Final = 6
"""Years in which a weekday that was said is looked for; nobody plans further (judgement)."""
IN_WORDS: Final = "EEEE, d MMMM yyyy"
SAID_IN: Final = "en_GB"
"""The language in which days are read, beside the place's own, and said back."""

_WEEKDAY = re.compile(r"\b(mon|tue|wed|thu|fri|sat|sun)(?:s|nes|rs?|ur)?(?:days?)?\b\.?,?", re.IGNORECASE)
_MONTH = re.compile(r"\b(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*", re.IGNORECASE)
"""A month by its first three letters, however the others are misspelt; it is said back in full."""
_TO = re.compile(r"\s+(?:to|until|till|-|–)\s+|(?<=\d)\s?[-–]\s?(?=\d+\s+[A-Za-z])")


def days_in(text: str, *, today: date, locale: str = SAID_IN) -> tuple[date, ...]:
    """Read one or more days in the order of the calendar; raises UnfitError.

    A day without a month or a year takes those of the day said after it; without any year it is the next such
    day from today on that falls on the weekday said. `locale` says how 6/12/2027 is read.
    """
    weekdays = {WEEKDAYS.index(found.lower()) for found in _WEEKDAY.findall(text)}
    first = _days_from(text, today, locale)
    later = (date(today.year + ahead, 1, 1) for ahead in range(1, YEARS_AHEAD + 1) if weekdays)
    for days in (first, *(_days_from(text, start, locale) for start in later)):
        if weekdays <= {day.weekday() for day in days}:
            return days
    raise UnfitError(_("a weekday that fits, since that is {days}").format(days=days_in_words(first)))


def days_in_words(days: Sequence[date]) -> str:
    """Say days with their weekdays: "Saturday, 12 June 2027"."""
    return "; ".join(format_date(day, IN_WORDS, locale=SAID_IN) for day in days)


def reads_two_ways(text: str, locale: str = SAID_IN) -> bool:
    """Whether a day such as 12/4/2027 is another one where the month comes first."""
    day_first = not is_month_first(locale)
    return any(_is_open(item) for item in _items(text) if not (day_first and "." in item))


def _is_open(text: str) -> bool:
    try:
        one, other = (day_parts(text, month_first=month_first) for month_first in (True, False))
    except UnfitError:
        return False
    return one != other


def _days_from(text: str, today: date, locale: str) -> tuple[date, ...]:
    spans = [_TO.split(each) for each in _items(text)]
    try:
        dates = iter(_dates([_parts(each, locale) for span in spans for each in span], today))
        found = {day for span in spans for day in _between([next(dates) for _each in span])}
    except UnfitError as trouble:
        raise UnfitError(_expected()) from trouble
    if not 1 <= len(found) <= MOST_DAYS:
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


def _parts(text: str, locale: str) -> DayParts:
    return day_parts(_MONTH.sub(r"\1", text), locale=locale, month_first=is_month_first(locale))


def _dates(said: Sequence[DayParts], today: date) -> list[date]:
    dates: list[date] = []
    month: int | None = None
    year: int | None = None
    for parts in reversed(said):
        month, year = parts.month or month, parts.year or year
        dates.append(_next_date(DayParts(parts.day, month, year), today))
    return dates[::-1]


def _next_date(parts: DayParts, today: date) -> date:
    found = parts._replace(year=parts.year or today.year).to_date()
    return found if parts.year or found >= today else parts._replace(year=today.year + 1).to_date()


def _between(ends: Sequence[date]) -> Iterator[date]:
    """Yield a day, or each day from the first to the last."""
    if len(ends) > 2 or ends[-1] < ends[0] or (ends[-1] - ends[0]).days >= MOST_DAYS:
        raise UnfitError(_expected())
    yield from (ends[0] + timedelta(days=later) for later in range((ends[-1] - ends[0]).days + 1))


def _expected() -> str:
    return _('a day or days, such as "12 June 2027", "12 to 13 June 2027" or "2027-06-12"')


def _doubts(said: str, days: Sequence[date], so_far: SoFar) -> Sequence[Doubt]:
    """Ask about days that may be others, and about days past."""
    words = days_in_words(days)
    if is_past := days[0] < so_far.defaults.today:
        words = _("{days}, which is past,").format(days=words)
    if reads_two_ways(said, so_far.defaults.locale):
        says = _("Numbers alone read two ways: to be sure, write the month as a word. Is {days} meant?")
        return (Doubt(asks=says.format(days=words)),)
    return (Doubt(asks=_("Is {days} meant?").format(days=words)),) if is_past else ()


DAYS: Final = Reader(
    read=lambda text, so_far: days_in(text, today=so_far.defaults.today, locale=so_far.defaults.locale),
    words=lambda days: ", ".join(day.isoformat() for day in days),
    in_words=lambda days, _so_far: days_in_words(days),
    doubts=_doubts,
)
