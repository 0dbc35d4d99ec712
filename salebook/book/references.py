"""What a formula names in square brackets, and the cells that it means once every sheet is written."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from openpyxl.utils import column_index_from_string
from openpyxl.utils.cell import coordinate_from_string

from salebook.book.marks import LINKED, LIVE

# Texts and titles of sheets are passed over: what a person wrote in brackets is no reference.
NAMED: Final = re.compile(
    r"""(?P<said>"(?:[^"]|"")*"|'(?:[^']|'')*')|\[(?P<key>=?[\w.]+(?:@(?:\w+|\#))?|\#)(?P<mark>[:^~+>-]?)\]"""
)


ROW: Final = "\0"
"""Stands for the row's number in the formula of a column."""


class UnknownReferenceError(LookupError):
    """A formula names a table, a column or a record that is not there: a mistake in a sheet's module."""


@dataclass(frozen=True, kw_only=True)
class Placed:
    """Where a table, or one of several parts of it, stands on its sheet."""

    section: str
    sheet: str
    left: int
    """The number of the first column."""
    columns: Mapping[str, str]
    """The letter of each column, by its key."""
    first: int
    last: int
    rows: Mapping[str, int]
    """The row of each record, by its name, code or number."""
    shown: str
    """The letter of the last column that is printed; those right of it only other formulas need."""
    _of_columns: dict[str, str] = field(default_factory=dict, init=False, repr=False, compare=False)

    def find(self, said: str) -> str | None:
        """Return a column's letter, if there is one: the marks with which keys begin may be left out."""
        columns = self.columns
        return columns.get(said) or columns.get(LIVE + said) or columns.get(LINKED + said)

    def letter(self, said: str) -> str:
        """Return a column's letter.

        Raises UnknownReferenceError.
        """
        letter = self.find(said)
        if letter is None:
            raise UnknownReferenceError(f"[{self.section}] has no column {said}")
        return letter

    def column(self, said: str) -> int:
        """Return a column's number."""
        return column_index_from_string(self.letter(said))

    def cells(self, said: str, *, absolute: bool = False) -> str:
        """Return the address of a whole column on its sheet, without the row of totals."""
        letter, sign = self.letter(said), "$" if absolute else ""
        return f"{sign}{letter}{sign}{self.first}:{sign}{letter}{sign}{self.last}"

    @property
    def body(self) -> str:
        """The cells of all rows."""
        letters = list(self.columns.values())
        return f"{letters[0]}{self.first}:{letters[-1]}{self.last}"

    @property
    def area(self) -> str:
        """The cells from the top of the sheet down to the table's end, as wide as what is printed of it."""
        return f"{next(iter(self.columns.values()))}1:{self.shown}{self.last}"

    @property
    def scope(self) -> "Scope":
        """From where the formula of a mark looks: the first row; columns stay when it is moved sideways."""
        return Scope(sheet=self.sheet, table=self, row=self.first, sign="$")

    def below(self, said: str) -> str:
        """Return the absolute address of a column's cell in the row of totals."""
        return f"${self.letter(said)}${self.last + 1}"

    def in_row(self, formula: str, row: int) -> str:
        """Return a formula with the cells of a row and of whole columns; other references stay."""
        # A sale of 5 000 pieces has half a million formulas, but the same few in each row.
        there = self._of_columns.get(formula)
        if there is None:
            there = self._of_columns[formula] = "".join(map(self._of_column, _parts(formula)))
        return there.replace(ROW, str(row))

    def _of_column(self, part: str | tuple[str, str]) -> str:
        if isinstance(part, str):
            return part
        key, mark = part
        letter = self.find(key)
        if letter is None or mark not in {"", ":", "^", "+"}:
            return f"[{key}{mark}]"
        return _own(self, letter, mark, ROW)


def _nothing(_section: str) -> str:
    return ""


@dataclass(frozen=True, kw_only=True)
class Scope:
    """From where a formula looks: its sheet, and the row of a table where it stands in one."""

    sheet: str
    table: Placed | None = None
    row: int = 0
    record: Callable[[str], str] = _nothing
    """Which record of another table, by its section, the row is about."""
    sign: str = ""
    """A dollar where columns stay when the formula is moved sideways, as those of marks must."""


@dataclass(frozen=True)
class References:
    """All that formulas of a workbook can name."""

    places: dict[tuple[str, ...], str] = field(default_factory=dict)
    """The address of a cell with its sheet, by section, record and key."""
    tables: dict[tuple[str, str], Placed] = field(default_factory=dict)
    """Tables by section and part; a whole table's part has no name."""
    names: dict[str, str] = field(default_factory=dict)
    """What defined names stand for: a cell or a piece of a column, with its sheet."""

    def resolved(self, formula: str, scope: Scope) -> str:
        """Return a formula with the addresses of what it names in brackets, as Table explains it.

        Raises UnknownReferenceError.
        """
        said = ""
        for part in _parts(formula):
            said += part if isinstance(part, str) else self._address(*part, scope, after=said[-1:])
        return said

    def _address(self, said: str, mark: str, scope: Scope, *, after: str) -> str:
        if scope.table and said == "#":
            return str(scope.row - scope.table.first + 1)
        letter = scope.table.find(said) if scope.table else None
        if scope.table and letter:
            return _own(scope.table, scope.sign + letter, mark, scope.row)
        sheet, cells = self._elsewhere(said, mark, scope)
        # In A1:B1 only the first cell says its sheet.
        if sheet == scope.sheet or after == ":":
            return cells
        title = sheet.replace("'", "''")
        return f"'{title}'!{cells}"

    def _elsewhere(self, said: str, mark: str, scope: Scope) -> tuple[str, str]:
        name, _at, about = said.partition("@")
        if name in self.names:
            number = str(scope.row - scope.table.first + 1) if about == "#" and scope.table else about
            return _nth_cell(self.names[name], int(number))
        for section, key in _split(name):
            record = about or scope.record(section)
            if mark:
                table = self.tables.get((section, record)) or self.tables.get((section, ""))
                if table and table.find(key):
                    return table.sheet, table.cells(key, absolute=True) if mark == ":" else table.below(key)
                continue
            for (name, _part), table in self.tables.items():
                if name == section and record in table.rows and table.find(key):
                    return table.sheet, f"${table.letter(key)}${table.rows[record]}"
            place = self.places.get((section, record, key)) or self.places.get((section, "", key))
            if place:
                return _sheet_and_cells(place)
        raise UnknownReferenceError(f"a formula on {scope.sheet} names [{said}{mark}], which is nowhere")


def _sheet_and_cells(address: str) -> tuple[str, str]:
    sheet, _mark, cells = address.rpartition("!")
    return sheet[1:-1].replace("''", "'"), cells


def _nth_cell(address: str, n: int) -> tuple[str, str]:
    # Not INDEX(name,n): some programs give an error where the name stands for a single cell.
    sheet, cells = _sheet_and_cells(address)
    column, first = cells.partition(":")[0].rsplit("$", 1)
    return sheet, f"{column}${int(first) + n - 1}"


def cells_of(address: str) -> Iterator[tuple[str, str]]:
    """Yield the sheet and the plain address of each cell of a cell or a piece of a column."""
    sheet, cells = _sheet_and_cells(address)
    first, _colon, last = cells.replace("$", "").partition(":")
    column, row = coordinate_from_string(first)
    _same, last_row = coordinate_from_string(last or first)
    yield from ((sheet, f"{column}{at}") for at in range(row, last_row + 1))


def _own(table: Placed, letter: str, mark: str, row: int | str) -> str:
    match mark:
        case "":
            return f"{letter}{row}"
        case ":":
            return f"{letter}${table.first}:{letter}${table.last}"
        case "^":
            return f"{letter}${table.first}:{letter}{row}"
        case "+":
            return f"{letter}${table.last + 1}"
        case "~":
            return f"{letter}${table.first + table.last - int(row)}:{letter}${table.last}"
        case _:
            return f"{letter}{int(row) + (1 if mark == '>' else -1)}"


def _split(said: str) -> Iterator[tuple[str, str]]:
    """Yield every way to take a reference as a section and a key, the longest section first."""
    at = said.rfind(".")
    while at > 0:
        yield said[:at], said[at + 1 :]
        at = said.rfind(".", 0, at)


@lru_cache(maxsize=4096)  # the formulas of a book are few, and the same in each row
def _parts(formula: str) -> tuple[str | tuple[str, str], ...]:
    """Return a formula as what stands in it and what it names, a key and a mark."""
    parts: list[str | tuple[str, str]] = []
    end = 0
    for found in NAMED.finditer(formula):
        parts.append(formula[end : found.start()])
        parts.append(found["said"] or (found["key"], found["mark"]))
        end = found.end()
    parts.append(formula[end:])
    return tuple(parts)
