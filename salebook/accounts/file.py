"""lines.csv: written by RFC 4180, read also as a spreadsheet program has saved it."""

import csv
import io
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from salebook.accounts.row import HEADING, KEYS, MONEY, WHOLE, Row, said
from salebook.accounts.values import amount_text, day_text, is_day_first, tidy, whole_text
from salebook.base.csv_text import BYTE_ORDER_MARK, guarded
from salebook.base.errors import FileError
from salebook.base.words import _

LINES: Final = "lines.csv"
SEPARATORS: Final = ",;\t"
DIGITS: Final[Mapping[str, int]] = {str(10**digits): digits for digits in range(5)}
"""Digits of a currency by how many of the smallest make one unit."""
USUAL_DIGITS: Final = 2
NO_TEXT: Final = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x80-\x9f]")
"""Signs that only stand in files that are no text."""
MOST_BYTES: Final = 20_000_000


@dataclass(frozen=True, kw_only=True)
class RowFault:
    """A value in the file that cannot be read: its row, its key, and which kind of value was expected."""

    row: int
    """In the file, the heading is 1; 0: of the file as a whole."""
    key: str
    found: str
    expected: str


@dataclass(frozen=True, kw_only=True)
class ListFile:
    """The rows of a file, what could not be read in it, and how its days were read."""

    rows: Mapping[int, Row]
    """By their row in the file."""
    faults: tuple[RowFault, ...]
    digits: int
    day_first: bool | None
    """Whether days stand before months, where the year stands last; None: nothing in the file tells."""


def list_bytes(rows: Iterable[Row]) -> bytes:
    """Return the file of a list."""
    table = io.StringIO()
    writer = csv.writer(table, lineterminator="\r\n")
    writer.writerow(HEADING)
    writer.writerows(
        [text if key in MONEY else guarded(text) for key, text in zip(KEYS, row.texts, strict=True)]
        for row in rows
    )
    return (BYTE_ORDER_MARK + table.getvalue()).encode()


def read_list(content: bytes, *, file: str, day_first: bool = True) -> ListFile:
    """Read a list; `day_first` says how days are read where nothing in the file tells.

    Raises FileError where it is no list of lines.
    """
    heading, *found = _cells(content, file)
    if tuple(tidy(cell) for cell in heading) != HEADING:
        says = _("{file}: row 1: found {found}, expected {expected}: is this the file lines.csv of a report?")
        shown = ", ".join(map(tidy, heading))[:200]
        raise FileError(says.format(file=file, found=shown or "–", expected=", ".join(HEADING)))
    rows = {number: cells for number, cells in enumerate(found, start=2) if any(tidy(cell) for cell in cells)}
    left_over = [fault for number, cells in rows.items() for fault in _left_over(number, cells)]
    typed = {number: _row(cells) for number, cells in rows.items()}
    units = [whole_text(row.parts) or "" for row in typed.values() if row.part == "currency"]
    digits = DIGITS.get(units[0], USUAL_DIGITS) if len(units) == 1 else USUAL_DIGITS
    told = is_day_first(row.day for row in typed.values())
    reader = _Reader(digits, day_first=day_first if told is None else told)
    read = {number: reader.read(number, row) for number, row in typed.items()}
    return ListFile(rows=read, faults=(*left_over, *reader.faults), digits=digits, day_first=told)


def _cells(content: bytes, file: str) -> list[list[str]]:
    """Return the cells of a file, row by row; at least one row."""
    try:
        if len(content) > MOST_BYTES:
            raise ValueError
        text = _decoded(content)
        first = re.split("[\r\n]", text, maxsplit=1)[0]
        separator = max(SEPARATORS, key=first.count)
        csv.field_size_limit(MOST_BYTES)
        return list(csv.reader(io.StringIO(text, newline=""), delimiter=separator)) or [[]]
    except (ValueError, csv.Error) as trouble:
        says = _("{file}: is no table of text: expected the file lines.csv of a report")
        raise FileError(says.format(file=file)) from trouble


def _decoded(content: bytes) -> str:
    """Return a file's text; of one that is no Unicode, as older programs save it, in the usual code page."""
    if content[:2] in {b"\xff\xfe", b"\xfe\xff"}:
        return content.decode("utf-16")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252")
    if NO_TEXT.search(text):
        raise ValueError
    return text


def _left_over(number: int, cells: Sequence[str]) -> Iterator[RowFault]:
    more = " ".join(filter(None, map(tidy, cells[len(KEYS) :])))
    if more:
        yield RowFault(row=number, key="", found=more, expected="nothing")


def _row(cells: Sequence[str]) -> Row:
    return Row(**{"part": ""} | dict(zip(KEYS, map(tidy, cells), strict=False)))


class _Reader:
    """Brings values back into the form in which they were written; what cannot be read stays."""

    def __init__(self, digits: int, *, day_first: bool) -> None:
        self._digits, self._day_first = digits, day_first
        self.faults: list[RowFault] = []

    def read(self, number: int, row: Row) -> Row:
        """Return a row as it was written."""
        changed = {key: self._read(number, key, text) for key, text in vars(row).items() if text}
        return replace(row, **changed)

    def _read(self, number: int, key: str, text: str) -> str:
        if key in MONEY:
            read, expected = amount_text(text, self._digits), "amount"
        elif key in WHOLE:
            read, expected = whole_text(text), "whole number"
        elif key == "day":
            read, expected = day_text(text, day_first=self._day_first), "day"
        else:
            return text
        if read is None:
            self.faults.append(RowFault(row=number, key=said(key), found=text, expected=expected))
        return text if read is None else read
