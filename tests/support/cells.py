"""The cells of a workbook, straight from its XML: what stands in them, and changes to them."""

import posixpath
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from io import BytesIO
from typing import NamedTuple
from zipfile import ZipFile

from lxml import etree

NAMESPACE = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


class SheetError(str):
    """An error shown in a cell, such as #NAME? or Err:508."""

    __slots__ = ()


Value = str | float | int | bool | SheetError
Place = tuple[str, str]
"""A sheet's title and a cell's address: ("Price", "C7")."""


class FormulaCell(NamedTuple):
    """A formula (without its "=") and the result stored beside it, None where none is stored."""

    sheet: str
    cell: str
    formula: str
    stored: Value | None


@dataclass(frozen=True)
class Blank:
    """Empties a cell that `changed` is given."""


def tag(name: str) -> str:
    """Return an element's full name."""
    return f"{{{NAMESPACE}}}{name}"


def parts_of(xlsx: bytes) -> dict[str, bytes]:
    """Return every part of a workbook's file by its name."""
    with ZipFile(BytesIO(xlsx)) as parts:
        return {name: parts.read(name) for name in parts.namelist()}


def file_of(parts: Mapping[str, bytes]) -> bytes:
    """Put the parts of a workbook's file together again."""
    file = BytesIO()
    with ZipFile(file, "w") as target:
        for name, content in parts.items():
            target.writestr(name, content)
    return file.getvalue()


def sheet_parts(parts: Mapping[str, bytes]) -> dict[str, str]:
    """Return the part that each sheet stands in, by the sheet's title and in the sheets' order."""
    links = etree.fromstring(parts["xl/_rels/workbook.xml.rels"])
    targets = {str(link.get("Id")): posixpath.join("/xl", str(link.get("Target")))[1:] for link in links}
    book = etree.fromstring(parts["xl/workbook.xml"])
    return {str(sheet.get("name")): targets[str(sheet.get(RELATION))] for sheet in book.iter(tag("sheet"))}


def formula_cells(xlsx: bytes) -> Iterator[FormulaCell]:
    """Yield every cell with a formula, sheet by sheet, in the order of the file."""
    cells = _cells(xlsx)
    return (FormulaCell(sheet, cell, f, stored) for sheet, cell, f, stored in cells if f is not None)


def values_of(xlsx: bytes) -> dict[Place, Value]:
    """Return what every cell that holds something shows: a formula's stored result, or the plain value."""
    return {(sheet, cell): value for sheet, cell, _formula, value in _cells(xlsx) if value is not None}


def plain_values(xlsx: bytes) -> dict[Place, Value]:
    """Return what stands in every cell without a formula."""
    cells = ((sheet, cell, value) for sheet, cell, formula, value in _cells(xlsx) if formula is None)
    return {(sheet, cell): value for sheet, cell, value in cells if value is not None}


@lru_cache(maxsize=8)
def _cells(xlsx: bytes) -> tuple[tuple[str, str, str | None, Value | None], ...]:
    """Return sheet, address, formula and value of each cell; a few workbooks are looked at many times."""
    parts = parts_of(xlsx)
    shared = _shared_texts(parts)
    return tuple(
        (title, str(cell.get("r")), _formula(cell), _value(cell, shared))
        for title, part in sheet_parts(parts).items()
        for cell in etree.fromstring(parts[part]).iter(tag("c"))
    )


def _formula(cell: etree._Element) -> str | None:
    formula = cell.find(tag("f"))
    return None if formula is None else formula.text or ""


def without_stored_results(xlsx: bytes) -> bytes:
    """Return the workbook with every formula and without the result stored beside it.

    A spreadsheet program trusts stored results on opening: with them it would only repeat what it was told.
    """
    return _with_each_cell(xlsx, _forget_result)


def with_empty_results(xlsx: bytes) -> bytes:
    """Return the workbook with an empty text beside each formula, where a reader asks for any result."""

    def empty(_sheet: str, cell: etree._Element) -> None:
        result = cell.find(tag("v"))
        if cell.find(tag("f")) is not None and result is not None:
            cell.set("t", "str")
            result.text = ""

    return _with_each_cell(xlsx, empty)


def changed(xlsx: bytes, changes: Mapping[Place, Value | Decimal | Blank]) -> bytes:
    """Return the workbook with other plain values in these cells, as a person types them.

    Raises KeyError where a cell does not stand in the file, ValueError where it holds a formula.
    """
    left = dict(changes)

    def change(sheet: str, cell: etree._Element) -> None:
        place = (sheet, str(cell.get("r")))
        if place in left:
            _type_into(cell, left.pop(place))

    book = _with_each_cell(xlsx, change)
    if left:
        raise KeyError(f"no such cells: {sorted(left)}")
    return book


def _with_each_cell(xlsx: bytes, change: Callable[[str, etree._Element], None]) -> bytes:
    parts = parts_of(xlsx)
    for title, part in sheet_parts(parts).items():
        sheet = etree.fromstring(parts[part])
        for cell in sheet.iter(tag("c")):
            change(title, cell)
        parts[part] = etree.tostring(sheet, xml_declaration=True, encoding="UTF-8", standalone=True)
    return file_of(parts)


def _forget_result(_sheet: str, cell: etree._Element) -> None:
    result = cell.find(tag("v"))
    if cell.find(tag("f")) is None or result is None:
        return
    cell.remove(result)
    _untype(cell)


def _untype(cell: etree._Element) -> None:
    if "t" in cell.attrib:
        del cell.attrib["t"]


def _type_into(cell: etree._Element, value: Value | Decimal | Blank) -> None:
    if cell.find(tag("f")) is not None:
        raise ValueError(f"{cell.get('r')} holds a formula")
    for child in list(cell):
        cell.remove(child)
    _untype(cell)
    match value:
        case Blank():
            pass
        case bool():
            cell.set("t", "b")
            etree.SubElement(cell, tag("v")).text = str(int(value))
        case str():
            cell.set("t", "inlineStr")
            etree.SubElement(etree.SubElement(cell, tag("is")), tag("t")).text = value
        case _:
            etree.SubElement(cell, tag("v")).text = str(value)


def _shared_texts(parts: Mapping[str, bytes]) -> list[str]:
    if "xl/sharedStrings.xml" not in parts:
        return []
    return [_text(item) for item in etree.fromstring(parts["xl/sharedStrings.xml"]).iter(tag("si"))]


def _text(item: etree._Element) -> str:
    """Join the runs of a text; the reading aids of phonetic runs are no part of it."""
    runs = item.iter(tag("t"))
    return "".join(run.text or "" for run in runs if (up := run.getparent()) is None or up.tag != tag("rPh"))


def _value(cell: etree._Element, shared: list[str]) -> Value | None:
    if cell.get("t") == "inlineStr":
        return _text(cell)
    result = cell.find(tag("v"))
    return None if result is None else _read(result.text or "", cell.get("t", "n"), shared)


def _read(text: str, kind: str, shared: list[str]) -> Value | None:
    match kind:
        case "s":
            return shared[int(text)]
        case "str":
            return text
        case "b":
            return text == "1"
        case "e":
            return SheetError(text)
        case _:
            return float(text) if text else None
