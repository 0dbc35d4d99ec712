"""What a table must know of the pieces before its first line: how many, their grades, what is spoken for."""

from dataclasses import replace

from salebook.event.entries import Entries
from salebook.event.event import Event


def of_pieces(event: Event) -> Entries:
    """Return what was filled in about pieces; one spoken for on a line is reserved for that line's claim."""
    entries = event.entries
    pieces = dict(entries.pieces)
    for state in event.state.pieces:
        if state.status in {"reserved", "deposit"} and state.held_for:
            pieces[state.piece.number] = replace(state.entry, reserved_for=state.held_for)
    return Entries(pieces=pieces, made=entries.made, studio=entries.studio)
