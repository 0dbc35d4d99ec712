"""Stored results: the value beside each formula in the file."""

from decimal import Decimal
from io import BytesIO
from zipfile import ZipFile

import pytest
from openpyxl import Workbook, load_workbook

from salebook.book.figure import Figure, Value
from salebook.book.file.stored_results import UnstoredFormulaError, saved_with_results
from salebook.book.page import Book
from tests.support.schema import violations


def book_of(*figures: Figure) -> bytes:
    book = Book(currency="GBP", locale="en_GB")
    page = book.page("Sums", widths=[10, 10])
    for row, figure in enumerate(figures, start=1):
        page.put(row, 1, figure, "result number")
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


def _sheet(book: bytes) -> bytes:
    with ZipFile(BytesIO(book)) as parts:
        return parts.read("xl/worksheets/sheet1.xml")
