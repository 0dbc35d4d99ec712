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
from salebook.event.merge import merge
from salebook.event.report import report_of
from salebook.event.told import TillBook
from salebook.jobs.samples import FULL, packaged_samples
from salebook.plan.load import load_plan
from salebook.reckoning import Reckoning, reckon
from tests.bench.clock import processor_seconds

LIMIT = 1.3
LINES, MANY_LINES = 10_000, 40_000
STRAIGHT = 1.3
"""So much may a number of lines or tills take beyond its share."""
RUNS = 7
LINES_OF_A_TILL = 2_000


@pytest.fixture(scope="module")
def sale() -> Reckoning:
    return reckon(load_plan(packaged_samples() / FULL))


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


def book_of(sale: Reckoning, count: int, folder: Path) -> Path:
    path = folder / f"{count}.xlsx"
    path.write_bytes(book_bytes(sale, reckon_event(sale, Entries(lines=lines(count)))))
    return path


def read_and_add_up(sale: Reckoning, path: Path) -> int:
    """Return how many lines were read and added up."""
    read = read_book(path)
    return len(report_of(sale, read.entries, stored=read.stored).event.state.lines)


def test_reading_and_adding_up_takes_at_most_1_3_times_openpyxls_bare_reading(
    sale: Reckoning, tmp_path: Path
) -> None:
    path = book_of(sale, LINES, tmp_path)
    assert read_and_add_up(sale, path) == LINES
    bare = processor_seconds(lambda: bare_reading(path))
    ratio = processor_seconds(lambda: read_and_add_up(sale, path)) / bare
    sys.stdout.write(f"\nreading {LINES} lines / openpyxl alone: {ratio:.2f}\n")
    assert ratio <= LIMIT


def test_reading_grows_in_a_straight_line(sale: Reckoning, tmp_path: Path) -> None:
    few, many = (book_of(sale, count, tmp_path) for count in (LINES, MANY_LINES))
    of_few = processor_seconds(lambda: read_and_add_up(sale, few))
    ratio = processor_seconds(lambda: read_and_add_up(sale, many), runs=1) / of_few
    sys.stdout.write(f"\nreading {MANY_LINES} lines / {LINES} lines: {ratio:.2f}\n")
    assert ratio <= STRAIGHT * MANY_LINES / LINES


def test_joining_grows_in_a_straight_line() -> None:
    def books(tills: int) -> list[TillBook]:
        return [
            TillBook(file=str(till), till=str(till), entries=Entries(lines=lines(LINES_OF_A_TILL, str(till))))
            for till in range(1, tills + 1)
        ]

    ten, twenty = books(10), books(20)
    of_ten = processor_seconds(lambda: merge(ten), runs=RUNS)
    ratio = processor_seconds(lambda: merge(twenty), runs=RUNS) / of_ten
    sys.stdout.write(f"\njoining 20 tills / 10 tills: {ratio:.2f}\n")
    assert ratio <= 2 * STRAIGHT
