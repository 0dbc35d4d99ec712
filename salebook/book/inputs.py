"""Inputs on a sheet: tables with a row for each record, and single entries, each with its key."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from decimal import Decimal
from typing import Any, Final

from openpyxl.utils import get_column_letter

from salebook.base.words import _
from salebook.book.marks import LINKED, LIVE, UNSAID
from salebook.book.page import DAY_MINUTES, Content, Page, number
from salebook.book.plan_cells import Cell, cells_of
from salebook.book.style import lines_needed
from salebook.plan.keys import Kind, Record, keys_of
from salebook.plan.quantities import Length, Mass, Temperature

YES_NO: Final = ("yes", "no")
STYLES: Final[Mapping[Kind, str]] = {
    **dict.fromkeys((Kind.TEXT, Kind.CLAY, Kind.CODES), "wrapped"),
    **dict.fromkeys((Kind.WORD, Kind.YES_NO, Kind.COINS), "text"),
    **dict.fromkeys((Kind.NUMBER, Kind.MASS, Kind.LENGTH, Kind.TEMPERATURE), "number"),
    **{Kind.WHOLE: "whole", Kind.SHARE: "percents", Kind.FINE_SHARE: "percent", Kind.MONEY: "money"},
    **{Kind.RATE: "rate", Kind.DAY: "date", Kind.CLOCK: "clock"},
}
NUMBERS: Final = frozenset({"whole", "number", "money", "percents", "percent", "rate"})
"""Styles of cells that take nothing but a number."""


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column of a table on Plan: its key, its heading, how a record's value is got and shown."""

    key: str
    heading: str
    style: str
    value: Callable[[Any], Content]
    choices: Sequence[str] = ()
    """The words to choose from, or the name of a range that holds them."""


@dataclass(frozen=True, kw_only=True)
class Part:
    """A record within another, as a row of its own: the how manieth of which one."""

    of: Any
    n: int
    part: Record


def unsaid_keys(record: Any) -> tuple[str, ...]:
    """Return the keys of which a plan says nothing in a record, as the plan file spells them."""
    if not isinstance(record, Record):
        return ()
    return tuple(key.name for key in keys_of(type(record)) if key.attribute not in record.model_fields_set)


def put_entries(
    page: Page, section: str, heading: str, record: Record, *, names: Mapping[str, str] | None = None
) -> None:
    """Write a record's inputs, one a row; their places are kept under (section, "", key).

    `names` are given to the inputs of a key, which stand one below the other where there are many. Those of
    which the plan says nothing carry a mark.
    """
    page.band(heading)
    page.headings(
        ("label", "value", "unit", "meaning"),
        (_("What"), _("Yours"), _("Unit"), _("What it means")),
        section=section,
    )
    for cell in cells_of(section):
        first = page.row
        for label, value in _values(cell, record):
            _put_entry(page, section, cell, label, value, is_said=cell.column not in unsaid_keys(record))
        if name := (names or {}).get(cell.column) if page.row > first else None:
            page.name(name, first, 3, last_row=page.row - 1 if cell.key.many else None)
    page.row += 1


def _values(cell: Cell, record: Record) -> Iterator[tuple[str, object]]:
    value = cell.of(record)
    if cell.kind is Kind.DAY and cell.key.many:
        yield from ((cell.heading.format(n=n), day) for n, day in enumerate(value, start=1))
    else:
        yield cell.heading, value.mm if isinstance(value, Length) else value


def _put_entry(page: Page, section: str, cell: Cell, label: str, value: object, *, is_said: bool) -> None:
    words = cell.key.words
    unit = "mm" if cell.kind is Kind.LENGTH else words.unit
    content = content_of(value, cell.kind)
    cells: list[tuple[Content, str]] = [
        (f"{section}.{cell.column}{'' if is_said else UNSAID}", "key"),
        (label, "label"),
        (content, f"input {STYLES[cell.kind]}"),
        (unit and _(unit), "label"),
        (words.note and _(words.note), "note"),
    ]
    row = page.put_row(cells)
    page.book.plan_inputs.append(content)
    _grow_for_wrapped(page, row, cells)
    page.book.addresses.setdefault((section, "", cell.column), page.address(row, 3))


def put_table(
    page: Page,
    section: str,
    heading: str,
    records: Sequence[Any],
    columns: Sequence[Column] = (),
    *,
    identity: Callable[[Any], str] | None = None,
    names: Mapping[str, str] | None = None,
    says: str = "",
    unsaid: bool = False,
) -> int:
    """Write one table with a row for each record and return its first data row; all its keys by default.

    Each cell's place is kept under (section, identity, key); without `identity` under the record's number.
    `unsaid` tells that the plan has no such table, and that these records are assumed.
    """
    columns = columns or columns_of(section)
    page.band(heading)
    if says:
        page.paragraph(says, "note")
    page.headings([c.key for c in columns], [c.heading for c in columns], section=section)
    first = page.row
    for n, record in enumerate(records, start=1):
        cells: list[tuple[Content, str]] = [(_mark(section, record, columns, unsaid=unsaid), "key")]
        cells += [(c.value(record), f"{_kind(c)} {c.style}") for c in columns]
        row = page.put_row(cells)
        page.book.plan_inputs += [content for content, style in cells if style.startswith("input")]
        _grow_for_wrapped(page, row, cells)
        for column, spec in enumerate(columns, start=2):
            page.book.addresses[(section, identity(record) if identity else str(n), spec.key)] = page.address(
                row, column
            )
    last = page.row - 1
    if records:
        _put_dropdown(page, columns, first, last)
        for key, name in (names or {}).items():
            at = next(n for n, c in enumerate(columns, start=2) if c.key == key)
            page.name(name, first, at, last_row=last)
    page.row += 1
    return first


def _mark(section: str, record: Any, columns: Sequence[Column], *, unsaid: bool) -> str:
    shown = {column.key for column in columns}
    keys = () if unsaid else [key for key in unsaid_keys(record) if key in shown]
    return f"{section}{UNSAID if unsaid or keys else ''}{','.join(keys)}"


def _kind(column: Column) -> str:
    return "result" if column.key.startswith((LINKED, LIVE)) else "input"


def _grow_for_wrapped(page: Page, row: int, cells: Sequence[tuple[Content, str]]) -> None:
    lines = [
        lines_needed(content, page.width(n + 1) - 1)
        for n, (content, style) in enumerate(cells)
        if style.endswith("wrapped") and isinstance(content, str)
    ]
    if lines and max(lines) > 1:
        page.sheet.row_dimensions[row].height = 13.5 * max(lines) + 2


def _put_dropdown(page: Page, columns: Sequence[Column], first: int, last: int) -> None:
    for at, column in enumerate(columns, start=2):
        letter = get_column_letter(at)
        cells = f"{letter}{first}:{letter}{last}"
        if column.choices == CLAYS:
            page.dropdown(cells, CLAYS, says=_("Choose one of the clays above"))
        elif column.choices:
            page.dropdown(cells, column.choices, says=_("Choose one of: ") + ", ".join(column.choices))
        elif column.style in NUMBERS:
            page.number_only(cells, says=_("A number, not below 0, is expected here"))


CLAYS: Final = "clay_names"
"""The range that holds the names of all clays."""
CHOICES: Final[Mapping[Kind, Sequence[str]]] = {Kind.YES_NO: YES_NO, Kind.CLAY: CLAYS}


def columns_of(section: str, *, before: str = "", start: str = "") -> tuple[Column, ...]:
    """Return columns for the keys of a table, from `start` on, as far as the one `before`."""
    cells = cells_of(section)
    at = [cell.column for cell in cells]
    part = cells[at.index(start) if start else 0 : at.index(before) if before else None]
    return tuple(_column(cell, part) for cell in part)


def part_columns(section: str) -> tuple[Column, ...]:
    """Return columns for the keys of records that are a Part of others."""

    def of_part(column: Column) -> Column:
        return replace(column, value=lambda row: column.value(row.part))

    return tuple(map(of_part, columns_of(section)))


def _column(cell: Cell, part: Sequence[Cell]) -> Column:
    def value(record: Any) -> Content:
        found = cell.of(record)
        if cell.kind is not Kind.LENGTH:
            return content_of(found.unit if cell.is_unit else found, cell.kind)
        unit = shared_unit(record, part)
        if cell.is_unit:
            return unit
        return None if found is None else number(found.amount if found.unit == unit else found.mm)

    return Column(
        key=cell.column,
        heading=cell.heading,
        style="text" if cell.is_unit else STYLES[cell.kind],
        value=value,
        choices=cell.choices or CHOICES.get(cell.kind, ()),
    )


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
