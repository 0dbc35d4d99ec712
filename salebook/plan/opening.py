"""The hours in which a sale is open."""

import re
from dataclasses import dataclass
from typing import Annotated

from pydantic import PlainValidator

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.plan.dates import clock_text, minutes_in
from salebook.plan.fields import text
from salebook.plan.keys import Kind


@dataclass(frozen=True)
class OpeningHours:
    """From when to when a sale is open on each of its days, in minutes since midnight."""

    opens: int
    closes: int

    def __str__(self) -> str:
        return f"{clock_text(self.opens)} to {clock_text(self.closes)}"


def opening_hours(value: object) -> OpeningHours:
    """Read opening hours such as "10:00 to 17:00", also with a dash between; raises UnfitError."""
    expected = _('opening hours, the earlier time first, such as "10:00 to 17:00"')
    if isinstance(value, OpeningHours):
        return value
    try:
        opens, closes = map(minutes_in, re.split(r"\s*(?:to|[-–—])\s*", text(value, expected)))
    except ValueError as trouble:
        raise UnfitError(expected) from trouble
    if opens >= closes:
        raise UnfitError(expected)
    return OpeningHours(opens, closes)


Opening = Annotated[OpeningHours, PlainValidator(opening_hours), Kind.WORD]
