"""The event as a whole: what was filled in and what follows from it."""

from dataclasses import dataclass

from salebook.event.cash_up import CashUp, cash_ups
from salebook.event.entries import Entries
from salebook.event.register import Piece, register_of
from salebook.event.share_out import ShareOut, share_out_of
from salebook.event.state import EventState, state_of
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class Event:
    """Everything that the event room works out."""

    entries: Entries
    register: tuple[Piece, ...]
    state: EventState
    share_out: ShareOut
    cash_ups: tuple[CashUp, ...]


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
