"""A small sale as it may stand, from the sound plan."""

from collections.abc import Sequence
from typing import Any

from salebook.event.entries import Entries, Line
from salebook.event.event import Event, reckon_event
from salebook.reckoning import Reckoning, reckon
from tests.support.sound_plan import Place, plan_with


def reckoning_with(*changes: tuple[Place, object]) -> Reckoning:
    """Return the reckoning of the sound plan with some changes."""
    return reckon(plan_with(*changes))


def sale(piece: str, **more: Any) -> dict[str, Any]:
    """Return what is typed for the sale of one piece, in cash unless told otherwise."""
    return {"kind": "sale", "piece": piece, "way": "cash"} | more


def event_with(
    typed: Sequence[dict[str, Any]] = (), reckoning: Reckoning | None = None, **entries: Any
) -> Event:
    """Return the event of the sound plan with these lines of takings and other entries."""
    lines = tuple(Line(number=number, **line) for number, line in enumerate(typed, start=1))
    return reckon_event(reckoning or reckoning_with(), Entries(lines=lines, **entries))
