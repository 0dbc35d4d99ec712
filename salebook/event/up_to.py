"""The event as it stood on the evening of a day."""

from dataclasses import replace
from datetime import date

from salebook.event.entries import Entries
from salebook.event.event import Event


def entries_up_to(event: Event, last: date) -> Entries:
    """Return what was filled in for days up to one, that day included.

    Lines without a day go by the day carried down to them. What has no day (pieces, claims, what costs and
    fees really were) stays as it stands now.
    """
    entries = event.entries
    return replace(
        entries,
        lines=tuple(counted.line for counted in event.state.lines if counted.day <= last),
        cash=tuple(count for count in entries.cash if count.day <= last),
        table_counts=tuple(count for count in entries.table_counts if count.day <= last),
        banked=tuple(entry for entry in entries.banked if entry.day <= last),
        payments=tuple(payment for payment in entries.payments if payment.day <= last),
    )
