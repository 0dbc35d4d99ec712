"""The event as a whole: what was filled in and what follows from it."""

from dataclasses import dataclass, replace
from datetime import date

from salebook.event.cash_up import CashUp, cash_ups
from salebook.event.entries import Entries
from salebook.event.register import Piece, register_of
from salebook.event.share_out import ShareOut, share_out_of
from salebook.event.state import EventState, state_of
from salebook.making.firing_done import FiringDone
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class Event:
    """Everything that the event room works out."""

    entries: Entries
    register: tuple[Piece, ...]
    state: EventState
    share_out: ShareOut
    cash_ups: tuple[CashUp, ...]

    @property
    def firings_done(self) -> tuple[FiringDone, ...]:
        """What was written down of each firing done."""
        return self.entries.firings_done


def reckon_event(reckoning: Reckoning, entries: Entries) -> Event:
    """Work out how things stand from what was filled in."""
    register = register_of(reckoning.plan, reckoning.studio.runs)
    state = state_of(reckoning.plan, register, entries)
    return Event(
        entries=entries,
        register=register,
        state=state,
        share_out=share_out_of(reckoning, state, entries),
        cash_ups=cash_ups(reckoning.plan, state, entries),
    )


def entries_up_to(event: Event, last: date) -> Entries:
    """Return what was filled in for days up to one, that day included.

    Lines without a day go by the day carried down to them. What has no day (pieces, claims, what costs and
    fees really were) stays as it stands now.
    """
    entries = event.entries
    return replace(
        entries,
        lines=tuple(counted.line for counted in event.state.lines if counted.day <= last),
        firings_done=tuple(done for done in entries.firings_done if done.day is None or done.day <= last),
        cash=tuple(count for count in entries.cash if count.day <= last),
        table_counts=tuple(count for count in entries.table_counts if count.day <= last),
        banked=tuple(entry for entry in entries.banked if entry.day <= last),
        payments=tuple(payment for payment in entries.payments if payment.day <= last),
    )
