"""Whether somebody has filled something in in a workbook."""

import io
from collections import Counter
from pathlib import Path

from openpyxl import load_workbook
from openpyxl.workbook import Workbook

PLAN_SHEETS = frozenset({"Plan", "Price"})
"""Sheets whose inputs come from the plan file, which may have changed since."""


def is_filled_in(path: Path, fresh: bytes) -> bool:
    """Whether an input cell holds something that a fresh workbook of the plan does not; in doubt it does.

    A file that is no workbook counts as filled in: it is somebody's.
    """
    try:
        there = _inputs(load_workbook(path))
    except Exception:  # whatever a damaged or foreign file raises, it is not to be overwritten
        return True
    return bool(there - _inputs(load_workbook(io.BytesIO(fresh))))


def _inputs(workbook: Workbook) -> Counter[tuple[str, object]]:
    """Count what stands in the unlocked cells of each sheet, wherever a sort may have moved it."""
    return Counter(
        (sheet.title, cell.value)
        for sheet in workbook.worksheets
        if sheet.title not in PLAN_SHEETS
        for row in sheet.iter_rows()
        for cell in row
        if cell.value not in {None, ""} and not cell.protection.locked
    )
