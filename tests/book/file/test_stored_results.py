"""Stored results: the value beside each formula in the file."""

import subprocess
import sys
from datetime import date, datetime
from decimal import Decimal
from io import BytesIO
from typing import Any
from xml.etree.ElementTree import canonicalize
from zipfile import ZipFile

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.styles import Font

from salebook.book.figure import Figure, Value
from salebook.book.file.stored_results import UnstoredFormulaError, saved_with_results
from salebook.book.page import Book
from tests.support.books import SAMPLES
from tests.support.schema import violations


def book_of(*figures: Figure) -> bytes:
    book = Book(currency="GBP", locale="en_GB")
    about = book.workbook.properties
    about.created = about.modified = datetime(2027, 6, 19)  # or two books made in two seconds would differ
    page = book.page("Sums", widths=[10, 10])
    for row, figure in enumerate(figures, start=1):
        page.put(row, 1, figure, "result number")
    # As in every book: else two made in different seconds differ.
    about = book.workbook.properties
    about.created = about.modified = datetime(2027, 6, 19)
    return saved_with_results(book.workbook, book.stored)


@pytest.mark.parametrize(
    ("value", "read"),
    [
        (3, 3),
        (Decimal("2.5"), 2.5),
        (-0.25, -0.25),
        ("a & b < c", "a & b < c"),
        (True, True),
        ("Ωμέγα", "Ωμέγα"),
    ],
)
def test_a_reader_that_does_not_calculate_sees_the_result(value: Value, read: object) -> None:
    workbook = load_workbook(BytesIO(book_of(Figure("=1+1", value))), data_only=True)

    assert read == workbook["Sums"]["A1"].value


def test_the_formula_itself_is_kept() -> None:
    workbook = load_workbook(BytesIO(book_of(Figure('=IF(1<2,"a&b",0)', "a&b"))))

    assert '=IF(1<2,"a&b",0)' == workbook["Sums"]["A1"].value


def test_a_result_that_is_an_empty_text_is_stored_as_a_text() -> None:
    assert b"<v></v>" in _sheet(book_of(Figure('=""', "")))
    assert [] == violations(book_of(Figure('=""', "")))


def test_a_formula_without_a_result_is_refused() -> None:
    workbook = Workbook()
    workbook.worksheets[0]["A1"] = "=1+1"

    with pytest.raises(UnstoredFormulaError, match="A1 has no stored result"):
        saved_with_results(workbook, {workbook.worksheets[0].title: {}})


def test_the_same_workbook_gives_the_same_file() -> None:
    assert book_of(Figure("=1+1", 2)) == book_of(Figure("=1+1", 2))


def test_what_is_no_formula_stands_in_the_file_as_openpyxl_writes_it() -> None:
    day, clock = date(2027, 6, 19), datetime(2027, 6, 19, 9, 30)
    texts = ["plain", " around ", "a & <b>", "two\nlines", "abc\u202edef", "=1+1", "#REF!"]
    workbook, sheet = _empty()
    for row, content in enumerate([*texts, 3, 0.1 + 0.2, -1e-9, Decimal("2.50"), True, day, clock], start=1):
        sheet.cell(row, 2).value = content
        sheet.cell(row, 2).data_type = "s" if isinstance(content, str) else sheet.cell(row, 2).data_type
    sheet.merge_cells("D1:E1")
    sheet["D1"].font = sheet["E1"].font = Font(bold=True)
    sheet["D1"].value = sheet["E2"].value = 1
    sheet.row_dimensions[3].height = 30
    sheet.row_dimensions[40].outline_level = 1
    plain = BytesIO()
    workbook.save(plain)
    ours = _sheet(saved_with_results(workbook, {sheet.title: {}}))
    theirs = _sheet(plain.getvalue()).replace(b' t="n" />', b" />")
    assert canonicalize(ours.decode()) == canonicalize(theirs.decode())


def test_a_result_without_its_formula_is_refused() -> None:
    workbook, sheet = _empty()
    with pytest.raises(UnstoredFormulaError, match="A1"):
        saved_with_results(workbook, {sheet.title: {"A1": 1}})


def _empty() -> tuple[Workbook, Any]:
    workbook = Workbook()
    return workbook, workbook.worksheets[0]


@pytest.mark.parametrize(("row", "shown"), [(1, b'<c r="A1"'), (2, b'<c r="A2"')])
def test_an_empty_cell_has_no_type(row: int, shown: bytes) -> None:
    book = Book(currency="GBP", locale="en_GB")
    page = book.page("Sums", widths=[10])
    page.put(1, 1, None, "input money")
    page.put(2, 1, "", "input text")
    sheet = _sheet(saved_with_results(book.workbook, book.stored))
    cell = sheet[sheet.index(shown) :].partition(b">")[0]
    assert (row, b" t=" in cell, cell.endswith(b"/")) == (row, False, True)


@pytest.mark.slow
def test_a_book_is_the_same_file_with_lxml_and_without() -> None:
    def made(before: str) -> bytes:
        command = [sys.executable, "-c", before + WRITE, str(SAMPLES["harbour-weekend"])]
        return subprocess.run(command, capture_output=True, check=True).stdout

    assert made("import lxml.etree\n") == made("import sys; sys.modules['lxml'] = None\n") != b""


WRITE = """
import sys
from pathlib import Path
from salebook.book.write import book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.plan.load import load_plan
from salebook.reckoning import reckon
reckoning = reckon(load_plan(Path(sys.argv[1])))
sys.stdout.buffer.write(book_bytes(reckoning, reckon_event(reckoning, Entries())))
"""


def _sheet(book: bytes) -> bytes:
    with ZipFile(BytesIO(book)) as parts:
        return parts.read("xl/worksheets/sheet1.xml")
