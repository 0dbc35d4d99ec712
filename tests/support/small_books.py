"""Small workbooks of one sheet, to try the tests' own tools on."""

from collections.abc import Mapping
from io import BytesIO

from lxml import etree
from openpyxl import Workbook

from tests.support.cells import Value, file_of, parts_of, tag

TITLE = "Costs & fees"
SHEET = "xl/worksheets/sheet1.xml"


def book_of(cells: Mapping[str, Value], stored: Mapping[str, Value]) -> bytes:
    """Return a workbook of one sheet with these cells, and these results stored beside its formulas."""
    workbook = Workbook()
    sheet = workbook.worksheets[0]
    sheet.title = TITLE
    for place, content in cells.items():
        sheet[place] = content
    return with_results(bytes_of(workbook), stored)


def bytes_of(workbook: Workbook) -> bytes:
    """Save a workbook to memory."""
    file = BytesIO()
    workbook.save(file)
    return file.getvalue()


def with_results(xlsx: bytes, stored: Mapping[str, Value]) -> bytes:
    """Store results beside formulas of the first sheet."""
    parts = parts_of(xlsx)
    sheet = etree.fromstring(parts[SHEET])
    for cell in sheet.iter(tag("c")):
        place = str(cell.get("r"))
        if place in stored:
            _store(cell, stored[place])
    parts[SHEET] = etree.tostring(sheet)
    return file_of(parts)


def _store(cell: etree._Element, value: Value) -> None:
    result = cell.find(tag("v"))
    assert result is not None
    result.text = str(int(value)) if isinstance(value, bool) else str(value)
    if isinstance(value, bool | str):
        cell.set("t", "b" if isinstance(value, bool) else "str")


def with_names(xlsx: bytes, names: Mapping[str, str]) -> bytes:
    """Give cells of a workbook names; any names that it had are gone."""
    parts = parts_of(xlsx)
    book = etree.fromstring(parts["xl/workbook.xml"])
    defined = book.find(tag("definedNames"))
    assert defined is not None
    defined.clear()
    for name, cells in names.items():
        etree.SubElement(defined, tag("definedName"), name=name).text = cells
    parts["xl/workbook.xml"] = etree.tostring(book)
    return file_of(parts)
