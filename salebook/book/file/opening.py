"""A workbook's file opened with care: whatever it is, it takes little time, or is refused in words."""

import io
import re
import warnings
import zipfile
import zlib
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any, Final
from xml.parsers import expat

from openpyxl import load_workbook

from salebook.base.errors import FileError
from salebook.base.words import _
from salebook.book.file.xml_rows import xml_row_chunks

# 100 000 lines make a workbook of 115 MB, which is refused in words.
LARGEST_FILE: Final = 60_000_000
LARGEST_UNPACKED: Final = 700_000_000
"""Bytes; formatted empty cells are dropped while unpacking, so that most of it never stands in memory."""
LARGEST_KEPT: Final = 130_000_000
LARGEST_OTHER_PART: Final = 40_000_000
MOST_CELLS: Final = 2_000_000
MOST_SHEETS: Final = 200

OLD_KIND: Final = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""How a compound file begins: an encrypted workbook, or an old binary one ([MS-CFB], section 2.2)."""
ENCRYPTED: Final = "EncryptedPackage".encode("utf-16-le")

EMPTY_CELL: Final = re.compile(rb'<c(?: [a-z]+="[^"<>]*")*\s*(?:/>|></c>)')
EMPTY_ROW: Final = re.compile(rb'<row(?: [A-Za-z0-9:]+="[^"<>]*")*\s*(?:/>|>\s*</row>)')
LONG_FORMULA: Final = re.compile(rb"<f>[^<]{60,}</f>")
"""A formula that is more than the address of a cell: only that it is there matters."""
SHORT_FORMULA: Final = b"<f>0</f>"
MERGED: Final = re.compile(rb'<mergeCell ref="([A-Z]{1,3}[0-9]{1,7}:[A-Z]{1,3}[0-9]{1,7})"')
ROOT: Final = re.compile(rb"<worksheet[^>]*[^/>]>|<worksheet>")
ANY_SIZE: Final = b'<dimension ref="A1"/>' + b" " * (1 << 14)
"""A sheet's size, which nobody believes; without one openpyxl reads all rows, with it this much at least."""
LOOKS: Final = re.compile(
    rb"<(fonts|fills|borders|cellStyleXfs|cellStyles|dxfs|tableStyles|colors)\b[^>]*[^/>]>.*?</\1>", re.DOTALL
)
"""What of the styles says neither how numbers show nor what is locked."""

NEEDED: Final = re.compile(
    r"\[Content_Types\]\.xml|_rels/\.rels|docProps/(?:core|custom)\.xml"
    r"|xl/(?:workbook|sharedStrings|styles)\d*\.xml|xl/_rels/workbook\d*\.xml\.rels|xl/worksheets/[^/]+\.xml",
    re.IGNORECASE,
)
ERROR: Final = re.compile(rb"""\bt=["']e["']""")
STYLES: Final = re.compile(r"xl/styles\d*\.xml", re.IGNORECASE)
SHEET: Final = re.compile(r"xl/worksheets/[^/]+\.xml", re.IGNORECASE)


@dataclass(frozen=True, kw_only=True)
class Opened:
    """The parts of a workbook that are read, without empty cells and without the text of long formulas."""

    file: str
    content: bytes
    merged: Mapping[str, tuple[str, ...]]
    """Ranges of merged cells, such as "B2:D2", by the sheet's part in the file."""
    in_error: frozenset[str]
    """The parts of sheets on which a cell shows an error, such as #REF!."""

    def workbook(self, *, read_only: bool = True) -> Any:
        """Open the workbook, to be read row by row or as a whole.

        Raises FileError where it cannot be made out.
        """
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("ignore")
                return load_workbook(io.BytesIO(self.content), read_only=read_only)
        except MemoryError:
            raise
        except Exception as trouble:  # whatever openpyxl meets in a damaged file
            raise damaged(self.file) from trouble


def damaged(file: str) -> FileError:
    """Return the trouble of a workbook that is damaged inside."""
    return FileError(
        _(
            "{file}: this workbook is damaged and cannot be read; open it in a spreadsheet program, save it "
            "under a new name, and try that"
        ).format(file=file)
    )


def open_workbook(path: Path) -> Opened:
    """Read a workbook's file.

    Raises FileError where there is none, it is no workbook, it is encrypted or damaged, or it is larger
    than any sale's book.
    """
    return opened(_packed(path), file=str(path))


def opened(packed: bytes, *, file: str) -> Opened:
    """Take in a workbook that is in memory; `file` is how messages call it.

    Raises FileError as open_workbook does.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(packed)) as archive:
            return _slimmed(archive, file)
    except (
        zipfile.BadZipFile,
        zlib.error,
        EOFError,
        NotImplementedError,
        RuntimeError,
        ValueError,
    ) as trouble:
        raise damaged(file) from trouble


def _packed(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            packed = file.read(LARGEST_FILE + 1)
    except FileNotFoundError as trouble:
        raise FileError(_("{file}: there is no such file").format(file=path)) from trouble
    except IsADirectoryError as trouble:
        raise FileError(_("{file}: this is a folder, not a workbook").format(file=path)) from trouble
    except (OSError, ValueError) as trouble:
        why = trouble.strerror if isinstance(trouble, OSError) else trouble
        raise FileError(_("{file}: cannot be read: {why}").format(file=path, why=why)) from trouble
    _refuse_other_kinds(packed, path)
    return packed


def _refuse_other_kinds(packed: bytes, path: Path) -> None:
    if len(packed) > LARGEST_FILE:
        says = _("{file}: too large for a sale's workbook (more than {most} MB)")
        raise FileError(says.format(file=path, most=LARGEST_FILE // 1_000_000))
    if packed.startswith(OLD_KIND):
        says = (
            _("{file}: this workbook is locked with a password; save it without one first")
            if ENCRYPTED in packed
            else _("{file}: this is a workbook of an old kind; save it as .xlsx first")
        )
        raise FileError(says.format(file=path))
    if not packed.startswith(b"PK"):
        raise FileError(_("{file}: this is not a workbook (.xlsx)").format(file=path))


def _slimmed(archive: zipfile.ZipFile, file: str) -> Opened:
    parts = {info.filename: info for info in archive.infolist() if NEEDED.fullmatch(info.filename)}
    if "[Content_Types].xml" not in parts or not any(SHEET.fullmatch(name) for name in parts):
        raise FileError(_("{file}: this is not a workbook (.xlsx)").format(file=file))
    if any(info.flag_bits & 1 for info in parts.values()):
        says = _("{file}: this workbook is locked with a password; save it without one first")
        raise FileError(says.format(file=file))
    _refuse_too_large(parts, file)
    kept, merged, cells, slim = 0, {}, 0, io.BytesIO()
    in_error = set()
    with zipfile.ZipFile(slim, "w", zipfile.ZIP_STORED) as target:
        for name, info in parts.items():
            with archive.open(info) as source:
                if SHEET.fullmatch(name):
                    content, ranges = _slim_sheet(source, file)
                    merged[name] = ranges
                    cells += content.count(b"<v")
                    in_error.update([name] if ERROR.search(content) else [])
                else:
                    content = source.read(LARGEST_OTHER_PART + 1)
                    content = LOOKS.sub(b"", content) if STYLES.fullmatch(name) else content
            kept += len(content)
            _refuse_entities(content, file)
            if kept > LARGEST_KEPT or cells > MOST_CELLS:
                raise _too_much(file)
            target.writestr(zipfile.ZipInfo(name), content)
    return Opened(file=file, content=slim.getvalue(), merged=merged, in_error=frozenset(in_error))


def _refuse_too_large(parts: Mapping[str, zipfile.ZipInfo], file: str) -> None:
    sheets = sum(bool(SHEET.fullmatch(name)) for name in parts)
    others = max(info.file_size for name, info in parts.items() if not SHEET.fullmatch(name))
    unpacked = sum(info.file_size for info in parts.values())
    if unpacked > LARGEST_UNPACKED or others > LARGEST_OTHER_PART or sheets > MOST_SHEETS:
        raise _too_much(file)


def _too_much(file: str) -> FileError:
    return FileError(_("{file}: far more is in this workbook than in any sale's book").format(file=file))


def _refuse_entities(content: bytes, file: str) -> None:
    """Refuse what no spreadsheet program writes: a document type, whose entities could reach out.

    It stands before the first element or nowhere; expat finds it in any encoding.
    """

    def declared(*_type: object) -> None:
        raise damaged(file)

    def begins(*_element: object) -> None:
        raise StopIteration

    parser = expat.ParserCreate()
    parser.StartDoctypeDeclHandler = declared
    parser.StartElementHandler = begins
    with suppress(StopIteration, expat.ExpatError):  # openpyxl says of the latter where it matters
        parser.Parse(content, True)


def _slim_sheet(source: IO[bytes], file: str) -> tuple[bytes, tuple[str, ...]]:
    """Return a sheet's XML without what is empty, and its merged ranges."""
    kept, size = [], 0
    for piece in xml_row_chunks(source):
        slim = EMPTY_ROW.sub(b"", EMPTY_CELL.sub(b"", LONG_FORMULA.sub(SHORT_FORMULA, piece)))
        kept.append(slim)
        size += len(slim)
        if size > LARGEST_KEPT:
            raise _too_much(file)
    return _rows_only(b"".join(kept))


def _rows_only(sheet: bytes) -> tuple[bytes, tuple[str, ...]]:
    """Return a sheet with nothing but its rows, which is all that is read, and its merged ranges."""
    root, rows, end = ROOT.search(sheet), sheet.find(b"<sheetData"), sheet.rfind(b"</sheetData>")
    if root is None or not root.end() <= rows < end:
        return sheet, ()
    end += len(b"</sheetData>")
    merged = tuple(found.decode() for found in MERGED.findall(sheet, end))
    return sheet[: root.end()] + ANY_SIZE + sheet[rows:end] + b"</worksheet>", merged
