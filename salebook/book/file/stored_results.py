"""Stored results: a workbook saved with the model's value beside each formula."""

from collections.abc import Iterator, Mapping
from io import BytesIO
from tempfile import TemporaryFile
from typing import IO, Any
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from openpyxl import Workbook
from openpyxl.compat import safe_string
from openpyxl.drawing.spreadsheet_drawing import SpreadsheetDrawing
from openpyxl.utils.datetime import to_excel
from openpyxl.worksheet._writer import WorksheetWriter
from openpyxl.writer.excel import ExcelWriter
from openpyxl.xml.functions import fromstring, tostring

from salebook.book.figure import Value

LONG_AGO = (1980, 1, 1, 0, 0, 0)
"""The time given to every part of the file, so that the same plan gives the same file."""


class UnstoredFormulaError(AssertionError):
    """A formula was written without the value that it must show: a mistake in a sheet's module."""


def saved_with_results(workbook: Workbook, stored: Mapping[str, Mapping[str, Value]]) -> bytes:
    """Return the workbook's file with a stored result in every formula cell, by sheet title and cell."""
    finished = BytesIO()
    with TemporaryFile() as plain:
        with ZipFile(plain, "w", ZIP_STORED) as archive:
            _BookWriter(workbook, archive, stored).save()
        with ZipFile(plain) as source, ZipFile(finished, "w") as target:
            for name in source.namelist():
                part = ZipInfo(name, date_time=LONG_AGO)
                part.compress_type = ZIP_DEFLATED
                with source.open(name) as read, target.open(part, "w") as written:
                    is_drawing = name.startswith("xl/drawings/drawing")
                    written.writelines(_with_prefixes(read) if is_drawing else read)
    return finished.getvalue()


def _with_prefixes(drawing: IO[bytes]) -> Iterator[bytes]:
    """Yield a drawing with the usual prefix before each name: some readers look for it."""
    named: bytes = tostring(fromstring(drawing.read()))  # type: ignore[assignment] # the stubs say str
    yield named


class _BookWriter(ExcelWriter):
    """Saves a workbook with stored results, which openpyxl leaves out, and in two thirds of its time."""

    def __init__(
        self, workbook: Workbook, archive: ZipFile, stored: Mapping[str, Mapping[str, Value]]
    ) -> None:
        super().__init__(workbook, archive)
        self._file, self._stored = archive, stored

    def write_worksheet(self, ws: Any) -> None:
        ws._drawing = SpreadsheetDrawing()
        ws._drawing.charts, ws._drawing.images = ws._charts, ws._images
        sheet: Any = _SheetWriter(ws, BytesIO())
        sheet.write()
        ws._rels = sheet._rels
        self.manifest.append(ws)
        before, end, after = sheet.read().partition(b"</sheetData>")
        # Row by row, so that the sheet of a large sale never stands in memory as a whole.
        with self._file.open(ws.path[1:], "w", force_zip64=True) as part:
            part.write(before)
            part.writelines(_rows(sheet, self._stored[ws.title]))
            part.write(end + after)


class _SheetWriter(WorksheetWriter):
    """Writes a sheet but for its rows."""

    def write_rows(self) -> None:
        xf: Any = self.xf.send(True)
        with xf.element("sheetData"):
            pass
        self.xf.send(None)


def _rows(sheet: Any, values: Mapping[str, Value]) -> Iterator[bytes]:
    left = dict(values)
    shapes = sheet.ws.row_dimensions
    styles: dict[int, str] = {}
    for number, cells in sheet.rows():
        shape = {"r": number} | dict(shapes.get(number, ()))
        said = "".join(f' {key}="{value}"' for key, value in shape.items())
        inside = "".join(_cell(cell, styles, left) for cell in cells)
        yield f"<row{said}>{inside}</row>".encode("utf-8", "xmlcharrefreplace")
    if left:
        raise UnstoredFormulaError(f"no formula stands at the stored results of {sorted(left)[:3]}")


def _cell(cell: Any, styles: dict[int, str], left: dict[str, Value]) -> str:
    """Return a cell's XML, its result taken from those that are `left`; `styles` are those that were met."""
    array = cell._style  # cells that look alike share one, and to find its number takes as long as the rest
    style = styles.get(id(array))
    if style is None:
        style = styles[id(array)] = f' s="{cell.style_id}"' if cell.has_style else ""
    place, value, kind = cell.coordinate, cell._value, cell.data_type
    beginning = f'<c r="{place}"{style}'
    if kind == "f":
        if place not in left:
            raise UnstoredFormulaError(f"the formula in {place} has no stored result")
        kind, result = _as_stored(left.pop(place))
        return f"{beginning}{kind}><f>{escape(value[1:])}</f><v>{result}</v></c>"
    if value is None or value == "":
        # With a type, as openpyxl writes it, a program takes an empty cell for 0 or for a text.
        return f"{beginning}/>" if style else ""
    if kind == "s":
        spaces = ' xml:space="preserve"' if value != value.strip() else ""
        return f'{beginning} t="inlineStr"><is><t{spaces}>{escape(value)}</t></is></c>'
    if kind == "d":
        kind, value = "n", to_excel(value)  # type: ignore[no-untyped-call] # openpyxl ships no types for it
    return f'{beginning} t="{kind}"><v>{escape(safe_string(value))}</v></c>'


def _as_stored(value: Value) -> tuple[str, str]:
    if isinstance(value, str):
        return ' t="str"', escape(value)
    if isinstance(value, bool):
        return ' t="b"', str(int(value))
    return "", repr(value) if isinstance(value, int) else repr(float(value))
