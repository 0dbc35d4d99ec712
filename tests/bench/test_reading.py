"""Reading a workbook back: salebook against openpyxl's bare reading of the same file; joining many tills."""

import sys
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from salebook.book.read import read_book
from salebook.book.write import book_bytes
from salebook.event.entries import Entries, Line
from salebook.event.event import reckon_event
from salebook.event.joined import Book, joined
from salebook.event.report import report_of
from salebook.plan.load import load_plan
from salebook.reckoning import Reckoning, reckon
from salebook.samples import FULL, own_samples
from tests.bench.clock import processor_seconds

LIMIT = 1.3
LINES = 10_000
STRAIGHT = 1.6
"""Twice the tills may take so many times twice as long."""


@pytest.fixture(scope="module")
def sale() -> Reckoning:
    return reckon(load_plan(own_samples() / FULL))


def lines(count: int, till: str = "1") -> tuple[Line, ...]:
    """Return so many lines of which most are sales, each with an amount."""
    typed: dict[str, Any] = {"amount": Decimal("7.50"), "way": "card", "till": till}
    return tuple(
        Line(
            number=number,
            kind="sale" if number % 3 else "raffle",
            piece="MUG-001" if number == 1 else "",
            **typed,
        )
        for number in range(1, count + 1)
    )


def bare_reading(path: Path) -> int:
    """Read every cell of a workbook by openpyxl alone; return how many hold something."""
    workbook = load_workbook(path, read_only=True)
    found = 0
    for sheet in workbook.worksheets:
        sheet.reset_dimensions()
        found += sum(value is not None for row in sheet.iter_rows(values_only=True) for value in row)
    return found


def test_reading_and_adding_up_takes_at_most_1_3_times_openpyxls_bare_reading(
    sale: Reckoning, tmp_path: Path
) -> None:
    path = tmp_path / "sale.xlsx"
    event = reckon_event(sale, Entries(lines=lines(LINES)))
    path.write_bytes(book_bytes(sale, event))

    def read_and_add_up() -> None:
        read = read_book(path)
        report = report_of(sale, read.entries, stored=read.stored)
        assert (LINES, event.share_out.pool) == (len(read.entries.lines), report.event.share_out.pool)

    bare = processor_seconds(lambda: bare_reading(path))
    ratio = processor_seconds(read_and_add_up) / bare
    sys.stdout.write(f"\nreading {LINES} lines / openpyxl alone: {ratio:.2f}\n")
    assert ratio <= LIMIT


def test_joining_grows_in_a_straight_line() -> None:
    def books(tills: int) -> list[Book]:
        return [
            Book(file=str(till), till=str(till), entries=Entries(lines=lines(500, str(till))))
            for till in range(1, tills + 1)
        ]

    ten, twenty = books(10), books(20)
    ratio = processor_seconds(lambda: joined(twenty)) / processor_seconds(lambda: joined(ten))
    sys.stdout.write(f"\njoining 20 tills / 10 tills: {ratio:.2f}\n")
    assert ratio <= 2 * STRAIGHT
