"""Stored results: put the model's value beside each formula in a saved workbook."""

import re
from collections.abc import Iterator, Mapping
from io import BytesIO
from tempfile import TemporaryFile
from typing import IO
from xml.sax.saxutils import escape
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from openpyxl import Workbook
from openpyxl.writer.excel import ExcelWriter
from openpyxl.xml.functions import fromstring, tostring

from salebook.book.figure import Value
from salebook.book.file.xml_rows import xml_row_chunks

# openpyxl stores no results: they go into each formula cell's XML once it has saved, with their type.
FORMULA_CELL = re.compile(r'<c r="([A-Z]+[0-9]+)"( s="[0-9]+")?><f>([^<]*)</f><v ?(?:/>|></v>)</c>')
"""A formula cell as openpyxl writes it."""
# As openpyxl writes it, with a type, a program takes an empty cell for 0 or for a text.
EMPTY_CELL = re.compile(r'(<c r="[A-Z]+[0-9]+"(?: s="[0-9]+")?) t="(?:n|inlineStr)" ?/>')
DRAWING = re.compile(r"xl/drawings/drawing[0-9]+\.xml")

LONG_AGO = (1980, 1, 1, 0, 0, 0)
"""The time given to every part of the file, so that the same plan gives the same file."""


class UnstoredFormulaError(AssertionError):
    """A formula was written without the value that it must show: a mistake in a sheet's module."""


def saved_with_results(workbook: Workbook, stored: Mapping[str, Mapping[str, Value]]) -> bytes:
    """Return the workbook's file with a stored result in every formula cell, by sheet title and cell."""
    by_part = {f"xl/worksheets/sheet{n}.xml": title for n, title in enumerate(workbook.sheetnames, start=1)}
    finished = BytesIO()
    with TemporaryFile() as plain:
        ExcelWriter(workbook, ZipFile(plain, "w", ZIP_STORED)).save()
        with ZipFile(plain) as source, ZipFile(finished, "w") as target:
            for name in source.namelist():
                part = ZipInfo(name, date_time=LONG_AGO)
                part.compress_type = ZIP_DEFLATED
                title = by_part.get(name)
                with source.open(name) as read, target.open(part, "w") as written:
                    if title:
                        written.writelines(_with_results(read, stored[title]))
                    else:
                        written.writelines(_with_prefixes(read) if DRAWING.fullmatch(name) else read)
    return finished.getvalue()


def _with_prefixes(drawing: IO[bytes]) -> Iterator[bytes]:
    """Yield a drawing with the usual prefix before each name: some readers look for it."""
    named: bytes = tostring(fromstring(drawing.read()))  # type: ignore[assignment] # the stubs say str
    yield named


def _with_results(sheet: IO[bytes], values: Mapping[str, Value]) -> Iterator[bytes]:
    left = dict(values)

    def cell(match: re.Match[str]) -> str:
        place, style, formula = match[1], match[2] or "", match[3]
        if place not in left:
            raise UnstoredFormulaError(f"the formula in {place} has no stored result")
        kind, text = _as_stored(left.pop(place))
        return f'<c r="{place}"{style}{kind}><f>{formula}</f><v>{text}</v></c>'

    formulas = 0
    for rows in xml_row_chunks(sheet):
        text = FORMULA_CELL.sub(cell, rows.decode("utf-8"))
        formulas += text.count("<f>")
        yield EMPTY_CELL.sub(r"\1/>", text).encode("utf-8")
    if left or formulas != len(values):
        raise UnstoredFormulaError(f"formulas and stored results do not match near {sorted(left)[:3]}")


def _as_stored(value: Value) -> tuple[str, str]:
    if isinstance(value, str):
        return ' t="str"', escape(value)
    if isinstance(value, bool):
        return ' t="b"', str(int(value))
    return "", repr(value) if isinstance(value, int) else repr(float(value))
