"""Inputs on a sheet: tables with a row for each record, and single entries, each with its key."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from functools import partial
from typing import Any, Final

from salebook.base.words import N_, _
from salebook.book.marks import UNSAID
from salebook.book.page import DAY_MINUTES, Content, Page, number
from salebook.book.plan_cells import Cell, cells_of
from salebook.book.style import lines_needed
from salebook.book.table import Table
from salebook.plan.keys import Kind, Record, keys_of
from salebook.plan.piece_numbers import in_stretches
from salebook.plan.quantities import Length, Mass, Temperature

YES_NO: Final = ("yes", "no")
STYLES: Final[Mapping[Kind, str]] = {
    **dict.fromkeys((Kind.TEXT, Kind.CLAY, Kind.CODES, Kind.PIECES), "wrapped"),
    **dict.fromkeys((Kind.WORD, Kind.YES_NO, Kind.COINS), "text"),
    **dict.fromkeys((Kind.NUMBER, Kind.MASS, Kind.LENGTH, Kind.TEMPERATURE), "number"),
    **{Kind.WHOLE: "whole", Kind.SHARE: "percents", Kind.FINE_SHARE: "percent", Kind.MONEY: "money"},
    **{Kind.RATE: "rate", Kind.DAY: "date", Kind.CLOCK: "clock"},
}
CLAYS: Final = "clay_names"
"""The range that holds the names of all clays."""
CHOICES: Final[Mapping[Kind, Sequence[str]]] = {Kind.YES_NO: YES_NO, Kind.CLAY: CLAYS}


@dataclass(frozen=True, kw_only=True)
class Part:
    """A record within another, as a row of its own: the how manieth of which one."""

    of: Any
    n: int
    part: Record | None


def unsaid_keys(record: Any) -> tuple[str, ...]:
    """Return the keys of which a plan says nothing in a record, as the plan file spells them."""
    if not isinstance(record, Record):
        return ()
    return tuple(key.name for key in keys_of(type(record)) if key.attribute not in record.model_fields_set)


def put_entries(
    page: Page, section: str, heading: str, record: Record, *, names: Mapping[str, str] | None = None
) -> Mapping[str, int]:
    """Write a record's inputs, one a row, and return the first row of each key.

    `names` are given to the inputs of a key, which stand one below the other where there are many. Those of
    which the plan says nothing carry a mark.
    """
    page.band(heading)
    page.headings(
        ("label", "value", "unit", "meaning"),
        (_("What"), _("Yours"), _("Unit"), _("What it means")),
        section=section,
    )
    rows = {}
    for cell in cells_of(section):
        first = rows[cell.column] = page.row
        for label, value in _values(cell, record):
            _put_entry(page, section, cell, label, value, is_said=cell.column not in unsaid_keys(record))
        if name := (names or {}).get(cell.column) if page.row > first else None:
            page.name(name, first, 3, last_row=page.row - 1 if cell.key.many else None)
    page.row += 1
    return rows


def _values(cell: Cell, record: Record) -> Iterator[tuple[str, object]]:
    value = cell.of(record)
    if cell.kind is Kind.DAY and cell.key.many:
        yield from ((cell.heading.format(n=n), day) for n, day in enumerate(value, start=1))
    else:
        yield cell.heading, value.mm if isinstance(value, Length) else value


def _put_entry(page: Page, section: str, cell: Cell, label: str, value: object, *, is_said: bool) -> None:
    words = cell.key.words
    unit = "mm" if cell.kind is Kind.LENGTH else words.unit
    cells: list[tuple[Content, str]] = [
        (f"{section}.{cell.column}{'' if is_said else UNSAID}", "key"),
        (label, "label"),
        (content_of(value, cell.kind), f"input {STYLES[cell.kind]}"),
        (unit and _(unit), "label"),
        (words.note and _(words.note), "note"),
    ]
    row = page.put_row(cells)
    _grow_for_wrapped(page, row)
    page.book.references.places.setdefault((section, "", cell.column), page.address(row, 3))


def plan_table(
    section: str,
    *,
    record: Callable[[Any], str] | None = None,
    part: Callable[[Any], str] | None = None,
    unsaid: bool = False,
) -> Table[Any]:
    """Begin a table of the plan's records; `unsaid` tells that the plan has no such table.

    The mark of a row says of which keys the plan says nothing.
    """

    def mark(row: Any) -> str:
        shown = {column.key for column in table.columns}
        keys = () if unsaid else [key for key in unsaid_keys(row) if key in shown]
        return f"{section}{UNSAID if unsaid or keys else ''}{','.join(keys)}"

    table: Table[Any] = Table(section, N_("Plan"), record=record, part=part, mark=mark)
    return table


def add_keys(
    table: Table[Any], names: Mapping[str, str] | None = None, *, before: str = "", start: str = ""
) -> Table[Any]:
    """Add an input for each key of a table's records, from `start` on, as far as the one `before`.

    `names` are given to the columns of keys.
    """
    cells = cells_of(table.section)
    at = [cell.column for cell in cells]
    cells = cells[at.index(start) if start else 0 : at.index(before) if before else None]
    for cell in cells:
        choices = cell.choices or CHOICES.get(cell.kind, ())
        table.input(
            *(cell.column, cell.heading, "text" if cell.is_unit else STYLES[cell.kind]),
            partial(_shown, cell, cells),
            name=(names or {}).get(cell.column, ""),
            choices=choices,
            says=_choose(choices),
        )
    return table


def _choose(choices: Sequence[str] | str) -> str:
    if isinstance(choices, str):
        return _("Choose one of the clays above")
    if choices:
        return _("Choose one of: {words}").format(words=", ".join(choices))
    return _("A number, not below 0, is expected here")


def _shown(cell: Cell, beside: Sequence[Cell], row: Any) -> Content:
    record = row.part if isinstance(row, Part) else row
    found = cell.of(record)
    if cell.kind is not Kind.LENGTH:
        return content_of(found.unit if cell.is_unit else found, cell.kind)
    unit = shared_unit(record, beside)
    if cell.is_unit:
        return unit
    return None if found is None else number(found.amount if found.unit == unit else found.mm)


def put_table(
    page: Page, heading: str, table: Table[Any], records: Sequence[Any], *, says: str = "", part: str = ""
) -> None:
    """Write a table of the plan, or a part of one, below its heading and what there is to say of it."""
    page.band(heading)
    if says:
        page.paragraph(says, "note")
    placed = table.write(page, records, part=part)
    for row in placed.rows.values():
        _grow_for_wrapped(page, row)
    page.row += 1


def _grow_for_wrapped(page: Page, row: int) -> None:
    lines = [
        lines_needed(cell.value, page.width(cell.column) - 1)
        for cell in page.sheet[row]
        if isinstance(cell.value, str) and cell.alignment.wrap_text
    ]
    if lines and max(lines) > 1:
        page.sheet.row_dimensions[row].height = 13.5 * max(lines) + 2


def shared_unit(record: Any, cells: Sequence[Cell]) -> str:
    """Return the unit that a record's lengths are shown in: their own where they share one, else mm."""
    lengths = [cell.of(record) for cell in cells if cell.kind is Kind.LENGTH]
    units = {length.unit for length in lengths if length is not None}
    return str(units.pop()) if len(units) == 1 else "mm"


def content_of(value: object, kind: Kind) -> Content:
    """Return a value of the plan as a cell keeps it; None leaves the cell empty."""
    match value:
        case Mass() | Temperature():
            return number(value.amount)
        case tuple() if kind is Kind.PIECES:
            return in_stretches(value)
        case tuple():
            return ", ".join(value) if kind is Kind.CODES else "; ".join(format(one, "f") for one in value)
        case None | bool() | int() | Decimal():
            return _number_of(value, kind)
        case _:
            return value if isinstance(value, date | time) else str(value)


def _number_of(value: bool | int | Decimal | None, kind: Kind) -> Content:
    if isinstance(value, bool):
        return yes_or_no(value)
    return value / DAY_MINUTES if value is not None and kind is Kind.CLOCK else number_or_none(value)


def yes_or_no(value: bool) -> str:
    """Return the word that a cell shows for true and false."""
    return "yes" if value else "no"


def number_or_none(value: Decimal | int | None) -> Content:
    """Return a number as a cell keeps it; None leaves the cell empty."""
    return None if value is None else number(value)
