"""A table of a sheet, declared once: its cells, names, choices and marks, and what is read back from it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from itertools import groupby
from typing import Any, Final, Generic, Literal, TypeVar, Unpack

from openpyxl.utils import get_column_letter

from salebook.book.column import Column, Options, Sum, getter_of
from salebook.book.figure import Figure
from salebook.book.page import USUAL_WIDTH, Content, Page
from salebook.book.references import Placed, Scope
from salebook.book.row_height import fit_height
from salebook.book.style import INK, KINDS, WELL

Row = TypeVar("Row")
Needed = Literal["", "book", "sale", "wares"]
"""In which books a table must be: any, also that of one table; a sale's; one with pieces of the maker's."""
FIRST_COLUMN: Final = 2
"""Where tables begin: before them stand the marks."""

HELPER_WIDTH: Final = USUAL_WIDTH


class Table(Generic[Row]):
    """A table, declared column by column; the declaration needs neither a book nor a plan.

    A formula names the cell of this row as [key], the whole column as [key:], the column down to this row as
    [key^], as many cells at its end as [key~], the cell above as [key-], the one below as [key>] and that in
    the row of totals as [key+]; with a section before it, [section.key:], the column of another table, and
    [section.key] the cell in that table's row of the same record; [section.key@record] is about the record
    that it names, a code or a number. [#] is the row's number. [name@3] is the third cell of what a defined
    name stands for, [name@#] that of the row's number.
    """

    def __init__(
        self,
        section: str,
        sheet: str,
        *,
        record: Callable[[Row], str] | None = None,
        part: Callable[[Row], str] | None = None,
        mark: Callable[[Row], str] | None = None,
        stands_for: Sequence[str] = (),
        empty: str = "",
        needed: Needed = "",
        unmarked: bool = False,
        guarded: bool = False,
        is_last: bool = False,
        bare: bool = False,
        fitted: bool = False,
    ) -> None:
        """Begin a table whose rows are each about a `record`: by default the row's number.

        Rows of the same `part` stand together: [section.key:] is the part called as a row's record, and
        names of columns are given to each. `mark` is what stands before a row, by default the section.
        Formulas that name the tables it `stands_for`, which its book lacks, find this one. `empty` stands in
        its only row where it has none. `unmarked` tells that rows count that have lost their mark, `guarded`
        that it is said where a formula was typed over, `is_last` that nothing else stands below it: any row
        there was meant for it. A `bare` table has neither headings nor keys nor marks; rows that are `fitted`
        are as tall as their texts need.
        """
        self.section, self.sheet, self.needed = section, sheet, needed
        self.unmarked, self.guarded, self.is_last = unmarked, guarded, is_last
        self.columns: list[Column[Row]] = []
        self._record, self._part, self._mark = record, part, mark
        self._stands_for, self._bare, self._fitted = stands_for, bare, fitted
        self._empty, self._label = empty, ""
        self._shown: int | None = None
        self._others: dict[str, Callable[[Row], str]] = {}

    def input(
        self,
        key: str,
        heading: str,
        style: str,
        value: Callable[[Row], Any] | str = "",
        **options: Unpack[Options],
    ) -> None:
        """Add a column that people fill in: all that it holds is read.

        The value is a function of the row or a path of attributes, such as "ware.name"; by default the
        attribute `key`.
        """
        shown = getter_of(value, key)
        self._add(
            Column(key=key, heading=heading, style=f"input {style}", value=shown, typed=True, **options)
        )

    def fixed(
        self,
        key: str,
        heading: str,
        style: str | Callable[[Row], str],
        value: Callable[[Row], Any] | str = "",
        **options: Unpack[Options],
    ) -> None:
        """Add a column that salebook fills in with plain values."""
        shown = getter_of(value, key)
        self._add(Column(key=key, heading=heading, style=style, value=shown, **options))

    def live(
        self,
        key: str,
        heading: str,
        style: str | Callable[[Row], str],
        formula: str | Callable[[Row], str],
        value: Callable[[Row], Any] | str = "",
        **options: Unpack[Options],
    ) -> None:
        """Add a column that is worked out; a style that names no kind of cell is a plain or small result."""
        kind = "result" if self._shown is None else "small"
        is_whole = not isinstance(style, str) or style.partition(" ")[0] in KINDS
        look = style if is_whole else f"{kind} {style}"
        shown = getter_of(value, key)
        self._add(Column(key=key, heading=heading, style=look, value=shown, formula=formula, **options))

    def gap(self) -> None:
        """Leave a column free, as other tables of the sheet need it wide."""
        self._add(Column(key="", heading="", style="", value=lambda _row: None))

    def skip_to(self, column: int) -> None:
        """Let what follows stand right of the printed page, from a column on."""
        while len(self.columns) + FIRST_COLUMN < column:
            self._add(Column(key="", heading=None, style="", value=lambda _row: None))

    def helpers(self) -> None:
        """Begin the columns right of what is printed, small and narrow: only other formulas need them."""
        self._shown = len(self.columns)

    def total(self, label: str) -> None:
        """Close the table with a row of sums; it carries no mark, as it is no row of the table."""
        self._label = label

    def join(self, section: str, record: Callable[[Row], str]) -> None:
        """Say about which record of another table a row is, where that is not the row's own."""
        self._others[section] = record

    def _add(self, column: Column[Row]) -> None:
        if column.key and any(column.key == other.key for other in self.columns):
            raise ValueError(f"[{self.section}] has the column {column.key} twice")
        self.columns.append(column)

    def __getitem__(self, key: str) -> Column[Row]:
        """Return the column of a key."""
        return next(column for column in self.columns if column.key == key)

    @property
    def keys_read(self) -> tuple[str, ...]:
        """The keys that are read."""
        return tuple(column.key for column in self.columns if column.typed or column.read)

    @property
    def keys_typed(self) -> tuple[str, ...]:
        """The keys of columns in which what stands shows a row: typed by people, where they type any."""
        typed = tuple(column.key for column in self.columns if column.typed and column.evidence)
        return typed or self.keys_read

    @property
    def keys_live(self) -> frozenset[str]:
        """The keys of columns that are worked out."""
        return frozenset(column.key for column in self.columns if column.formula)

    @property
    def widths(self) -> tuple[float, ...]:
        """The widths of the columns that are printed, for a sheet that has no other table."""
        return tuple(column.width for column in self.columns[: self._shown])

    def write(
        self, page: Page, rows: Sequence[Row], *, spare: int = 0, part: str = "", left: int = FIRST_COLUMN
    ) -> Placed:
        """Write the headings, a row for each, and `spare` empty ones; a table of several parts names each.

        `left` is the first column, where a bare table stands beside others.
        """
        if not self._bare:
            page.headings(
                [column.key for column in self.columns],
                [column.heading for column in self.columns],
                section=self.section,
            )
        placed = self._place(page, rows, spare, part, left)
        for row in (*rows, *[None] * spare):
            self._write_row(page, row, placed)
        if not rows and not spare and self._empty:
            self._write_cells(page, placed, self.section, [(self._empty, "label")])
        self._name_columns(page, {part: placed}, self._place_parts(page, rows, placed))
        if rows or spare:
            self._guard_columns(page, placed)
        self._fold_helpers(page, placed)
        if self._label:
            self._write_total(page, rows, placed)
        return placed

    def _place(self, page: Page, rows: Sequence[Row], spare: int, part: str, left: int) -> Placed:
        record = self._record
        count = len(rows) + spare or bool(self._empty)
        # Without any row its columns are their headings, which every sum takes for nothing.
        first = page.row if count else page.row - 1
        placed = Placed(
            section=self.section,
            sheet=page.sheet.title,
            left=left,
            columns={c.key: get_column_letter(at) for at, c in enumerate(self.columns, start=left)},
            first=first,
            last=first + max(count, 1) - 1,
            shown=get_column_letter(left - 1 + len(self.widths)),
            rows={
                record(row) if record else str(at - page.row + 1): at
                for at, row in enumerate(rows, start=page.row)
            },
        )
        for section in (self.section, *self._stands_for):
            page.book.references.tables[section, part] = placed
        return placed

    def _place_parts(self, page: Page, rows: Sequence[Row], placed: Placed) -> Mapping[str, Placed]:
        parts, first = {}, placed.first
        for part, rows_of in groupby(rows, self._part) if self._part else ():
            last = first + len(list(rows_of)) - 1
            parts[part] = replace(placed, first=first, last=last)
            page.book.references.tables[self.section, part] = parts[part]
            first = last + 1
        return parts

    def _write_row(self, page: Page, row: Row | None, placed: Placed) -> None:
        position = str(page.row - placed.first + 1)
        record = partial(self._record_of, row, position)
        scope = Scope(sheet=placed.sheet, table=placed, row=page.row, record=record)
        cells = [(column.content(row, placed, page.row), column.look(row)) for column in self.columns]
        mark = self._mark(row) if self._mark and row is not None else self.section
        self._write_cells(page, placed, "" if self._bare else mark, cells, scope)
        if self._fitted:
            fit_height(page, page.row - 1, cells)

    def _record_of(self, row: Row | None, position: str, section: str) -> str:
        record = self._others.get(section, self._record)
        return record(row) if record and row is not None else position

    def _write_cells(
        self,
        page: Page,
        placed: Placed,
        mark: str,
        cells: Sequence[tuple[Content, str]],
        scope: Scope | None = None,
    ) -> None:
        if mark:
            page.put(page.row, 1, mark, "key")
        for at, (content, style) in enumerate(cells, start=placed.left):
            if style:
                page.put(page.row, at, content, style, scope)
        page.row += 1

    def _name_columns(self, page: Page, whole: Mapping[str, Placed], parts: Mapping[str, Placed]) -> None:
        for column in (column for column in self.columns if column.name):
            for part, placed in (parts if parts and "{part}" in column.name else whole).items():
                name = column.name.format(part=part)
                page.name(
                    name, placed.first, placed.column(column.key), last_row=self._last_named(page, placed)
                )

    def _last_named(self, page: Page, placed: Placed) -> int:
        if not self.is_last or placed.last > placed.first:
            return placed.last
        # Some programs give an error where INDEX looks into a single cell.
        page.put(placed.last + 1, FIRST_COLUMN, None, "label")
        return placed.last + 1

    def _guard_columns(self, page: Page, placed: Placed) -> None:
        for column in self.columns:
            cells = placed.cells(column.key)
            column.rule(page, cells)
            if column.alarm:
                page.highlight(cells, column.alarm, placed.scope)
            if column.well:
                page.highlight(cells, column.well, placed.scope, colour=INK, fill=WELL)

    def _fold_helpers(self, page: Page, placed: Placed) -> None:
        """Hide the columns that only formulas need, in a group that can be unfolded."""
        shapes = page.sheet.column_dimensions
        helpers = [placed.letter(column.key) for column in self.columns[len(self.widths) :] if column.key]
        for shape in (shapes[letter] for letter in helpers):
            # A table above may have fewer of them: its group goes on in this one's.
            shape.width, shape.outline_level, shape.hidden, shape.collapsed = HELPER_WIDTH, 1, True, False
        if helpers:
            shapes[get_column_letter(placed.left + len(self.columns))].collapsed = True
            # openpyxl writes this before it finds the deepest group by itself.
            shapes.max_outline = 1

    def _write_total(self, page: Page, rows: Sequence[Row], placed: Placed) -> None:
        cells: list[tuple[Content, str]] = [(self._label, "total")]
        for column in self.columns[1:]:
            cells.append((None, "") if column.total is None else _summed(column, column.total, rows))
        for at, column in enumerate(self.columns, start=placed.left):
            if column.total and column.total.name:
                page.name(column.total.name, page.row, at)
        self._write_cells(page, placed, "", cells, Scope(sheet=placed.sheet, table=placed, row=page.row))


def _summed(column: Column[Row], total: Sum, rows: Sequence[Row]) -> tuple[Figure, str]:
    formula = total.formula or f"SUM([{column.key}:])"
    value = total.value(rows) if total.value else sum(column.value(row) for row in rows)
    kind, _space, number_format = column.look(None).partition(" ")
    style = total.style or f"{'worked' if kind == 'worked' else 'total'} {number_format}"
    return Figure(f"={formula}", value), style


def put_line(
    page: Page,
    label: str,
    content: Content,
    style: str,
    *,
    name: str = "",
    column: int = 3,
    note: tuple[Content, str] | None = None,
    label_style: str = "label",
) -> str:
    """Write a label, in a column a figure that may have a name, and what is to say beside it.

    Returns the absolute address of the figure's cell.
    """
    page.put(page.row, 2, label, label_style)
    page.put(page.row, column, content, style)
    if note:
        page.put(page.row, column + 1, *note)
    if name:
        page.name(name, page.row, column)
    page.row += 1
    return page.address(page.row - 1, column).rpartition("!")[2]
