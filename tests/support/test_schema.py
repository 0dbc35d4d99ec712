"""The check against the file format's schemas can fail."""

from openpyxl import Workbook

from tests.support.cells import file_of, parts_of
from tests.support.schema import violations
from tests.support.small_books import book_of, bytes_of


def test_a_sound_workbook_breaks_no_schema() -> None:
    assert violations(bytes_of(Workbook())) == []


def test_an_element_out_of_place_is_found() -> None:
    parts = parts_of(book_of({"A1": 1}, {}))
    sheet = parts["xl/worksheets/sheet1.xml"]
    parts["xl/worksheets/sheet1.xml"] = sheet.replace(b"<sheetData>", b"<sheetDate/><sheetData>")
    (line,) = violations(file_of(parts))
    assert line.startswith("xl/worksheets/sheet1.xml: line 1: ")
    assert "sheetDate" in line


def test_a_value_that_the_format_does_not_know_is_found() -> None:
    parts = parts_of(book_of({"A1": 1}, {}))
    styles = parts["xl/styles.xml"]
    parts["xl/styles.xml"] = styles.replace(b'patternType="gray125"', b'patternType="tartan"')
    assert parts["xl/styles.xml"] != styles
    assert any("tartan" in line for line in violations(file_of(parts)))
