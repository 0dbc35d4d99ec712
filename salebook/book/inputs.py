"""Inputs on a sheet: tables with a row for each record, and single entries, each with its key."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, get_args

from openpyxl.utils import get_column_letter

from salebook.book.marks import LINKED, LIVE, UNSAID
from salebook.book.page import Content, Page, number
from salebook.book.style import lines_needed
from salebook.plan.model import MetBy, Per, Record, Stage
from salebook.plan.quantities import Length
from salebook.words import _

YES_NO = ("yes", "no")
CHOICES = {
    "met_by": get_args(MetBy),
    "per": get_args(Per),
    "stage": get_args(Stage),
    "ball_unit": ("g", "kg", "oz", "lb"),
    "pack_unit": ("g", "kg", "oz", "lb"),
    "length_unit": ("mm", "cm", "m", "in"),
    "to_unit": ("C", "F"),
}


@dataclass(frozen=True, kw_only=True)
class Column:
    """One column of a table on Plan: its key, its heading, how a record's value is got and shown."""

    key: str
    heading: str
    style: str
    value: Callable[[Any], Content]


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One input that stands alone: its key within its section, its words, value, unit and what it means."""

    key: str
    label: str
    content: Content
    style: str
    unit: str = ""
    meaning: str = ""
    name: str = ""


def unsaid_keys(record: Any) -> tuple[str, ...]:
    """Return the keys of which a plan says nothing in a record, as the plan file spells them."""
    if not isinstance(record, Record):
        return ()
    fields = type(record).model_fields.items()
    return tuple(field.alias or name for name, field in fields if name not in record.model_fields_set)


def put_entries(
    page: Page,
    section: str,
    heading: str,
    entries: Sequence[Entry],
    *,
    names: Mapping[str, str] | None = None,
    unsaid: Collection[str] = (),
) -> None:
    """Write inputs that stand alone, one a row; their places are kept under (section, "", key).

    `names` are given to all inputs of one key, which stand one below the other. Those of which the plan says
    nothing, `unsaid`, carry a mark.
    """
    page.band(heading)
    page.headings(
        ("label", "value", "unit", "meaning"),
        (_("What"), _("Yours"), _("Unit"), _("What it means")),
        section=section,
    )
    for entry in entries:
        cells: list[tuple[Content, str]] = [
            (f"{section}.{entry.key}{UNSAID if entry.key in unsaid else ''}", "key"),
            (entry.label, "label"),
            (entry.content, f"input {entry.style}"),
            (entry.unit, "label"),
            (entry.meaning, "note"),
        ]
        row = page.put_row(cells)
        page.book.plan_inputs.append(entry.content)
        _grow_for_wrapped(page, row, cells)
        page.book.places[(section, "", entry.key)] = page.address(row, 3)
        if entry.name:
            page.name(entry.name, row, 3)
    rows = range(page.row - len(entries), page.row)
    for key, name in (names or {}).items():
        own = [row for row, entry in zip(rows, entries, strict=True) if entry.key == key]
        if own:
            page.name(name, own[0], 3, last_row=own[-1])
    page.row += 1


def put_table(
    page: Page,
    section: str,
    heading: str,
    records: Sequence[Any],
    columns: Sequence[Column],
    *,
    identity: Callable[[Any], str] | None = None,
    names: Mapping[str, str] | None = None,
    says: str = "",
    unsaid: bool = False,
) -> int:
    """Write one table with a row for each record and return its first data row.

    Each cell's place is kept under (section, identity, key); without `identity` under the record's number.
    `unsaid` tells that the plan has no such table, and that these records are assumed.
    """
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
            page.book.places[(section, identity(record) if identity else str(n), spec.key)] = page.address(
                row, column
            )
    last = page.row - 1
    if records:
        _offer_choices(page, columns, first, last)
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


def _offer_choices(page: Page, columns: Sequence[Column], first: int, last: int) -> None:
    for at, column in enumerate(columns, start=2):
        letter = get_column_letter(at)
        cells = f"{letter}{first}:{letter}{last}"
        options = CHOICES.get(column.key)
        if options is None and column.key in {"numbered", "whole_packs", "cash"}:
            options = YES_NO
        if options is not None:
            page.choose(cells, options, says=_("Choose one of: ") + ", ".join(options))
        elif column.key == "clay":
            page.choose(cells, "clay_names", says=_("Choose one of the clays above"))
        elif column.style.split(" ")[0] in {"whole", "number", "money", "percent", "percents", "rate"}:
            page.number_only(cells, says=_("A number, not below 0, is expected here"))


def yes_or_no(value: bool) -> str:
    """Return the word that a cell shows for true and false."""
    return "yes" if value else "no"


def number_or_none(value: Decimal | int | None) -> Content:
    """Return a number as a cell keeps it; None leaves the cell empty."""
    return None if value is None else number(value)


def _field(name: str) -> Callable[[Any], Content]:
    def value(record: Any) -> Content:
        content = getattr(record, name)
        return number(content) if isinstance(content, Decimal) else content

    return value


def column(key: str, heading: str, style: str, attribute: str = "") -> Column:
    """Return a column that shows an attribute of each record, by default the one named as the key."""
    return Column(key=key, heading=heading, style=style, value=_field(attribute or key))


def yes_column(key: str, heading: str) -> Column:
    """Return a column that shows a true or false attribute as yes or no."""
    return Column(
        key=key, heading=heading, style="text", value=lambda record: yes_or_no(getattr(record, key))
    )


def length_entry(key: str, label: str, length: Length | None, meaning: str = "") -> Entry:
    """Return an input for a length, shown in mm; empty where the plan gives none."""
    return number_entry(key, label, None if length is None else length.mm, "mm", meaning=meaning)


def number_entry(
    key: str,
    label: str,
    value: Decimal | int | None,
    unit: str = "",
    *,
    meaning: str = "",
    name: str = "",
) -> Entry:
    """Return an input for a number, empty where the plan gives none."""
    return Entry(
        key=key,
        label=label,
        content=number_or_none(value),
        style="number",
        unit=unit,
        meaning=meaning,
        name=name,
    )
