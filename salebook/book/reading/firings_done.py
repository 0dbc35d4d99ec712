"""What was written down of the firings done."""

from collections.abc import Iterator, Sequence
from datetime import timedelta
from typing import Final

from salebook.base.words import _
from salebook.book.reading.asked import Asked
from salebook.book.reading.fields import Fields
from salebook.book.reading.tables import Row, Tables
from salebook.book.reading.typed import CellParser
from salebook.making.firing_done import FiringDone
from salebook.plan.model import Plan

LONGEST_BEFORE: Final = timedelta(days=366)
"""A firing so long before the sale was hardly for it (our choice)."""


def read_firings_done(tables: Tables, parser: CellParser, asked: Asked, plan: Plan) -> tuple[FiringDone, ...]:
    """Read every line of a firing done, and ask about what cannot be right in it."""
    fields = Fields("firings_done", tables, parser, asked)
    found: list[FiringDone] = []
    for row in fields.filled():
        done = _read(row, fields)
        for says in _doubts(done, found, plan):
            asked.ask(row, says)
        found.append(done)
    return tuple(found)


def _read(row: Row, fields: Fields) -> FiringDone:
    meter = _("the meter's reading is no number, or below 0: the energy is left out")
    return FiringDone(
        firing=fields.asked.text(row, "firing"),
        load=fields.read(
            row, "load", _("the number of the load is no whole number from 0 up: it is left out")
        ),
        day=fields.read(row, "day", _("the day of the firing is not a date")),
        before=fields.read(row, "before", meter),
        after=fields.read(row, "after", meter),
        came_out=fields.read(
            row, "came_out", _("how many came out is no whole number from 0 up: it is left out")
        ),
        lost=fields.read(row, "lost", _("how many were lost is no whole number from 0 up: it is left out")),
        why=fields.asked.text(row, "why"),
    )


def _doubts(done: FiringDone, before: Sequence[FiringDone], plan: Plan) -> Iterator[str]:
    yield from _which(done, before, plan)
    if plan.kiln is not None and done.runs_back(plan.kiln):
        yield _("the meter is lower after the firing than before: which is right? The energy is left out")
    if done.day is not None and done.day > plan.sale.days[-1]:
        yield _("this firing is after the sale: is the day right?")
    if done.day is not None and done.day < plan.sale.days[0] - LONGEST_BEFORE:
        yield _("this firing is more than a year before the sale: is the day right?")


def _which(done: FiringDone, before: Sequence[FiringDone], plan: Plan) -> Iterator[str]:
    if not done.firing:
        yield _("which firing was this? It counts for none")
    elif not any(done.is_of(firing.name) for firing in plan.firings):
        yield _("the plan has no firing {name}: it counts for none").format(name=done.firing)
    elif done.load is not None and any(
        done.is_of(other.firing) and done.load == other.load for other in before
    ):
        yield _("load {number} of {firing} stands twice: both count").format(
            number=done.load, firing=done.firing
        )
