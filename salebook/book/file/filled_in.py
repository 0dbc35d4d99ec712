"""Whether somebody has filled something in in a workbook."""

import io
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.workbook import Workbook

from salebook.book.file.fingerprint import PLAN_PROPERTY, fingerprint
from salebook.book.file.opening import Opened, open_workbook, opened
from salebook.book.marks import JOIN_MARK

PLAN_SHEETS = frozenset({"Plan", "Price"})
"""Sheets whose inputs come from the plan file, which may have changed since."""


def is_filled_in(path: Path, fresh: bytes) -> bool:
    """Whether an input cell holds something that a fresh workbook of the plan does not; in doubt it does.

    A change on the sheet Plan shows by the mark that was written with it. A file that is no workbook counts
    as filled in: it is somebody's.
    """
    workbook = _workbook(path)
    if workbook is None or _plan_was_changed(workbook):
        return True
    return bool(_inputs(workbook) - _inputs(_loaded(opened(fresh, file=path.name))))


def is_as_joined(path: Path) -> bool:
    """Whether a workbook is one that others were put together into, and nobody filled in anything since."""
    workbook = _workbook(path)
    return workbook is not None and _has_mark(workbook, JOIN_MARK, workbook.worksheets)


def can_be_read(path: Path) -> bool:
    """Whether a file is a workbook that opens."""
    return _workbook(path) is not None


def _workbook(path: Path) -> Workbook | None:
    try:
        return _loaded(open_workbook(path))
    except Exception:  # whatever a damaged or foreign file raises, it is not to be overwritten
        return None


def _loaded(book: Opened) -> Workbook:
    """Load what there is in a workbook; empty cells, of which there may be millions, are left out."""
    return load_workbook(io.BytesIO(book.content))


def _plan_was_changed(workbook: Any) -> bool:
    if not _marked(workbook, PLAN_PROPERTY) or "Plan" not in workbook.sheetnames:
        return False
    return not _has_mark(workbook, PLAN_PROPERTY, [workbook["Plan"]])


def _has_mark(workbook: Any, name: str, sheets: Iterable[Any]) -> bool:
    """Whether the input cells of these sheets are those that a mark was worked out from."""
    inputs = (
        cell.value
        for sheet in sheets
        for row in sheet.iter_rows()
        for cell in row
        if not cell.protection.locked
    )
    return _marked(workbook, name) == fingerprint(inputs)


def _marked(workbook: Any, name: str) -> str:
    return next((str(mark.value) for mark in workbook.custom_doc_props.props if mark.name == name), "")


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
