"""Opening hours as people say them: "10 to 5", "10.00 - 16.30", "10 am till 4 pm"."""

import re
from typing import Final

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.plan.dates import MINUTES_A_DAY
from salebook.plan.opening import OpeningHours
from salebook.start.choices import without
from salebook.start.spoken_numbers import in_digits

NOT_YET: Final = "not yet"
HALF_A_DAY: Final = MINUTES_A_DAY // 2
_TIME: Final = r"([0-9]{1,2})(?:[:.h]([0-5][0-9])?)?\s*(am|pm|a\.m\.|p\.m\.)?(?:\s*o'?clock)?"
_HOURS: Final = re.compile(rf"(?:from\s+)?{_TIME}\s*(?:to|till|until|[-–—])\s*{_TIME}", re.IGNORECASE)


def hours_in(text: str) -> OpeningHours:
    """Read opening hours, closing in the afternoon unless said otherwise; raises UnfitError."""
    found = _HOURS.fullmatch(in_digits(text.strip()))
    if found is None:
        raise UnfitError(_('opening hours, such as "10:00 to 17:00" or "10 to 5"'))
    opens, closes = _minutes(*found.groups()[:3]), _minutes(*found.groups()[3:])
    if closes <= opens < HALF_A_DAY and not found[6]:
        closes += HALF_A_DAY
    if not opens < closes <= MINUTES_A_DAY:
        raise UnfitError(_("opening hours, the earlier time first"))
    return OpeningHours(opens, closes)


def _minutes(hours: str, minutes: str | None, half: str | None) -> int:
    at = int(hours) * 60 + int(minutes or 0)
    if half is None:
        return at
    if not 60 <= at < HALF_A_DAY + 60:
        raise UnfitError(_("opening hours, the hour from 1 to 12 with am or pm"))
    return at % HALF_A_DAY + (HALF_A_DAY if half.lower().startswith("p") else 0)


HOURS: Final = without(NOT_YET, hours_in)
