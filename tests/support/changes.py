"""Changes typed into a finished workbook, and what must follow them."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property

from tests.support.cells import Blank, Place, Value, changed, plain_values, values_of
from tests.support.dependence import apart, moved_names, resting_on
from tests.support.inputs import input_place
from tests.support.proof import differing_cells, recalculated_by_libreoffice, same
from tests.support.rules import Opened

FIRST_DAY_OF_SHEETS = date(1899, 12, 30)
"""Day 0 of dates in a workbook (ISO/IEC 29500-1, 18.17.4.1)."""


@dataclass(frozen=True, kw_only=True)
class Typed:
    """One cell that a person changes: a section's key, in the row that shows `where`."""

    section: str
    key: str
    value: Decimal | str | Blank
    sheet: str = "Plan"
    where: Mapping[str, Value] = field(default_factory=dict)


def day_number(day: date) -> int:
    """Return a day as a workbook holds it."""
    return (day - FIRST_DAY_OF_SHEETS).days


@dataclass(frozen=True, kw_only=True)
class Case:
    """A workbook, what is typed into it, and the workbook made afresh from what then holds."""

    before: bytes
    changes: Sequence[Typed]
    fresh: bytes

    @cached_property
    def typed(self) -> bytes:
        """The workbook with the changes in its cells."""
        cells = {
            input_place(self.before, change.sheet, change.section, change.key, change.where): change.value
            for change in self.changes
        }
        return changed(self.before, cells)

    @cached_property
    def cannot_follow(self) -> set[Place]:
        """The cells that rest on what was worked out before, or on rows that the change adds or moves."""
        moved = moved_names(self.typed, self.fresh)
        return resting_on(apart(self.typed, self.fresh), self.typed, names=moved)

    def not_followed(self, now: Mapping[Place, Value]) -> list[str]:
        """Return what differs from the fresh workbook after recalculation, where it could have followed."""
        wrong = differing_cells(self.fresh, now)
        return [line for place, line in wrong.items() if place not in self.cannot_follow]

    def troubles_with(self, names: Sequence[str], now: Mapping[Place, Value]) -> list[str]:
        """Say what is wrong with named results that must move, wherever they stand."""
        said = (self._trouble_with(name, now) for name in names)
        return [trouble for trouble in said if trouble]

    def _trouble_with(self, name: str, now: Mapping[Place, Value]) -> str:
        old = _shown_under(name, self.before, values_of(self.before))
        new = _shown_under(name, self.typed, now)
        due = _shown_under(name, self.fresh, values_of(self.fresh))
        if len(new) != len(due) or not all(map(same, due, new)):
            return f"{name}: expected {due}, recalculated {new}"
        return f"{name} did not move from {old}" if new == old else ""

    def out_of_date_unmarked(self) -> dict[Place, tuple[Value, Value]]:
        """Return plain values that the change makes untrue, inputs and those marked as worked out aside."""
        here, there = plain_values(self.typed), plain_values(self.fresh)
        styles = Opened(self.typed).style_names
        old = {
            place for place in here.keys() & there.keys() if _unmarked(here[place]) != _unmarked(there[place])
        }
        return {
            place: (here[place], there[place])
            for place in old
            if self._is_laid_out_as_before(place[0]) and not styles[place].startswith(MAY_BE_OUT_OF_DATE)
        }

    def _is_laid_out_as_before(self, sheet: str) -> bool:
        typed, fresh = self._layouts
        return typed[sheet] == fresh[sheet]

    @cached_property
    def _layouts(self) -> tuple[dict[str, list[str]], dict[str, list[str]]]:
        return _layout(self.typed), _layout(self.fresh)


def recalculated_with_changes(cases: Mapping[str, Case]) -> dict[str, dict[Place, Value]]:
    """Return what LibreOffice makes of each case's workbook after the change, all in one run."""
    recalculated = recalculated_by_libreoffice({str(n): case.typed for n, case in enumerate(cases.values())})
    return {name: values_of(recalculated[str(n)]) for n, name in enumerate(cases)}


MAY_BE_OUT_OF_DATE = (
    "salebook worked",  # a plain value in this style says of itself that it was worked out before
    "salebook input",  # what a person may type starts at a value of the plan's, and is then the person's own
)


def _unmarked(value: Value) -> Value:
    """Leave out of a mark what the plan was silent of: reading asks the cell if that still holds."""
    silent = re.fullmatch(r"([a-z0-9_.]+)\?[a-z0-9_,]*", value) if isinstance(value, str) else None
    return silent[1] if silent else value


def _layout(book: bytes) -> dict[str, list[str]]:
    cells: dict[str, list[str]] = {title: [] for title in Opened(book).sheets}
    for title, cell in Opened(book).style_names:
        cells[title].append(cell)
    return cells


def _shown_under(name: str, book: bytes, values: Mapping[Place, Value]) -> list[Value]:
    return [values.get(place, "") for place in Opened(book).places(name)]
