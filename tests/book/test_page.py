"""One sheet being written."""

from datetime import date, time, timedelta
from io import BytesIO
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from salebook.book.figure import Figure
from salebook.book.file.stored_results import saved_with_results
from salebook.book.page import Book, Page


@pytest.fixture
def book() -> Book:
    return Book(currency="GBP", locale="en_GB")


@pytest.fixture
def page(book: Book) -> Page:
    return book.page("Till", widths=[3, 20, 10, 10])


def read(book: Book) -> Worksheet:
    book.finish()
    return load_workbook(BytesIO(saved_with_results(book.workbook, book.stored)))["Till"]


@pytest.mark.parametrize("text", ["=1+1", "+44 700", "-5 off", "@shop", "#REF!", "\t=1", "'quoted", "12"])
def test_text_stays_text_whatever_it_begins_with(book: Book, page: Page, text: str) -> None:
    page.put(1, 2, text, "input")
    cell = read(book)["B1"]

    assert ("s", text) == (cell.data_type, cell.value)


def test_only_inputs_are_unlocked_and_the_sheet_is_protected_without_a_password(
    book: Book, page: Page
) -> None:
    page.put(1, 2, 5, "input whole")
    page.put(1, 3, Figure("=B1*2", 10), "result whole")
    sheet = read(book)

    assert (False, True) == (sheet["B1"].protection.locked, sheet["C1"].protection.locked)
    assert (True, None) == (sheet.protection.sheet, sheet.protection.password)


def test_a_time_is_kept_as_a_part_of_the_day(book: Book, page: Page) -> None:
    page.put(1, 2, time(6), "input clock")
    page.put(2, 2, date(2027, 6, 12), "input date")
    sheet: Any = read(book)

    assert timedelta(hours=6) == sheet["B1"].value
    assert date(2027, 6, 12) == sheet["B2"].value.date()


def test_a_name_cannot_be_given_twice(page: Page) -> None:
    page.name("target", 1, 2)

    with pytest.raises(ValueError, match="target is given twice"):
        page.name("target", 2, 2)


def test_an_address_names_its_sheet_as_formulas_do(book: Book) -> None:
    odd = book.page("Giver's share", widths=[10])

    assert "'Giver''s share'!$B$3:$B$9" == odd.address(3, 2, last_row=9)


def test_headings_stand_above_their_numbers_and_keys_above_the_headings(book: Book, page: Page) -> None:
    row = page.headings(("name", "amount"), ("Name", "Amount"), section="costs")
    page.put_row((("costs", "key"), ("clay", "label"), (5, "result money")))
    sheet = read(book)

    assert ("[costs]", "name", "amount") == tuple(cell.value for cell in sheet[row - 1][:3])
    assert ("left", "right") == (
        sheet.cell(row, 2).alignment.horizontal,
        sheet.cell(row, 3).alignment.horizontal,
    )


def test_a_long_heading_is_broken_before_it_meets_its_neighbour(book: Book, page: Page) -> None:
    row = page.headings(("one", "two"), ("Name", "Good pieces wanted in all"), section="wares")

    assert "\n" in str(read(book).cell(row, 3).value)


@pytest.mark.parametrize("style", ["lead", "note", "remark", "warn", "bigger"])
def test_a_paragraph_of_several_lines_is_broken_instead_of_cut_off(
    style: str, book: Book, page: Page
) -> None:
    short, long = (
        page.paragraph("One line.", style),
        page.paragraph("Of a ware not yet counted. " * 20, style),
    )
    sheet = read(book)
    one, several = sheet.cell(short, 2), sheet.cell(long, 2)
    assert several.alignment.wrap_text
    assert sheet.row_dimensions[long].height > 2 * sheet.row_dimensions[short].height
    assert (several.font.size, several.font.color.rgb) == (one.font.size, one.font.color.rgb)


def test_choices_that_are_too_long_for_a_drop_down_are_refused(page: Page) -> None:
    with pytest.raises(ValueError, match="put them in a range"):
        page.dropdown("B2:B9", ["a group with a long name"] * 12)


def test_a_drop_down_offers_its_words(book: Book, page: Page) -> None:
    page.dropdown("B2:B9", ["yes", "no"], says="yes or no")
    (rule,) = read(book).data_validations.dataValidation

    assert ('"yes,no"', "yes or no", True) == (rule.formula1, rule.error, rule.showErrorMessage)


def test_what_is_not_a_number_is_warned_about(book: Book, page: Page) -> None:
    page.number_only("B2:B9", least=1, most=5, says="1 to 5")
    (rule,) = read(book).data_validations.dataValidation

    assert ("decimal", "between", "1", "5", "warning") == (
        rule.type,
        rule.operator,
        rule.formula1,
        rule.formula2,
        rule.errorStyle,
    )
