"""Memory: writing a workbook, against openpyxl alone with the same cells, without styles and results."""

import subprocess
import sys
from pathlib import Path

import pytest

LIMIT = 1.6

MEASURE = """
import re, sys
from pathlib import Path
from openpyxl import Workbook, load_workbook
from salebook.book.write import book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from tests.bench.test_workbook import sale_of

def kilobytes():
    # What getrusage says begins with the memory of whoever started this program.
    return int(re.search("VmHWM:\\s+([0-9]+)", Path("/proc/self/status").read_text())[1])
"""

OURS = f"""{MEASURE}
reckoning = sale_of(int(sys.argv[1]))
event = reckon_event(reckoning, Entries())
before = kilobytes()
book = book_bytes(reckoning, event)
print(kilobytes() - before)
open(sys.argv[2], "wb").write(book)
"""

BARE = f"""{MEASURE}
given, copy = load_workbook(sys.argv[2], read_only=True), Workbook()
before = kilobytes()
for sheet in given.worksheets:
    other = copy.create_sheet(sheet.title)
    for row in sheet.iter_rows():
        for cell in row:
            if cell.value is not None or getattr(cell, "has_style", False):
                other.cell(cell.row, cell.column, cell.value)
copy.save(sys.argv[2])
print(kilobytes() - before)
"""


def kilobytes(program: str, pieces: int, path: Path) -> int:
    """Return by how much a program's memory grows at most while it writes the workbook of so many pieces."""
    arguments = [sys.executable, "-c", program, str(pieces), str(path)]
    return int(subprocess.run(arguments, capture_output=True, text=True, check=True).stdout)


@pytest.mark.skipif(not Path("/proc/self/status").exists(), reason="memory is read from /proc")
@pytest.mark.parametrize("pieces", [1_000, 5_000])
def test_a_workbook_takes_at_most_1_6_times_openpyxls_memory(pieces: int, tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    ours, bare = (kilobytes(program, pieces, path) for program in (OURS, BARE))
    ratio = ours / bare
    sys.stdout.write(f"\nmemory for {pieces} pieces / openpyxl alone: {ratio:.2f}\n")
    assert ratio <= LIMIT
