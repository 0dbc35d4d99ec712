"""Stored results: put the model's value beside each formula in a saved workbook."""

import re
from collections.abc import Mapping
from io import BytesIO
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from openpyxl import Workbook
from openpyxl.writer.excel import ExcelWriter

from salebook.book.figure import Value
from salebook.errors import FileTrouble

FORMULA_CELL = re.compile(r'<c r="([A-Z]+[0-9]+)"( s="[0-9]+")?><f>([^<]*)</f><v ?(?:/>|></v>)</c>')
"""A formula cell as openpyxl writes it, with lxml and without."""


LONG_AGO = (1980, 1, 1, 0, 0, 0)
"""The time given to every part of the file, so that the same plan gives the same file."""


class UnstoredFormulaError(AssertionError):
    """A formula was written without the value that it must show: a mistake in a sheet's module."""


def saved_with_results(workbook: Workbook, stored: Mapping[str, Mapping[str, Value]]) -> bytes:
    """Return the workbook's file with a stored result in every formula cell, by sheet title and cell."""
    plain = _as_openpyxl_saves(workbook)
    by_part = {f"xl/worksheets/sheet{n}.xml": title for n, title in enumerate(workbook.sheetnames, start=1)}
    finished = BytesIO()
    with ZipFile(plain) as source, ZipFile(finished, "w", ZIP_DEFLATED, compresslevel=6) as target:
        for name in source.namelist():
            data, title = source.read(name), by_part.get(name)
            finished_part = ZipInfo(name, date_time=LONG_AGO)
            target.writestr(
                finished_part, _with_results(data, stored[title]) if title else data, ZIP_DEFLATED
            )
    return finished.getvalue()


def _as_openpyxl_saves(workbook: Workbook) -> BytesIO:
    plain = BytesIO()
    try:
        ExcelWriter(workbook, ZipFile(plain, "w", ZIP_STORED)).save()
    except Exception as trouble:
        # openpyxl writes its sheets to temporary files, through lxml, whose own errors are no OSError.
        if type(trouble).__module__.startswith("lxml"):
            raise FileTrouble(f"the folder for temporary files cannot be written to ({trouble})") from trouble
        raise
    return plain


def _with_results(sheet: bytes, values: Mapping[str, Value]) -> bytes:
    left = dict(values)

    def cell(match: re.Match[str]) -> str:
        place, style, formula = match[1], match[2] or "", match[3]
        if place not in left:
            raise UnstoredFormulaError(f"the formula in {place} has no stored result")
        kind, text = _as_stored(left.pop(place))
        return f'<c r="{place}"{style}{kind}><f>{formula}</f><v>{text}</v></c>'

    text = FORMULA_CELL.sub(cell, sheet.decode("utf-8"))
    if left or text.count("<f>") != len(values):
        raise UnstoredFormulaError(f"formulas and stored results do not match near {sorted(left)[:3]}")
    return text.encode("utf-8")


def _as_stored(value: Value) -> tuple[str, str]:
    if isinstance(value, str):
        return ' t="str"', escape(value)
    if isinstance(value, bool):
        return ' t="b"', str(int(value))
    return "", repr(value) if isinstance(value, int) else repr(float(value))
