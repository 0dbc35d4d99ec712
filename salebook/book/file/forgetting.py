"""A copy of a workbook without the people on Hand over: what was typed there is gone from all of it."""

import io
import re
from collections.abc import Mapping, Sequence
from html import unescape
from itertools import count
from pathlib import PurePosixPath
from posixpath import join, normpath
from typing import Any, Final
from zipfile import ZIP_DEFLATED, ZipFile

from openpyxl import load_workbook

from salebook.base.errors import FileError
from salebook.base.words import _

SECTION: Final = "claims"
"""Marks the sheet's table, whatever the sheet is called by now: each row by itself, its keys in brackets."""
KEYS: Final = f"[{SECTION}]"
SHARED: Final = "xl/sharedStrings.xml"

TAG: Final = r"(?:[A-Za-z][\w.]*:)?"
ROW: Final = re.compile(rf"<{TAG}row\b[^>]*?\br=\"([0-9]+)\"[^>]*?(?:/>|>.*?</{TAG}row>)", re.DOTALL)
CELL: Final = re.compile(rf"<({TAG})c\b((?:[^>\"]|\"[^\"]*\")*?)(?:/>|>(.*?)</\1c>)", re.DOTALL)
FORMULA: Final = re.compile(
    rf"<{TAG}f\b(?:(?:[^>\"]|\"[^\"]*\")*/>|(?:[^>\"]|\"[^\"]*\")*>.*?</{TAG}f>)", re.DOTALL
)
KIND: Final = re.compile(r"\s+t=\"([^\"]*)\"")
RESULT: Final = re.compile(rf"<{TAG}v\b[^>]*>([0-9]+)</{TAG}v>")
MARKUP: Final = re.compile(r"<[^>]*>")
STRING: Final = re.compile(rf"<({TAG})si\b[^>]*?(?:/>|>.*?</\1si>)", re.DOTALL)
FILTERS: Final = re.compile(rf"<({TAG})filterColumn\b[^>]*?(?:/>|>.*?</\1filterColumn>)", re.DOTALL)
LINKS: Final = re.compile(rf"<({TAG})hyperlinks\b[^>]*>.*?</\1hyperlinks>", re.DOTALL)
RELATION: Final = re.compile(rf"<{TAG}Relationship\b[^>]*>")
TARGET: Final = re.compile(r"\bTarget=\"([^\"]*)\"")
SAID: Final = re.compile(rf"(<({TAG}(?:t|text))\b(?:[^>\"]|\"[^\"]*\")*(?<!/)>).*?(</\2>)", re.DOTALL)
"""The text of a comment, or of a box drawn on the sheet."""


def without_people(content: bytes, *, file: str) -> bytes:
    """Return a workbook's file with everything typed below the headings of Hand over taken out.

    All else stays as it is. Names typed on other sheets, in notes, stay there. Raises FileError where the
    file has no such sheet, or one that is not written as spreadsheet programs do.
    """
    with ZipFile(io.BytesIO(content)) as source:
        parts = {name: source.read(name) for name in source.namelist()}
    # The XML is edited, since openpyxl would lose every stored result if it saved the book anew.
    part, heading_row = _found(content, file)
    try:
        _empty(parts, part, heading_row)
    except (LookupError, ValueError) as trouble:
        raise FileError(_("{file}: the sheet Hand over cannot be emptied").format(file=file)) from trouble
    return _packed(parts)


def _empty(parts: dict[str, bytes], part: str, heading_row: int) -> None:
    texts = [MARKUP.sub("", text[0]) for text in STRING.finditer(parts.get(SHARED, b"").decode("utf-8"))]
    emptied, used = _emptied(parts[part].decode("utf-8"), heading_row, texts)
    parts[part] = emptied.encode("utf-8")
    _drop_strings(parts, used)
    _drop_beside(parts, part)


def _found(content: bytes, file: str) -> tuple[str, int]:
    """Return the sheet's part in the file and the row of its headings."""
    workbook: Any = load_workbook(io.BytesIO(content), read_only=True)
    try:
        for sheet in workbook.worksheets:
            sheet.reset_dimensions()
            for number, row in enumerate(sheet.iter_rows(values_only=True), start=1):
                if KEYS in row:
                    return sheet._worksheet_path.lstrip("/"), number + 1
    finally:
        workbook.close()
    raise FileError(_("{file}: there is no sheet Hand over in it").format(file=file))


def _emptied(xml: str, heading_row: int, texts: Sequence[str]) -> tuple[str, set[int]]:
    """Return the sheet with empty cells below its headings, and the numbers of the shared texts they held."""
    ends = [row.end() for row in ROW.finditer(xml) if int(row[1]) <= heading_row]
    used: set[int] = set()

    def empty(cell: re.Match[str]) -> str:
        text = _shared_text(cell)
        if (MARKUP.sub("", cell[3] or "") if text is None else texts[text]) == SECTION:
            return cell[0]
        if text is not None:
            used.add(text)
        return _empty_cell(cell)

    rest = CELL.sub(empty, xml[max(ends) :])
    return xml[: max(ends)] + LINKS.sub("", FILTERS.sub("", rest)), used


def _shared_text(cell: re.Match[str]) -> int | None:
    """Return the number of the shared text that a cell shows; None where it shows none."""
    kind, result = KIND.search(cell[2]), RESULT.search(cell[3] or "")
    return int(result[1]) if kind and kind[1] == "s" and result else None


def _empty_cell(cell: re.Match[str]) -> str:
    """Return a cell without what it shows; a formula stays, and shows nothing."""
    prefix, about = cell[1], KIND.sub("", cell[2])
    formula = FORMULA.search(cell[3] or "")
    if formula:
        return f'<{prefix}c{about} t="str">{formula[0]}<{prefix}v></{prefix}v></{prefix}c>'
    return f"<{prefix}c{about}/>"


def _drop_strings(parts: dict[str, bytes], used: set[int]) -> None:
    """Empty the shared texts that no other cell shows."""
    if SHARED not in parts or not used:
        return
    shown = {
        _shared_text(cell)
        for name, part in parts.items()
        if name.startswith("xl/worksheets/") and name.endswith(".xml")
        for cell in CELL.finditer(part.decode("utf-8"))
    }
    gone = used - shown
    strings = count()

    def drop(string: re.Match[str]) -> str:
        return f"<{string[1]}si><{string[1]}t/></{string[1]}si>" if next(strings) in gone else string[0]

    parts[SHARED] = STRING.sub(drop, parts[SHARED].decode("utf-8")).encode("utf-8")


def _drop_beside(parts: dict[str, bytes], part: str) -> None:
    """Empty what hangs on the sheet: comments, drawn boxes, and links such as to an address for mail."""
    place = PurePosixPath(part)
    relations = f"{place.parent}/_rels/{place.name}.rels"
    if relations not in parts:
        return
    text = parts[relations].decode("utf-8")
    for relation in RELATION.findall(text):
        target = TARGET.search(relation)
        name = normpath(join("/", place.parent, unescape(target[1]))).lstrip("/") if target else ""
        if "hyperlink" in relation:
            text = text.replace(relation, "")
        elif name in parts and name.endswith(".xml") and ("omment" in name or "drawing" in name):
            parts[name] = SAID.sub(r"\1\3", parts[name].decode("utf-8")).encode("utf-8")
    parts[relations] = text.encode("utf-8")


def _packed(parts: Mapping[str, bytes]) -> bytes:
    target = io.BytesIO()
    with ZipFile(target, "w", ZIP_DEFLATED) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    return target.getvalue()
