"""How much of the selling time is past: the opening hours of the sale's days, all alike."""

from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Final

from salebook.plan.model import Sale
from salebook.plan.opening import OpeningHours

USUAL_HOURS: Final = OpeningHours(10 * 60, 17 * 60)
"""Assumed where the plan does not say when the sale is open (common practice, no source)."""

EVENING: Final = time(22)


def opening_of(sale: Sale) -> OpeningHours:
    """Return from when to when a sale is open on each of its days."""
    return sale.open or USUAL_HOURS


def evening_of(day: date, sale: Sale) -> datetime:
    """Return the evening of a day, when a sale is closed for certain."""
    return max(datetime.combine(day, EVENING), closing_of(day, sale))


def closing_of(day: date, sale: Sale) -> datetime:
    """Return the moment at which a sale closes on a day."""
    return _at(day, opening_of(sale).closes)


def share_over(sale: Sale, now: datetime, *, first_day: Decimal | None = None) -> Decimal:
    """Return the share of the selling time that is past, from 0 to 1.

    `first_day` is the share of the whole sale that falls on its first day; without it all days are alike.
    """
    count = len(sale.days)
    first = Decimal(1) / count if first_day is None or count == 1 else first_day
    others = (1 - first) / max(1, count - 1)
    past = [_part_over(day, sale, now) for day in sale.days]
    return Decimal(1) if all(part == 1 for part in past) else past[0] * first + sum(past[1:]) * others


def _part_over(day: date, sale: Sale, now: datetime) -> Decimal:
    opens, closes = _at(day, opening_of(sale).opens), closing_of(day, sale)
    seconds = min(max(now, opens), closes) - opens
    return Decimal(seconds // timedelta(seconds=1)) / ((closes - opens) // timedelta(seconds=1))


def _at(day: date, minutes: int) -> datetime:
    return datetime.combine(day, time()) + timedelta(minutes=minutes)
