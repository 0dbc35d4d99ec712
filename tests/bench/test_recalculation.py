"""Recalculation: LibreOffice works out a workbook, against one with the same cells as plain values."""

import resource
import subprocess
import sys
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from salebook.book.write import book_bytes
from salebook.event.entries import Entries, Line
from salebook.event.event import reckon_event
from salebook.prints.labels.pieces import pieces_for_sale
from tests.bench.test_workbook import sale_of
from tests.support.cells import without_stored_results
from tests.support.programs import libreoffice_command, needs_libreoffice

PIECES = 1_000
LIMIT = 3.3
EVERY_SHEET = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1"
"""A form of output that asks for the value of every cell of every sheet."""


def plain(book: bytes) -> bytes:
    """Return a workbook with each formula replaced by its result."""
    formulas: Any = load_workbook(BytesIO(book))
    values: Any = load_workbook(BytesIO(book), data_only=True)
    for sheet in formulas:
        for cell in (cell for row in sheet.iter_rows() for cell in row if cell.data_type == "f"):
            cell.value = values[sheet.title][cell.coordinate].value
    file = BytesIO()
    formulas.save(file)
    return file.getvalue()


def processor_seconds(book: bytes, folder: Path) -> float:
    """Return the processor time (s) that LibreOffice takes from its start to the last sheet written."""
    (folder / "book.xlsx").write_bytes(book)
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    arguments = ("--convert-to", EVERY_SHEET, "--outdir", str(folder), str(folder / "book.xlsx"))
    subprocess.run(libreoffice_command(folder / "profile", *arguments), capture_output=True, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    assert len(list(folder.glob("book-*.csv"))) > 10
    return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime


@needs_libreoffice
@pytest.mark.parametrize("filled_in", [False, True], ids=["empty", "filled in"])
def test_recalculation_takes_at_most_five_times_plain_values(filled_in: bool, tmp_path: Path) -> None:
    reckoning = sale_of(PIECES)
    pieces = pieces_for_sale(reckoning)[:PIECES] if filled_in else ()
    sold = tuple(Line(number=n, piece=piece.number, way="cash") for n, piece in enumerate(pieces, start=1))
    book = book_bytes(reckoning, reckon_event(reckoning, Entries(lines=sold)))
    processor_seconds(plain(book), tmp_path)  # the first run makes the profile
    of_values = processor_seconds(plain(book), tmp_path)
    ratio = processor_seconds(without_stored_results(book), tmp_path) / of_values
    said = "filled in" if filled_in else "empty"
    sys.stdout.write(f"\nrecalculation of {PIECES} pieces, {said} / plain values: {ratio:.2f}\n")
    assert ratio <= LIMIT
