"""What a workbook's tables need to be read whole, and what is said where it is missing."""

from collections.abc import Collection, Iterator, Mapping
from typing import Final

from openpyxl.utils import get_column_letter

from salebook.base.words import _, ngettext
from salebook.book.declared import declared
from salebook.book.marks import LINKED, LIVE
from salebook.book.plan_cells import ALONE, MANY, SECTIONS, kinds_of
from salebook.book.reading.raw import Formula, Raw
from salebook.book.reading.tables import Row, Table, Tables
from salebook.event.question import Question

# Tables of the plan follow from its records; a test holds them, and those declared, against the books.
READ: Final[Mapping[str, tuple[str, ...]]] = {
    **dict.fromkeys(ALONE, ("value",)),
    **{section: tuple(kinds_of(section)) for section in SECTIONS if section not in ALONE},
}
"""The keys that are read of each table that is not declared."""


def keys_read() -> dict[str, tuple[str, ...]]:
    """Return the keys that are read of each table."""
    return {**READ, **{section: table.keys_read for section, table in declared().items()}}


def keys_typed() -> dict[str, tuple[str, ...]]:
    """Return the keys of each table that people fill in."""
    return {**keys_read(), **{section: table.keys_typed for section, table in declared().items()}}


def questions_on_tables(raw: Raw, tables: Tables, homes: Mapping[str, str]) -> Iterator[Question]:
    """Ask about what the tables of a sale's or a till's workbook have lost, and about merged cells."""
    yield from _missing(tables, homes)
    read, typed = keys_read(), keys_typed()
    for section, parts in tables.parts.items():
        yield from _lost_keys(read.get(section, ()), parts)
        for part in parts:
            yield from _doubled_keys(part)
            yield from _dragged_keys(read.get(section, ()), part)
            yield from _lost_marks(section, part, typed.get(section, ()))
            if section in read:
                yield from _merged(part, raw)
        if section in ALONE:
            yield from _entered_twice(tables.rows(section))


def _missing(tables: Tables, homes: Mapping[str, str]) -> Iterator[Question]:
    is_till = tables.has("till") and not tables.has("sale")
    needed = {"book", *(() if is_till else ("sale",)), *(("wares",) if tables.rows("wares") else ())}
    expected = [table.section for table in declared().values() if table.needed in needed]
    places = {section: (homes[section], 0) for section in expected}
    for section, (sheet, row) in {**places, **tables.without_keys}.items():
        if not tables.has(section):
            says = _("the small grey word [{section}] is missing: nothing is read from its table")
            yield Question(sheet=sheet, row=row, says=says.format(section=section))


def _lost_keys(keys: Collection[str], parts: Collection[Table]) -> Iterator[Question]:
    """Ask about keys that no part of a table has."""
    there = frozenset(key for part in parts for key in part.keys)
    lost = [key for key in keys if key not in there]
    for part in parts if lost else ():
        says = _("no small grey word {keys} above its column: what stands in that column is not read")
        yield Question(sheet=part.sheet, row=part.key_row, says=says.format(keys=", ".join(lost)))
        return


def _doubled_keys(part: Table) -> Iterator[Question]:
    for key in sorted(part.doubled):
        says = _("the column {key} stands here twice: where both say something, nothing is taken")
        yield Question(sheet=part.sheet, row=part.key_row, says=says.format(key=key))


def _dragged_keys(keys: Collection[str], part: Table) -> Iterator[Question]:
    for key in (key for key in keys if key in part.unheaded):
        says = _("no heading stands below the small grey word {key}: was it moved from its column?")
        yield Question(sheet=part.sheet, row=part.key_row, says=says.format(key=key))


def _lost_marks(section: str, part: Table, typed: Collection[str]) -> Iterator[Question]:
    """Ask about rows in which something was typed although they do not belong to the table."""
    table = declared().get(section)
    counts_all_the_same = table is not None and table.unmarked
    for row in () if counts_all_the_same else part.unmarked:
        belongs = row.number <= part.last_marked + 1 or (table is not None and table.is_last)
        if belongs and _has_typed(row, typed):
            yield row.asks(_("this row has lost its mark in the first column: it is not read"))
    for row in part.strays:
        yield row.asks(_("this row stands apart from its table, which has several parts: it is not read"))


def _has_typed(row: Row, keys: Collection[str]) -> bool:
    own = [key for key in keys if not key.startswith((LINKED, LIVE))]
    there = {key: row.cells.get(row.columns.get(key, 0)) for key in own}
    return row.has(key for key, value in there.items() if not isinstance(value, Formula))


def _merged(part: Table, raw: Raw) -> Iterator[Question]:
    numbers = {row.number for row in part.rows}
    for left, top, right, bottom in raw.sheets[part.sheet].merged:
        if top in numbers:
            cells = f"{get_column_letter(left)}{top}:{get_column_letter(right)}{bottom}"
            says = _("the cells {cells} are one: take them apart and see what is missing")
            yield Question(sheet=part.sheet, row=top, says=says.format(cells=cells))


def _entered_twice(rows: Collection[Row]) -> Iterator[Question]:
    """Ask about an entry of the plan that stands in two rows."""
    first: dict[str, Row] = {}
    for row in rows:
        key = row.mark.rpartition(".")[2]
        before = first.setdefault(row.mark, row)
        if key not in MANY and before.get("value") != row.get("value"):
            yield row.asks(_("this stands twice: the first row counts"))


def overwritten(tables: Tables) -> Iterator[Question]:
    """Say where something was typed over a formula."""
    for table in declared().values():
        for part in tables.parts.get(table.section, ()) if table.guarded else ():
            rows = [row.number for row in part.rows if row.overwritten & table.keys_live]
            if rows:
                says = ngettext(
                    "typed over a formula in {count} row from here on: the lines count, not this",
                    "typed over a formula in {count} rows from here on: the lines count, not this",
                    len(rows),
                )
                yield Question(sheet=part.sheet, row=rows[0], says=says.format(count=len(rows)))
