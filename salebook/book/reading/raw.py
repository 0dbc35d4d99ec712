"""The rows of a workbook as they stand, before anything is made of them."""

import re
from collections.abc import Callable, Collection, Generator, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from operator import itemgetter
from typing import Any, Final
from xml.etree.ElementTree import iterparse

from openpyxl.styles.numbers import BUILTIN_FORMATS, BUILTIN_FORMATS_MAX_SIZE
from openpyxl.utils import column_index_from_string, range_boundaries
from openpyxl.worksheet._reader import INLINE_STRING, ROW_TAG, VALUE_TAG, WorkSheetParser

from salebook.book.file.opening import Opened, damaged

REFERENCE: Final = re.compile(
    r"=(?:(?:'(?P<quoted>(?:[^']|'')+)'|\$?(?P<plain>[^\W\d][\w.]*))!)?"
    r"\$?(?P<column>[A-Z]{1,3})\$?(?P<row>[0-9]{1,7})"
)
PLAIN_TEXT: Final = VALUE_TAG.replace("}v", "}t")
LONGEST_NAME: Final = 10_000
LONGEST_REFERENCE: Final = 60
MOST_STEPS: Final = 9
"""A formula that names a cell that names a cell …: so far it is followed."""


class Formula(str):
    """What a formula cell holds: its text where that is the address of another cell."""

    __slots__ = ()


class SheetError(str):
    """An error that a cell shows, such as #REF!."""

    __slots__ = ()


class Percentage(float):
    """A number in a cell that shows it as a percentage: 0.5 shows as 50 %."""

    __slots__ = ()

    def __str__(self) -> str:
        return f"{float(self) * 100:.12g}%"


FORMULA: Final = Formula("=")
"""Any formula but the address of another cell."""

Cells = dict[int, Any]
"""What stands in a row, by column; cells that are empty are left out."""


@dataclass(frozen=True)
class Sheet:
    """One sheet: its rows by their numbers, and its merged ranges.

    A range is left column, top row, right column, bottom row.
    """

    title: str
    rows: Sequence[tuple[int, Cells]]
    merged: tuple[tuple[int, int, int, int], ...] = ()
    is_in_error: bool = False
    """Whether a cell on it shows an error."""

    @cached_property
    def by_number(self) -> Mapping[int, Cells]:
        """The rows by number; of two with one number the first."""
        return dict(reversed(self.rows))


@dataclass(frozen=True, kw_only=True)
class Raw:
    """A workbook's sheets by title, its names and its properties; results are read when first asked for."""

    sheets: Mapping[str, Sheet]
    names: Mapping[str, str]
    properties: Mapping[str, object]
    _results_of: Callable[[str], Mapping[int, Cells]]
    _results: dict[str, Mapping[int, Cells]] = field(default_factory=dict)

    def result(self, sheet: str, row: int, column: int) -> Any:
        """Return what a formula's cell showed when it was last calculated; None: it never was."""
        if sheet not in self._results:
            self._results[sheet] = self._results_of(sheet)
        return self._results[sheet].get(row, {}).get(column)

    def value(self, sheet: str, row: int, column: int) -> Any:
        """Return what a cell holds; a formula that only names another cell shows what that one holds."""
        for _step in range(MOST_STEPS):
            there = self.sheets.get(sheet)
            value = there.by_number.get(row, {}).get(column) if there else None
            if not isinstance(value, Formula):
                return value
            named = REFERENCE.fullmatch(value)
            if named is None:
                return self.result(sheet, row, column)
            sheet = (named["quoted"] or named["plain"] or sheet).replace("''", "'")
            row, column = int(named["row"]), column_index_from_string(named["column"])
        return None

    def named(self, name: str) -> list[Any]:
        """Return what the cells of a name showed when last calculated; empty where there is no such name."""
        return [self.result(*cell) for cell in self._cells_of(name)]

    def plain(self, name: str) -> list[Any]:
        """Return what the cells of a name hold; empty where there is no such name."""
        return [self.value(*cell) for cell in self._cells_of(name)]

    def _cells_of(self, name: str) -> list[tuple[str, int, int]]:
        sheet, _mark, cells = self.names.get(name, "").rpartition("!")
        title = sheet.strip("'").replace("''", "'")
        try:
            left, top, _right, bottom = range_boundaries(cells.replace("$", ""))
        except (ValueError, TypeError):
            return []
        if left is None or top is None or bottom is None:
            return []
        if title not in self.sheets or bottom - top > LONGEST_NAME:
            return []
        return [(title, row, left) for row in range(top, bottom + 1)]


def read_raw(opened: Opened) -> Raw:
    """Read every sheet of a workbook.

    Raises FileError where it is damaged.
    """
    workbook = opened.workbook()
    if len(workbook.worksheets) < len(opened.merged):
        raise damaged(opened.file)  # a sheet is in the file, but nothing leads to it
    try:
        return Raw(
            sheets={sheet.title: _sheet(sheet, opened) for sheet in workbook.worksheets},
            names={name: str(defined.attr_text) for name, defined in workbook.defined_names.items()},
            properties={mark.name: mark.value for mark in workbook.custom_doc_props.props},
            _results_of=lambda title: dict(_rows(workbook[title], results=True)),
        )
    except MemoryError:
        raise
    except Exception as trouble:  # whatever openpyxl meets in a damaged sheet
        raise damaged(opened.file) from trouble


def _sheet(sheet: Any, opened: Opened) -> Sheet:
    part = sheet._worksheet_path.lstrip("/")
    merged = opened.merged.get(part, ())
    # openpyxl's read-only mode does not see merged cells, so that they come from the sheet's XML.
    ranges = tuple(range_boundaries(cells) for cells in merged)
    rows = tuple(sorted(_rows(sheet), key=itemgetter(0)))
    return Sheet(sheet.title, rows, ranges, part in opened.in_error)  # type: ignore[arg-type] # whole ranges have no None


def _rows(sheet: Any, *, results: bool = False) -> Iterator[tuple[int, Cells]]:
    """Yield the rows that have anything in them; `results` shows stored results in place of formulas.

    openpyxl's own iteration believes the size that a file states and skips rows that are out of order;
    the parser beneath it does neither.
    """
    workbook = sheet.parent
    percentages = _percentages(workbook)
    with sheet._get_source() as source:
        parser = _RowParser(
            source,
            sheet._shared_strings,
            data_only=results,
            epoch=workbook.epoch,
            date_formats=workbook._date_formats,
            timedelta_formats=workbook._timedelta_formats,
        )
        for number, row in parser.parse():
            cells = {cell["column"]: _value(cell, percentages) for cell in row if cell["value"] is not None}
            if cells:
                yield number, cells


class _RowParser(WorkSheetParser):
    """openpyxl's parser for rows alone, in half the time."""

    def parse(self) -> Generator[tuple[int, Sequence[Mapping[str, Any]]], None, None]:
        """Yield each row's number and cells, by the parser in C, which defusedxml cannot guard."""
        element: Any
        for _event, element in iterparse(self.source):  # noqa: S314 # entities were refused at the door
            if element.tag == ROW_TAG:
                yield self.parse_row(element)
                element.clear()

    def parse_cell(self, element: Any) -> dict[str, Any]:
        """Read a cell; a text in one piece takes the short way of a formula's result."""
        inline = element.find(INLINE_STRING)
        if inline is not None and [part.tag for part in inline if part.text] == [PLAIN_TEXT]:
            inline[0].tag = VALUE_TAG
            element.append(inline[0])
            element.set("t", "str")
        return super().parse_cell(element)


def _percentages(workbook: Any) -> frozenset[int]:
    """Return the styles whose numbers show as percentages."""
    formats = BUILTIN_FORMATS | dict(enumerate(workbook._number_formats, start=BUILTIN_FORMATS_MAX_SIZE))
    return frozenset(
        at for at, style in enumerate(workbook._cell_styles) if "%" in formats.get(style.numFmtId, "")
    )


def _value(cell: Mapping[str, Any], percentages: Collection[int]) -> Any:
    value = cell["value"]
    match cell["data_type"]:
        case "n" if cell["style_id"] in percentages:
            return Percentage(value)
        case "f":
            return _formula(value)
        case "e":
            return SheetError(value)
        case _:
            return value


def _formula(value: Any) -> Formula:
    text = value if isinstance(value, str) else ""
    return Formula(text) if 0 < len(text) < LONGEST_REFERENCE and REFERENCE.fullmatch(text) else FORMULA
