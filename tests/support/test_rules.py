"""Each rule for workbooks can be broken, and is then named."""

from collections.abc import Callable
from io import BytesIO

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.chart import BarChart, Reference
from openpyxl.styles import NamedStyle, Protection
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.formula import ArrayFormula

from tests.support.books import SMALLEST, sample_book
from tests.support.cells import file_of, parts_of
from tests.support.rules import broken_rules, faults_of_file
from tests.support.small_books import bytes_of


def sound_book() -> Workbook:
    """Return a workbook that keeps every rule: an input, a formula with a name, a chart, a drop-down."""
    book = Workbook()
    sheet = book.worksheets[0]
    sheet.title = "Price list"
    sheet.protection.sheet = True
    book.add_named_style(NamedStyle("salebook input money", protection=Protection(locked=False)))
    book.add_named_style(NamedStyle("salebook result money"))
    sheet["A1"], sheet["A2"], sheet["A3"] = 3, "=price*2", "=SUMPRODUCT((both=TRIM(A1))*1,A1:A2)"
    sheet["A1"].style, sheet["A2"].style = "salebook input money", "salebook result money"
    book.defined_names["both"] = DefinedName("both", attr_text="'Price list'!$A$1:$A$2")
    book.defined_names["price"] = DefinedName("price", attr_text="'Price list'!$A$1")
    choice = DataValidation(type="list", formula1='"yes,no"')
    choice.add("A1")
    sheet.add_data_validation(choice)
    chart = BarChart()
    chart.add_data(Reference(sheet, min_col=1, min_row=1, max_row=3))
    sheet.add_chart(chart, "C1")
    return book


def test_a_sound_book_breaks_no_rule() -> None:
    assert broken_rules(bytes_of(sound_book())) == []


def cell(place: str, content: object) -> Callable[[Workbook], None]:
    def change(book: Workbook) -> None:
        book.worksheets[0][place] = content  # type: ignore[assignment]  # whatever a cell may hold

    return change


def name(text: str, *, called: str = "jug_price") -> Callable[[Workbook], None]:
    def change(book: Workbook) -> None:
        book.defined_names[called] = DefinedName(called, attr_text=text)

    return change


def chart_beyond(book: Workbook) -> None:
    chart = BarChart()
    chart.add_data(Reference(book.worksheets[0], min_col=1, min_row=1, max_row=99))
    book.worksheets[0].add_chart(chart, "C20")


def long_choice(book: Workbook) -> None:
    choice = DataValidation(type="list", formula1='"' + "yes," * 80 + 'no"')
    choice.add("A1")
    book.worksheets[0].add_data_validation(choice)


def volatile_choice(book: Workbook) -> None:
    choice = DataValidation(type="list", formula1="OFFSET(price,0,0)")
    choice.add("A1")
    book.worksheets[0].add_data_validation(choice)


def unprotected(book: Workbook) -> None:
    book.worksheets[0].protection.sheet = False


def with_password(book: Workbook) -> None:
    book.worksheets[0].protection.password = "pot"  # noqa: S105 - the rule under test forbids any


def unlocked_formula(book: Workbook) -> None:
    book.worksheets[0]["A2"].protection = Protection(locked=False)


def locked_input(book: Workbook) -> None:
    book.worksheets[0]["A1"].protection = Protection(locked=True)


def merged_input(book: Workbook) -> None:
    book.worksheets[0].merge_cells("A1:B1")


def linked(book: Workbook) -> None:
    book.worksheets[0]["B5"] = "elsewhere"
    book.worksheets[0]["B5"].hyperlink = "https://example.org/"


def list_by_sign(book: Workbook) -> None:
    choice = DataValidation(type="list", formula1="=price")
    choice.add("A1")
    book.worksheets[0].add_data_validation(choice)


TAKEN_DIFFERENTLY = "no_function_that_programs_take_differently"

BROKEN: dict[str, tuple[Callable[[Workbook], None], str]] = {
    "a function of a later edition": (cell("A4", "=_xlfn.IFS(A1,1)"), "only_functions_of_the_first_edition"),
    "a volatile function": (cell("A4", "=IF(A1,NOW(),0)"), "no_volatile_function"),
    "a volatile function in a drop-down": (volatile_choice, "no_volatile_function"),
    "an array formula": (cell("A4", ArrayFormula("A4:A5", "=A1:A2*2")), "no_array_formula"),
    "an array in a formula": (cell("A4", "=SUM({1,2})"), "no_array_formula"),
    "an unknown name": (cell("A4", "=cost+1"), "every_reference_is_a_name_or_a_plain_area"),
    "a whole column": (cell("A4", "=SUM(B:B)"), "every_reference_is_a_name_or_a_plain_area"),
    "a lost reference": (cell("A4", "=#REF!+1"), "every_reference_is_a_name_or_a_plain_area"),
    "another file": (cell("A4", "='[1]Price list'!A1"), "no_link_to_another_file"),
    "a sheet that is not there": (cell("A4", "=Costs!A1"), "every_reference_is_a_name_or_a_plain_area"),
    "a link": (linked, "no_link_to_another_file"),
    "a name of no cells": (name("#REF!"), "every_name_stands_for_cells_that_are_there"),
    "a name of cells on no sheet": (name("Costs!$A$1"), "every_name_stands_for_cells_that_are_there"),
    "a name that reaches too far": (
        name("'Price list'!$A$1:$A$9"),
        "every_name_stands_for_cells_that_are_there",
    ),
    "a name like a cell": (name("'Price list'!$A$1", called="MUG1"), "no_name_looks_like_an_address"),
    "a name like a row and column": (
        name("'Price list'!$A$1", called="R1C1"),
        "no_name_looks_like_an_address",
    ),
    "a name twice": (name("'Price list'!$A$2", called="Price"), "names_differ_in_more_than_capitals"),
    "an open sheet": (unprotected, "every_sheet_is_protected_without_a_password"),
    "a password": (with_password, "every_sheet_is_protected_without_a_password"),
    "an open formula": (unlocked_formula, "formulas_are_locked_and_inputs_are_not"),
    "a locked input": (locked_input, "formulas_are_locked_and_inputs_are_not"),
    "a merged input": (merged_input, "no_merged_cell_covers_an_input"),
    "a long drop-down": (long_choice, "choices_fit_into_a_drop_down"),
    "a chart of nothing": (chart_beyond, "charts_show_cells_that_are_there"),
    "a long formula": (cell("A4", "=" + "+".join(["price"] * 43)), "formulas_are_short"),
    "seven ifs": (cell("A4", "=" + "IF(A1," * 7 + "1" + ",0)" * 7), "formulas_are_short"),
    "nine functions": (cell("A4", "=" + "ABS(" * 9 + "A1" + ")" * 9), "formulas_are_short"),
    "a cell as a number": (cell("A4", "=IF(N(A1)>0,1,0)"), TAKEN_DIFFERENTLY),
    "a number with a point": (cell("A4", '=TEXT(A1,"0.0")'), TAKEN_DIFFERENTLY),
    "a cell by its place": (cell("A4", "=INDEX(A1:A2,2)"), TAKEN_DIFFERENTLY),
    "the only cell looked up": (cell("A4", "=INDEX(price,A2)"), TAKEN_DIFFERENTLY),
    "a function over a range in a product": (
        cell("A4", '=SUMPRODUCT((TRIM(A1:A2)="")*1)'),
        TAKEN_DIFFERENTLY,
    ),
    "a function over a name in a product": (
        cell("A4", "=SUMPRODUCT(MAX(ABS(both)*A1))"),
        TAKEN_DIFFERENTLY,
    ),
    "a list by a sign": (list_by_sign, "no_sign_before_a_list"),
}


@pytest.mark.parametrize(("change", "rule"), BROKEN.values(), ids=BROKEN)
def test_a_broken_rule_is_named(change: Callable[[Workbook], None], rule: str) -> None:
    book = sound_book()
    change(book)
    assert rule in {line.split(":")[0] for line in broken_rules(bytes_of(book))}


def test_broken_rules_say_where() -> None:
    book = load_workbook(BytesIO(bytes_of(sound_book())))
    cell("B7", "=NOW()")(book)
    assert "no_volatile_function: Price list!B7 uses NOW: NOW()" in broken_rules(bytes_of(book))


@pytest.mark.parametrize(
    ("part", "written", "otherwise", "fault"),
    [
        ("xl/worksheets/sheet2.xml", b'"/></row>', b'" t="n"/></row>', "is empty and has the type n"),
        ("xl/drawings/drawing1.xml", b"xdr:", b"d:", "drawing1.xml has the prefixes"),
        ("xl/charts/chart1.xml", b"<pt ", b"<dPt ", "beside it stands {}"),
    ],
)
def test_a_fault_of_the_file_is_named(part: str, written: bytes, otherwise: bytes, fault: str) -> None:
    parts = parts_of(sample_book(SMALLEST))
    parts[part] = parts[part].replace(written, otherwise).replace(b"/pt>", b"/dPt>").replace(b":xdr=", b":d=")
    assert fault in "\n".join(faults_of_file(file_of(parts)))
