"""Every cell of several workbooks as text: `python -m tests.support.dump FOLDER`, a file for each book.

Two such folders compared show what a change of the code changes in the books: values, formulas, looks, stored
results, names, choices, marks, widths, print.
"""

import sys
from collections.abc import Iterator
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.utils import get_column_letter

from salebook.book.read import read_book
from salebook.book.write import book_bytes, till_book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.jobs.samples import FILLED, FULL
from salebook.plan.load import load_plan
from salebook.reckoning import reckon
from tests.support.books import ROOT, SAMPLES, sample_book

SAMPLE_DATA = ROOT / "sample_data"
PRINTED = ("print_area", "print_title_rows", "print_title_cols", "freeze_panes")


def books() -> Iterator[tuple[str, bytes]]:
    """Yield a name and the file of each book: empty, filled in, of one table, and read and written anew."""
    for sample in SAMPLES:
        yield sample, sample_book(sample)
        yield f"{sample}-a-day", sample_book(sample, filled_in=True)
    reckoning = reckon(load_plan(SAMPLE_DATA / FULL))
    yield "till", till_book_bytes(reckoning, reckon_event(reckoning, Entries()), till="2")
    read = read_book(SAMPLE_DATA / FILLED)
    reckoning = reckon(read.plan)
    yield "filled-in", book_bytes(reckoning, reckon_event(reckoning, read.entries), sale_id=read.sale_id)


def dumped(book: bytes) -> str:
    """Return all that a book holds, sorted, a fact a line."""
    formulas, results = load_workbook(BytesIO(book)), load_workbook(BytesIO(book), data_only=True)
    lines = [f"name {name} = {defined.attr_text}" for name, defined in formulas.defined_names.items()]
    looks: dict[tuple[int, ...], str] = {}
    for sheet in formulas.worksheets:
        facts = (*_cells(sheet, results[sheet.title], looks), *_rules(sheet), *_shape(sheet))
        lines += [f"{sheet.title}!{fact}" for fact in facts]
    return "\n".join(sorted(lines)) + "\n"


def _cells(sheet: Any, results: Any, looks: dict[tuple[int, ...], str]) -> Iterator[str]:
    for row in sheet.iter_rows():
        for cell in row:
            at = f"{get_column_letter(cell.column)}{cell.row:04}"
            if cell.value is not None:
                yield f"{at} holds {cell.value!r}"
                yield f"{at} shows {results[cell.coordinate].value!r}"
            if cell.has_style:
                key = tuple(cell._style)
                if key not in looks:
                    looks[key] = _look(cell)
                yield f"{at} looks {looks[key]}"


def _look(cell: Any) -> str:
    """Return a cell's style by name, and a mark of all that makes it up."""
    parts = (cell.number_format, cell.font, cell.fill, cell.border, cell.alignment, cell.protection)
    mark = sha256("".join(map(repr, parts)).encode()).hexdigest()[:10]
    return f"{cell.style}, {cell.number_format}, {mark}"


def _rules(sheet: Any) -> Iterator[str]:
    for rule in sheet.data_validations.dataValidation:
        said = (rule.type, rule.operator, rule.formula1, rule.formula2, rule.error, rule.errorStyle)
        yield f"rule {rule.sqref} {said} {rule.showErrorMessage}"
    for cells, rules in sheet.conditional_formatting._cf_rules.items():
        yield from (f"mark {cells.sqref} {rule.formula} {_flat(rule.dxf)}" for rule in rules)


def _shape(sheet: Any) -> Iterator[str]:
    for name, column in sheet.column_dimensions.items():
        yield f"column {name} {column.width} {column.hidden} {column.outlineLevel}"
    for number, row in sheet.row_dimensions.items():
        yield f"row {number:04} {row.height} {row.hidden} {row.outlineLevel}"
    yield from (f"merged {cells}" for cells in sheet.merged_cells.ranges)
    yield from (f"page break after {stop.id}" for stop in sheet.row_breaks.brk)
    yield from (f"{name} {getattr(sheet, name)}" for name in PRINTED)
    yield from (_flat(part) for part in (sheet.page_setup, sheet.page_margins, sheet.protection))
    yield f"footer {sheet.oddFooter.left.text} {sheet.oddFooter.right.text}"
    yield f"charts {len(sheet._charts)}"


def _flat(part: object) -> str:
    return " ".join(repr(part).split())


def main(folder: Path) -> None:
    """Write one text for each book into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, book in books():
        (folder / f"{name}.txt").write_text(dumped(book), encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
