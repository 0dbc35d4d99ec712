"""The hours in which a sale is open."""

import re
from dataclasses import dataclass
from typing import Annotated

from pydantic import PlainValidator

from salebook.base.words import _
from salebook.plan.fields import UnfitError, clock_minutes, text
from salebook.plan.keys import Kind


@dataclass(frozen=True)
class OpeningHours:
    """From when to when a sale is open on each of its days, in minutes since midnight."""

    opens: int
    closes: int

    def __str__(self) -> str:
        return f"{_clock(self.opens)} to {_clock(self.closes)}"


def _clock(minutes: int) -> str:
    return f"{minutes // 60:02}:{minutes % 60:02}"


def opening_hours(value: object) -> OpeningHours:
    """Read opening hours such as "10:00 to 17:00", also with a dash between; raises UnfitError."""
    expected = _('opening hours, the earlier time first, such as "10:00 to 17:00"')
    if isinstance(value, OpeningHours):
        return value
    try:
        opens, closes = map(clock_minutes, re.split(r"\s*(?:to|[-–—])\s*", text(value, expected)))
    except ValueError as trouble:
        raise UnfitError(expected) from trouble
    if opens >= closes:
        raise UnfitError(expected)
    return OpeningHours(opens, closes)


Opening = Annotated[OpeningHours, PlainValidator(opening_hours), Kind.WORD]
