"""How the workbook looks when printed: every figure can be read, and no page is empty."""

import subprocess
import tomllib
from decimal import Decimal
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from tests.support.books import SAMPLES, SMALLEST, book_of_plan, each_sample, sample_book
from tests.support.entry_strategies import a_day_of_takings
from tests.support.plan_strategies import plan_of
from tests.support.programs import libreoffice_command, needs, path_of

SHEETS = (
    "Start here",
    "Plan",
    "Making",
    "Firing",
    "Costs",
    "Price",
    "Pieces",
    "Takings",
    "Hand over",
    "Cash-up",
    "Progress",
    "Share-out",
    "Cautions",
)


def dear_weekend() -> bytes:
    """Return the full sample at a thousand times its prices, in a currency with a long sign, with takings."""
    tables: dict[str, Any] = tomllib.loads(
        SAMPLES["harbour-weekend"].read_text(encoding="utf-8"), parse_float=Decimal
    )
    tables["sale"] |= {"target": 1_800_000, "currency": "CHF", "locale": "de_CH"}
    for given in (*tables["wares"], *tables["donated"]):
        given["price"] = Decimal(str(given["price"])) * 1000
    plan = plan_of(tables)
    return book_of_plan(plan, a_day_of_takings(plan, amount=Decimal("123456.75")))


BOOKS = {
    "a small sale": lambda: sample_book("first-sale"),
    "a weekend with takings": lambda: sample_book("harbour-weekend", filled_in=True),
    "a gas kiln in francs": lambda: sample_book("bergmarkt", filled_in=True),
    "large amounts": dear_weekend,
}


def pages_of(book: bytes, folder: Path) -> list[str]:
    """Return the text of each page that LibreOffice prints of a workbook."""
    (folder / "book.xlsx").write_bytes(book)
    command = libreoffice_command(
        folder / "profile", "--convert-to", "pdf", "--outdir", str(folder), str(folder / "book.xlsx")
    )
    subprocess.run(command, check=True, capture_output=True, timeout=180)
    text = subprocess.run(
        [path_of("pdftotext"), "-layout", str(folder / "book.pdf"), "-"],
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    return text.removesuffix("\f").split("\f")


@needs("LibreOffice", "pdftotext")
@pytest.mark.parametrize("name", BOOKS)
def test_every_figure_fits_its_cell_and_no_printed_page_is_empty(name: str, tmp_path: Path) -> None:
    pages = pages_of(BOOKS[name](), tmp_path)

    assert [] == [page for page in pages if "###" in page]
    assert [] == [number for number, page in enumerate(pages, 1) if len(page.split()) < 8]


@each_sample
def test_the_sheets_stand_in_their_order_without_gridlines_and_fit_their_page(sample: str) -> None:
    workbook: Any = load_workbook(BytesIO(sample_book(sample)))

    assert list(SHEETS) == workbook.sheetnames
    for sheet in workbook.worksheets:
        assert (False, True, 1) == (
            sheet.sheet_view.showGridLines,
            sheet.sheet_properties.pageSetUpPr.fitToPage,
            sheet.page_setup.fitToWidth,
        )
        assert ("&A", "&P / &N") == (sheet.oddFooter.left.text, sheet.oddFooter.right.text)


@each_sample
def test_what_only_salebook_reads_is_not_printed(sample: str) -> None:
    """Keys stand in hidden rows above the headings, marks in a column left of what is printed."""
    workbook: Any = load_workbook(BytesIO(sample_book(sample)))

    for sheet in workbook.worksheets:
        assert sheet.print_area.rpartition("!")[2].startswith("$B$1:")
        keys = [row for row in range(1, sheet.max_row) if str(sheet.cell(row, 1).value).startswith("[")]
        assert [] == [row for row in keys if not sheet.row_dimensions[row].hidden]
        assert [] == [row for row in keys if sheet.row_dimensions[row + 1].hidden != _is_folded(sheet, row)]


def _is_folded(sheet: Any, row: int) -> bool:
    return bool(sheet.row_dimensions[row].outlineLevel)


def test_price_and_progress_have_charts() -> None:
    workbook: Any = load_workbook(BytesIO(sample_book(SMALLEST)))
    charts = {sheet.title: len(sheet._charts) for sheet in workbook.worksheets if sheet._charts}

    assert {"Price", "Progress"} == set(charts)
