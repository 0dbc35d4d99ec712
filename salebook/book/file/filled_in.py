"""Whether somebody has filled something in in a workbook."""

from collections import Counter
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

from openpyxl.workbook import Workbook

from salebook.book.file.fingerprint import PLAN_PROPERTY, fingerprint
from salebook.book.file.opening import open_workbook, opened
from salebook.book.marks import JOINED_PROPERTY, SHEET, sheet_in, sheet_mark

PLAN = sheet_mark("Plan")
NOT_ENTRIES = frozenset({PLAN, sheet_mark("Price"), sheet_mark("Start here")})
"""Marks of the sheets whose inputs come from the plan file, which may have changed, or show a colour."""


def is_filled_in(path: Path, fresh: bytes) -> bool:
    """Whether an input cell holds something that a fresh workbook of the plan does not; in doubt it does.

    A change on the sheet Plan shows by the fingerprint that was written with it. A file that is no workbook
    counts as filled in: it is somebody's.
    """
    workbook = _workbook(path)
    if workbook is None or _plan_was_changed(workbook):
        return True
    return bool(_inputs(workbook) - _inputs(opened(fresh, file=path.name).workbook(read_only=False)))


def is_as_joined(path: Path) -> bool:
    """Whether a workbook is one that others were put together into, and nobody filled in anything since."""
    workbook = _workbook(path)
    return workbook is not None and _property(workbook, JOINED_PROPERTY) == _fingerprint(workbook.worksheets)


def can_be_read(path: Path) -> bool:
    """Whether a file is a workbook that opens."""
    return _workbook(path) is not None


def _workbook(path: Path) -> Any:
    try:
        workbook: Workbook = open_workbook(path).workbook(read_only=False)
    except Exception:  # whatever a damaged or foreign file raises, it is not to be overwritten
        return None
    return workbook


def _plan_was_changed(workbook: Any) -> bool:
    plan = _sheets(workbook).get(PLAN)
    written = _property(workbook, PLAN_PROPERTY)
    return bool(plan and written) and written != _fingerprint([plan])


def _fingerprint(sheets: Iterable[Any]) -> str:
    return fingerprint(value for sheet in sheets for value in _unlocked(sheet))


def _unlocked(sheet: Any) -> Iterator[Any]:
    """Yield what stands in the input cells of a sheet."""
    return (cell.value for row in sheet.iter_rows() for cell in row if not cell.protection.locked)


def _property(workbook: Any, name: str) -> str:
    return next((str(one.value) for one in workbook.custom_doc_props.props if one.name == name), "")


def _sheets(workbook: Any) -> dict[str, Any]:
    """Return the sheets by their marks, which books made before there were marks have in their titles."""
    marks = {
        sheet_in(str(name.attr_text)): mark
        for mark, name in workbook.defined_names.items()
        if mark.startswith(SHEET)
    }
    return {marks.get(sheet.title, sheet_mark(sheet.title)): sheet for sheet in workbook.worksheets}


def _inputs(workbook: Workbook) -> Counter[tuple[str, object]]:
    """Count what stands in the unlocked cells of each sheet, wherever a sort may have moved it."""
    return Counter(
        (mark, value)
        for mark, sheet in _sheets(workbook).items()
        if mark not in NOT_ENTRIES
        for value in _unlocked(sheet)
        if value not in {None, ""}
    )
