"""Reading and changing cells by a file's XML."""

from decimal import Decimal
from io import BytesIO

import pytest
from openpyxl import load_workbook

from tests.support.cells import (
    Blank,
    FormulaCell,
    changed,
    formula_cells,
    plain_values,
    values_of,
    without_stored_results,
)
from tests.support.small_books import book_of

BOOK = book_of(
    {"A1": 3, "A2": "pots <&>", "A3": True, "B1": "=A1*2", "B2": '=A2&"!"', "B3": "=A1>2", "B4": '=""'},
    {"B1": 6, "B2": "pots <&>!", "B3": True, "B4": ""},
)


def test_every_formula_is_found_with_its_stored_result() -> None:
    assert list(formula_cells(BOOK)) == [
        FormulaCell("Costs & fees", "B1", "A1*2", 6.0),
        FormulaCell("Costs & fees", "B2", 'A2&"!"', "pots <&>!"),
        FormulaCell("Costs & fees", "B3", "A1>2", True),
        FormulaCell("Costs & fees", "B4", '""', ""),
    ]


def test_plain_values_are_those_without_a_formula() -> None:
    here = "Costs & fees"
    assert plain_values(BOOK) == {(here, "A1"): 3.0, (here, "A2"): "pots <&>", (here, "A3"): True}


def test_without_stored_results_no_formula_has_one_and_all_else_stays() -> None:
    bare = without_stored_results(BOOK)
    assert {cell.stored for cell in formula_cells(bare)} == {None}
    assert [cell.formula for cell in formula_cells(bare)] == [cell.formula for cell in formula_cells(BOOK)]
    assert plain_values(bare) == plain_values(BOOK)


def test_a_changed_cell_holds_what_was_typed() -> None:
    here = "Costs & fees"
    book = changed(BOOK, {(here, "A1"): Decimal("4.5"), (here, "A2"): "=jugs", (here, "A3"): Blank()})
    assert plain_values(book) == {(here, "A1"): 4.5, (here, "A2"): "=jugs"}
    sheet = load_workbook(BytesIO(book)).worksheets[0]
    assert (sheet["A1"].value, sheet["A2"].data_type, sheet["A3"].value) == (4.5, "s", None)


def test_a_change_of_no_cell_or_of_a_formula_is_refused() -> None:
    with pytest.raises(KeyError, match="no such cells"):
        changed(BOOK, {("Costs & fees", "Z9"): 1})
    with pytest.raises(ValueError, match="B1 holds a formula"):
        changed(BOOK, {("Costs & fees", "B1"): 1})


def test_values_are_what_every_cell_shows() -> None:
    here = "Costs & fees"
    assert values_of(BOOK)[here, "B2"] == "pots <&>!"
    assert values_of(BOOK)[here, "A2"] == "pots <&>"
