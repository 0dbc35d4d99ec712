"""The tables of a workbook's sheets, found by the small grey words of salebook, wherever they stand."""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from openpyxl.utils import get_column_letter

from salebook.book.marks import LIVE
from salebook.book.reading.raw import Cells, Formula, Raw, Sheet, SheetError
from salebook.event.question import Question

# Tables are found by the thin grey row of keys above the headings, never by position or by a word that
# is translated.
KEY_ROW: Final = re.compile(r"\[([a-z_]+(?:\.[a-z_]+)?)\]")
KEY: Final = re.compile(r"=?[a-z_]+(?:\.[a-z_]+)*")
MARK: Final = re.compile(r"([a-z0-9_]+(?:\.[a-z0-9_]+)*)(\?.*)?")

# openpyxl gives None for a formula that was never calculated, which is not 0. So amounts are worked out
# from what was typed, never from stored results.
UNCALCULATED: Final = SheetError("=")
"""Stands for what a formula would show that was never calculated."""


@dataclass(frozen=True, kw_only=True)
class Row:
    """One row of a table: what stands under each key."""

    sheet: str
    number: int
    cells: Cells
    columns: Mapping[str, int]
    headings: Cells
    raw: Raw
    torn: Mapping[str, Any]
    """What stands under keys that stand twice: the one thing that both say, or UNCALCULATED."""
    overwritten: frozenset[str] = frozenset()
    """Keys of live columns where something was typed over the formula."""
    mark: str = ""
    """What stands in the first column: the table's name, or that and an entry's key."""
    assumed: tuple[str, ...] = ()
    """Keys of which the plan said nothing."""

    def get(self, key: str) -> Any:
        """Return what stands under a key, a formula's last result for a formula; None where nothing does."""
        if key in self.torn:
            return self.torn[key]
        column = self.columns.get(key)
        value = None if column is None else self.cells.get(column)
        if column is not None and isinstance(value, Formula):
            result = self.raw.value(self.sheet, self.number, column)
            return UNCALCULATED if result is None else result
        return value

    def column(self, key: str) -> str:
        """Return the letter of a key's column as a spreadsheet program has it; where it is torn, the key."""
        return get_column_letter(self.columns[key]) if key in self.columns else key

    def asks(self, says: str) -> Question:
        """Return a question about this row."""
        return Question(sheet=self.sheet, row=self.number, says=says)

    def has(self, keys: Iterable[str]) -> bool:
        """Whether anything stands under one of the keys."""
        return any(_is_filled(self.cells.get(self.columns.get(key, 0))) or key in self.torn for key in keys)


def _is_filled(value: Any) -> bool:
    return value is not None and (not isinstance(value, str) or bool(value.strip()))


@dataclass(frozen=True, kw_only=True)
class Table:
    """One table with its keys, or one of several parts of it."""

    section: str
    sheet: str
    key_row: int
    keys: frozenset[str]
    rows: tuple[Row, ...]
    """Rows that carry the table's mark."""
    unmarked: tuple[Row, ...]
    """Rows below the headings without the mark; most are headings and notes."""
    strays: tuple[Row, ...] = ()
    """Rows with the mark that stand apart from a table of several parts: to which one, nobody can say."""
    doubled: frozenset[str] = frozenset()
    unheaded: frozenset[str] = frozenset()
    """Keys that stand above no heading, although others do: as where one was dragged elsewhere."""
    last_marked: int = 0


@dataclass(frozen=True, kw_only=True)
class Tables:
    """All tables of a workbook, by section."""

    parts: Mapping[str, tuple[Table, ...]]
    without_keys: Mapping[str, tuple[str, int]] = field(default_factory=dict)
    """Sections of which rows are there, but no row of keys: the sheet and the first of these rows."""
    copies: frozenset[str] = frozenset()
    """Sheets with tables that stand elsewhere in the book too: copies, of which nothing is read."""

    def has(self, section: str) -> bool:
        """Whether there is such a table."""
        return bool(self.parts.get(section))

    def rows(self, section: str) -> tuple[Row, ...]:
        """Return the rows of a section, all parts of it."""
        return tuple(row for part in self.parts.get(section, ()) for row in part.rows)

    def sheet(self, section: str) -> str:
        """Return the name of the sheet on which a section stands in this workbook; empty where it is not."""
        return next((part.sheet for part in self.parts.get(section, ())), "")


def tables_of(raw: Raw, homes: Mapping[str, str], own_sheets: Collection[str]) -> Tables:
    """Find the tables of a workbook; `homes` says on which sheet a section belongs.

    Where a sheet was copied, the one of the right name counts, and the other is asked about.
    """
    found: dict[str, list[Table]] = {}
    for sheet in raw.sheets.values():
        for table in _tables_of(sheet, raw):
            if table.section in homes:
                found.setdefault(table.section, []).append(table)
    parts: dict[str, tuple[Table, ...]] = {}
    copies: set[str] = set()
    for section, tables in found.items():
        home = _home(tables, homes[section], own_sheets)
        copies |= {table.sheet for table in tables if table.sheet != home} - set(own_sheets)
        if home:
            parts[section] = tuple(table for table in tables if table.sheet == home)
    absent = {section: home for section, home in homes.items() if section not in parts}
    lost = _without_keys(raw, absent, {*own_sheets, *copies})
    return Tables(parts=parts, without_keys=lost, copies=frozenset(copies))


def _home(tables: Sequence[Table], home: str, own_sheets: Collection[str]) -> str:
    """Return the sheet whose table counts: the right one, or one that was given a name of its own.

    Empty where there is none: another sheet of the book may have a table called alike.
    """
    sheets = [table.sheet for table in tables]
    return home if home in sheets else next((sheet for sheet in sheets if sheet not in own_sheets), "")


def _without_keys(raw: Raw, absent: Mapping[str, str], others: Collection[str]) -> dict[str, tuple[str, int]]:
    """Return where the marks of tables stand that have lost their row of keys.

    `absent` says on which sheet a section belongs; on `others` it can only stand where that is the one.
    """
    found: dict[str, tuple[str, int]] = {}
    for sheet in raw.sheets.values():
        for number, cells in sheet.rows:
            mark = cells[min(cells)]
            said = MARK.fullmatch(mark) if isinstance(mark, str) else None
            for section in {said[1], said[1].partition(".")[0]} & absent.keys() if said else ():
                if sheet.title == absent[section] or sheet.title not in others:
                    found.setdefault(section, (sheet.title, number))
    return found


@dataclass
class _Draft:
    section: str
    row: int
    marks: int
    columns: Mapping[str, Sequence[int]]
    rows: list[tuple[int, Cells, re.Match[str]]] = field(default_factory=list)
    others: list[tuple[int, Cells]] = field(default_factory=list)
    strays: list[tuple[int, Cells]] = field(default_factory=list)


def _tables_of(sheet: Sheet, raw: Raw) -> Iterator[Table]:
    drafts: list[_Draft] = []
    loose: list[tuple[int, Cells, _Draft | None]] = []
    for number, cells in sheet.rows:
        draft = drafts[-1] if drafts else None
        begun = _begun(number, cells)
        mark = _mark(cells.get(draft.marks), draft.section) if draft else None
        if begun is not None:
            drafts.append(begun)
        elif draft is not None and mark is not None:
            draft.rows.append((number, cells, mark))
        else:
            loose.append((number, cells, draft))
    _take_in(loose, drafts)
    for draft in drafts:
        yield _table(draft, sheet, raw)


def _take_in(loose: Sequence[tuple[int, Cells, _Draft | None]], drafts: Sequence[_Draft]) -> None:
    """Give rows that were moved out of their table back to it; others belong to no table."""
    for number, cells, above in loose:
        marked = [(draft, mark) for draft in drafts if (mark := _mark(cells.get(draft.marks), draft.section))]
        if marked and all(draft.columns == marked[0][0].columns for draft, _mark in marked):
            draft, mark = marked[0]
            draft.rows.append((number, cells, mark))
        elif marked:
            marked[0][0].strays.append((number, cells))
        elif above is not None and number != above.row + 1:
            above.others.append((number, cells))


def _begun(number: int, cells: Cells) -> _Draft | None:
    """Return the table that begins where a row is a row of keys."""
    if len(cells) < 2:
        return None
    for column in sorted(cells)[:3]:
        value = cells[column]
        found = KEY_ROW.fullmatch(value.strip()) if isinstance(value, str) else None
        after = next((cells[at] for at in sorted(cells) if at > column), None)
        if found and _is_key(after):
            columns: dict[str, list[int]] = {}
            for at in sorted(cells):
                key = cells[at]
                if at > column and isinstance(key, str) and not isinstance(key, SheetError) and key.strip():
                    columns.setdefault(key.strip(), []).append(at)
            return _Draft(section=found[1], row=number, marks=column, columns=columns)
    return None


def _is_key(value: Any) -> bool:
    """Whether a cell holds a key: what tells a row of keys from a row that a person marked like one."""
    return isinstance(value, str) and not isinstance(value, Formula) and bool(KEY.fullmatch(value.strip()))


def _mark(value: Any, section: str) -> re.Match[str] | None:
    if value == section:
        return MARK.fullmatch(section)
    if not isinstance(value, str) or not value.startswith(section):
        return None
    found = MARK.fullmatch(value.strip())
    return found if found and (found[1] == section or found[1].startswith(section + ".")) else None


def _table(draft: _Draft, sheet: Sheet, raw: Raw) -> Table:
    columns = {key: at[0] for key, at in draft.columns.items() if len(at) == 1}
    live = [(key, at) for key, at in columns.items() if key.startswith(LIVE)]
    doubled = {key: at for key, at in draft.columns.items() if len(at) > 1 and not key.startswith(LIVE)}
    headings = sheet.by_number.get(draft.row + 1, {})

    def row(number: int, cells: Cells, mark: re.Match[str] | None) -> Row:
        return Row(
            sheet=sheet.title,
            number=number,
            cells=cells,
            columns=columns,
            headings=headings,
            raw=raw,
            torn=_joined(doubled, cells) if doubled else {},
            overwritten=frozenset(key for key, at in live if _is_overwritten(cells.get(at))),
            mark=mark[1] if mark else "",
            assumed=tuple(mark[2][1:].split(",")) if mark and mark[2] else (),
        )

    return Table(
        section=draft.section,
        sheet=sheet.title,
        key_row=draft.row,
        keys=frozenset(draft.columns),
        rows=tuple(row(*one) for one in draft.rows),
        unmarked=tuple(row(number, cells, None) for number, cells in draft.others),
        strays=tuple(row(number, cells, None) for number, cells in draft.strays),
        doubled=frozenset(doubled),
        unheaded=_unheaded(columns, headings),
        last_marked=max((number for number, _cells, _mark in draft.rows), default=draft.row + 1),
    )


def _unheaded(columns: Mapping[str, int], headings: Cells) -> frozenset[str]:
    bare = frozenset(key for key, at in columns.items() if not _is_filled(headings.get(at)))
    return bare if len(bare) < len(columns) else frozenset()


def _is_overwritten(value: Any) -> bool:
    return value is not None and not isinstance(value, Formula)


def _joined(doubled: Mapping[str, Sequence[int]], cells: Cells) -> dict[str, Any]:
    """Return what stands under doubled keys, where the columns do not contradict one another."""
    joined = {}
    for key, columns in doubled.items():
        there = [cells[at] for at in columns if _is_filled(cells.get(at))]
        if there:
            joined[key] = there[0] if all(value == there[0] for value in there) else UNCALCULATED
    return joined
