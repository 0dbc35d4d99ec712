"""A formula together with the value that it must show."""

from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from typing import Final

Value = str | int | float | bool | Decimal

EPOCH: Final = date(1899, 12, 30)
"""The day that a formula counts as 0."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A result cell: a live formula (with its leading "=") and what the model worked out for it.

    The value is stored in the file beside the formula, so that programs that do not calculate show it, and so
    that recalculating the file proves formula and model against each other.
    """

    formula: str
    value: Value


def serial(day: date | None) -> int | str:
    """Return a day as a formula has it: days since the end of 1899; an empty text for no day."""
    return "" if day is None else (day - EPOCH).days


def serial_moment(day: date, at: time) -> float:
    """Return a moment as a formula has it, to the minute: the day and the part of it that is past."""
    return (day - EPOCH).days + (at.hour * 60 + at.minute) / (24 * 60)
