"""Writing the workbook: salebook against openpyxl alone, which writes the same cells in the same styles."""

import io
import sys
from collections.abc import Callable
from copy import copy
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.styles import NamedStyle

from salebook.book.write import book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.jobs.make import PackSource, make_pack
from salebook.jobs.samples import packaged_samples
from salebook.plan.load import read_plan
from salebook.reckoning import Reckoning, reckon
from tests.bench.clock import processor_seconds

WORKBOOK_LIMIT, PACK_LIMIT = 1.35, 1.5

Cells = list[tuple[str, list[tuple[int, int, Any, str]]]]


def sale_of(pieces: int) -> Reckoning:
    """Return the smallest sample with so many pieces wanted."""
    text = (packaged_samples() / "first-sale.toml").read_text("utf-8")
    return reckon(read_plan(text.replace("wanted = 20", f"wanted = {pieces}"), file="bench"))


def bare_writer(book: bytes) -> Callable[[], object]:
    """Return a function that writes the cells and styles of a workbook again, by openpyxl alone."""
    workbook: Any = load_workbook(io.BytesIO(book))
    styles = [style for style in workbook._named_styles if style.name != "Normal"]
    cells: Cells = [
        (
            sheet.title,
            [
                (cell.row, cell.column, cell.value, cell.style)
                for row in sheet.iter_rows()
                for cell in row
                if cell.has_style
            ],
        )
        for sheet in workbook
    ]

    def write() -> None:
        out: Any = Workbook()
        out.remove(out.active)
        for style in styles:
            parts = ("font", "fill", "border", "alignment", "number_format", "protection")
            out.add_named_style(
                NamedStyle(name=style.name, **{part: copy(getattr(style, part)) for part in parts})
            )
        arrays = {style.name: style.as_tuple() for style in out._named_styles}
        for title, written in cells:
            sheet = out.create_sheet(title)
            for row, column, value, style in written:
                sheet.cell(row, column, value)._style = arrays[style]
        out.save(io.BytesIO())

    return write


@pytest.mark.parametrize(("pieces", "runs"), [(100, 5), (1_000, 3), (5_000, 1)])
def test_the_workbook_takes_at_most_twice_what_openpyxl_alone_needs(pieces: int, runs: int) -> None:
    reckoning = sale_of(pieces)
    event = reckon_event(reckoning, Entries())
    bare = processor_seconds(bare_writer(book_bytes(reckoning, event)), runs=runs)
    ratio = processor_seconds(lambda: book_bytes(reckoning, event), runs=runs) / bare
    sys.stdout.write(f"\nworkbook of {pieces} pieces / openpyxl alone: {ratio:.2f}\n")
    assert ratio <= WORKBOOK_LIMIT


def test_the_pack_of_1_000_pieces_takes_at_most_two_and_a_half_times_openpyxl_alone() -> None:
    reckoning = sale_of(1_000)
    bare = processor_seconds(bare_writer(book_bytes(reckoning, reckon_event(reckoning, Entries()))))
    ratio = processor_seconds(lambda: make_pack(PackSource(reckoning=reckoning))) / bare
    sys.stdout.write(f"\npack of 1 000 pieces / openpyxl alone: {ratio:.2f}\n")
    assert ratio <= PACK_LIMIT
