"""Spreadsheet engines beside LibreOffice: each works out every formula of a workbook by itself."""

import io
import subprocess
import tempfile
from collections.abc import Callable, Mapping
from datetime import date, datetime, time, timedelta
from pathlib import Path
from typing import Any, Final

import formualizer
import ironcalc
import python_calamine
from openpyxl.utils import column_index_from_string, get_column_letter
from openpyxl.utils.cell import coordinate_from_string

from salebook.book.figure import EPOCH
from tests.support.cells import (
    Place,
    SheetError,
    Value,
    formula_cells,
    values_of,
    with_empty_results,
    without_stored_results,
)
from tests.support.programs import path_of

Engine = Callable[[bytes], Mapping[Place, Value]]

LONGEST_S: Final = 120
DAY: Final = timedelta(days=1)
MIDNIGHT: Final = datetime.combine(EPOCH, time())
ERRORS: Final = {"Div": "#DIV/0!", "Name": "#NAME?", "Na": "#N/A", "Num": "#NUM!", "Null": "#NULL!"}
"""What formualizer calls errors, as far as it is more than capitals."""


def by_gnumeric(xlsx: bytes) -> Mapping[Place, Value]:
    """Return what every cell shows after Gnumeric has worked it out."""
    return values_of(converted_by_gnumeric(without_stored_results(xlsx), "--recalc"))


def converted_by_gnumeric(book: bytes, *arguments: str, kinds: tuple[str, str] = ("xlsx", "xlsx")) -> bytes:
    """Return a workbook as Gnumeric saves it; `kinds` are the kinds of file that it opens and saves."""
    with tempfile.TemporaryDirectory(prefix="engine-") as name:
        given, made = Path(name) / f"given.{kinds[0]}", Path(name) / f"made.{kinds[1]}"
        given.write_bytes(book)
        command = [path_of("Gnumeric"), *arguments, str(given), str(made)]
        subprocess.run(command, check=True, capture_output=True, timeout=LONGEST_S)
        return made.read_bytes()


def by_ironcalc(xlsx: bytes) -> Mapping[Place, Value]:
    """Return what every formula cell shows after IronCalc has worked it out."""
    with tempfile.TemporaryDirectory(prefix="engine-") as name:
        given = Path(name) / "given.xlsx"
        given.write_bytes(with_empty_results(xlsx))
        model = ironcalc.load_from_xlsx(str(given), "en", "UTC", "en")
    model.evaluate()
    sheets = {about["name"]: n for n, about in enumerate(model.get_worksheets_properties())}

    def shown(sheet: str, cell: str) -> Value:
        at = (sheets[sheet], *_row_and_column(cell))
        value = _plain(model.get_cell_value(*at))
        is_error = model.get_cell_type(*at) == ironcalc.CellType.ErrorValue
        return SheetError(value) if is_error else value

    return {(cell.sheet, cell.cell): shown(cell.sheet, cell.cell) for cell in formula_cells(xlsx)}


def by_formualizer(xlsx: bytes) -> Mapping[Place, Value]:
    """Return what every formula cell shows after formualizer has worked it out."""
    workbook = formualizer.load_workbook_bytes(without_stored_results(xlsx))
    workbook.evaluate_all()
    return {
        (cell.sheet, cell.cell): _plain(workbook.get_value(cell.sheet, *_row_and_column(cell.cell)))
        for cell in formula_cells(xlsx)
    }


def read_by_calamine(xlsx: bytes) -> Mapping[Place, Value]:
    """Return what every formula cell shows to python-calamine, which works nothing out."""
    workbook = python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(xlsx))
    rows = {
        title: workbook.get_sheet_by_name(title).to_python(skip_empty_area=False)
        for title in workbook.sheet_names
    }
    shown = {
        (title, f"{get_column_letter(column)}{row}"): _plain(value)
        for title in rows
        for row, cells in enumerate(rows[title], start=1)
        for column, value in enumerate(cells, start=1)
    }
    return {(cell.sheet, cell.cell): shown.get((cell.sheet, cell.cell), "") for cell in formula_cells(xlsx)}


def _row_and_column(cell: str) -> tuple[int, int]:
    letters, row = coordinate_from_string(cell)
    return row, column_index_from_string(letters)


def _plain(value: Any) -> Value:
    """Return a value of an engine as a cell's: nothing as an empty text, days and times as numbers."""
    match value:
        case None:
            return ""
        case datetime() | date() | time() | timedelta():
            return _days(value) / DAY
        case {"type": "Error", "kind": kind}:
            return SheetError(ERRORS.get(kind, f"#{kind.upper()}!"))
        case _:
            found: Value = value
            return found


def _days(value: date | time | timedelta) -> timedelta:
    match value:
        case datetime():
            # In the file format the year 1900 has a 29 February.
            return value - MIDNIGHT - (DAY if value < datetime(1900, 3, 1) else timedelta())
        case date():
            return _days(datetime.combine(value, time()))
        case time():
            since_midnight = timedelta(hours=value.hour, minutes=value.minute, seconds=value.second)
            return since_midnight + timedelta(microseconds=value.microsecond)
        case _:
            return value
