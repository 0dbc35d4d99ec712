"""A sheet that shows an error may leave out what it cannot count: then its sums are not compared."""

from pathlib import Path

import pytest
from lxml import etree

from salebook.event.reconciliation import SheetSums
from salebook.event.report import report_of
from salebook.reckoning import reckon
from tests.support.bent_book import read, small_book
from tests.support.cells import Place, SheetError, file_of, formula_cells, parts_of, sheet_parts, tag
from tests.support.rules import Opened

AMOUNT = "takings_amount"


def showing(book: bytes, results: dict[Place, str | SheetError]) -> bytes:
    """Return the workbook with other results stored beside formulas."""
    parts = parts_of(book)
    for title, part in sheet_parts(parts).items():
        sheet = etree.fromstring(parts[part])
        for cell in sheet.iter(tag("c")):
            result = results.get((title, str(cell.get("r"))))
            if result is not None:
                cell.set("t", "e" if isinstance(result, SheetError) else "n")
                found = cell.find(tag("v"))
                assert found is not None
                found.text = result
        parts[part] = etree.tostring(sheet)
    return file_of(parts)


def asked(book: bytes, folder: Path) -> list[str]:
    found = read(book, folder)
    report = report_of(reckon(found.plan), found.entries, asked=found.questions, stored=found.stored)
    return [question.says for question in report.questions]


def test_a_wrong_sum_is_asked_about_where_no_cell_shows_an_error(tmp_path: Path) -> None:
    pool = Opened(small_book()).places("pool")[0]
    assert asked(small_book(), tmp_path) == []
    assert any("Money to share" in says for says in asked(showing(small_book(), {pool: "1"}), tmp_path))


@pytest.mark.parametrize("error", ["#VALUE!", "#REF!", "#NAME?"])
def test_a_cell_in_error_makes_no_question_of_a_sum(error: str, tmp_path: Path) -> None:
    names = Opened(small_book())
    line, pool = names.places(AMOUNT)[0], names.places("pool")[0]
    book = showing(small_book(), {line: SheetError(error), pool: "1"})
    assert line in {(cell.sheet, cell.cell) for cell in formula_cells(book)}
    assert asked(book, tmp_path) == []
    assert read(book, tmp_path).stored == SheetSums()
