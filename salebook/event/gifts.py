"""How often money was given; counted from lines, never from names."""

from collections.abc import Iterator

from salebook.event.posted_line import PostedLine
from salebook.event.state import EventState


def gifts_of(state: EventState) -> int:
    """Count the gifts of money: lines "with the line above" belong to the same person."""
    return sum(any(_gives(line) for line in visit) for visit in _visits(state))


def _visits(state: EventState) -> Iterator[list[PostedLine]]:
    visit: list[PostedLine] = []
    for line in state.lines:
        if visit and not (line.line.with_above and line.line.till == visit[-1].line.till):
            yield visit
            visit = []
        visit.append(line)
    if visit:
        yield visit


def _gives(line: PostedLine) -> bool:
    return line.gift > 0 or (line.kind == "donation" and line.amount > 0)
