"""How many bought and gave; counted from lines, never from names."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from salebook.event.entries import LineKind
from salebook.event.posted_line import PostedLine
from salebook.event.state import EventState

BUYING: Final[frozenset[LineKind]] = frozenset({"sale", "order", "deposit"})
"""Kinds of line that begin a purchase: a balance ends one that a deposit began."""


@dataclass(frozen=True, kw_only=True)
class People:
    """Purchases and gifts of money; what was paid in one payment is one."""

    purchases: int
    gifts: int


def people_of(state: EventState) -> People:
    """Count purchases and gifts: lines "with the line above" belong to the same person."""
    visits = list(_visits(state))
    return People(
        purchases=sum(any(_buys(line) for line in visit) for visit in visits),
        gifts=sum(any(_gives(line) for line in visit) for visit in visits),
    )


def _visits(state: EventState) -> Iterator[list[PostedLine]]:
    visit: list[PostedLine] = []
    for line in state.lines:
        if visit and not (line.line.with_above and line.line.till == visit[-1].line.till):
            yield visit
            visit = []
        visit.append(line)
    if visit:
        yield visit


def _buys(line: PostedLine) -> bool:
    ends_an_order = line.piece is not None and line.piece.fills_order
    moves = line.amount > 0 or line.count > 0
    return line.kind in BUYING and moves and not ends_an_order


def _gives(line: PostedLine) -> bool:
    return line.gift > 0 or (line.kind == "donation" and line.amount > 0)
