"""Books spoilt at random, in their cells and their XML: never a traceback, never a line lost in silence."""

import io
import random
import re
import zipfile
from collections.abc import Callable, Sequence
from contextlib import suppress
from functools import cache
from pathlib import Path

import pytest
from openpyxl import load_workbook

from salebook.book.read import BookRead
from salebook.errors import SalebookError
from salebook.event.entries import Line
from tests.book.reading.sheets import LINES, light_book, read, with_parts

USUAL, MANY = 300, 2_000
CELL = re.compile(rb'<c r="[A-Z]+[0-9]+"[^>]*?(?:/>|>.*?</c>)')
ROW = re.compile(rb"<row .*?</row>", re.DOTALL)
JUNK = (
    *(b"#REF!", b"\xc2\xa338", b"38,00", b"1.234,50", b"lan-3", b"=1+1", b"TRUE", b"[takings]", b"takings"),
    *(b"yes", b"?", b"-7", b"1e400", b"NaN", b"31/02/2027", b"24:61", b" ", b"\xe2\x80\xaf", b"a" * 4000),
)
"""What a person or a program may leave in a cell."""

Spoil = Callable[[bytes, random.Random], bytes]


@cache
def part_of(sheet: str) -> str:
    return f"xl/worksheets/sheet{load_workbook(io.BytesIO(light_book())).sheetnames.index(sheet) + 1}.xml"


@cache
def part(name: str) -> bytes:
    with zipfile.ZipFile(io.BytesIO(light_book())) as archive:
        return archive.read(name)


def _one(found: Sequence[re.Match[bytes]], chance: random.Random) -> re.Match[bytes]:
    return chance.choice(found)


def fill_a_cell(xml: bytes, chance: random.Random) -> bytes:
    cell = _one(list(CELL.finditer(xml)), chance)
    place = re.match(rb'<c r="([A-Z]+[0-9]+)"', cell[0])
    assert place
    text = chance.choice(JUNK).replace(b"&", b"&amp;").replace(b"<", b"&lt;")
    kind = chance.choice((b"inlineStr", b"n", b"b", b"e", b"d"))
    inner = b"<is><t>%s</t></is>" % text if kind == b"inlineStr" else b"<v>%s</v>" % text
    new = b'<c r="%s" t="%s">%s</c>' % (place[1], kind, inner)
    return xml[: cell.start()] + new + xml[cell.end() :]


def fill_a_cell_with_text(xml: bytes, chance: random.Random) -> bytes:
    cell = _one(list(CELL.finditer(xml)), chance)
    place = re.match(rb'<c r="([A-Z]+[0-9]+)"', cell[0])
    assert place
    new = b'<c r="%s" t="inlineStr"><is><t>%s</t></is></c>' % (place[1], chance.choice(JUNK))
    return xml[: cell.start()] + new + xml[cell.end() :]


def move_a_cell(xml: bytes, chance: random.Random) -> bytes:
    cell = _one(list(CELL.finditer(xml)), chance)
    column = bytes([chance.randrange(ord("A"), ord("Z") + 1)])
    new = re.sub(rb'r="[A-Z]+', b'r="' + column, cell[0], count=1)
    return xml[: cell.start()] + new + xml[cell.end() :]


def double_a_row(xml: bytes, chance: random.Random) -> bytes:
    row = _one(list(ROW.finditer(xml)), chance)
    return xml[: row.end()] + row[0] + xml[row.end() :]


def put_a_row_elsewhere(xml: bytes, chance: random.Random) -> bytes:
    rows = list(ROW.finditer(xml))
    row, after = chance.choice(rows), chance.choice(rows)
    rest = xml[: row.start()] + xml[row.end() :]
    at = after.start() if after.start() <= row.start() else after.start() - len(row[0])
    return rest[:at] + row[0] + rest[at:]


def renumber_a_row(xml: bytes, chance: random.Random) -> bytes:
    row = _one(list(ROW.finditer(xml)), chance)
    new = re.sub(rb'<row r="[0-9]+"', b'<row r="%d"' % chance.randrange(1, 60), row[0], count=1)
    return xml[: row.start()] + new + xml[row.end() :]


def turn_bytes(xml: bytes, chance: random.Random) -> bytes:
    spoilt = bytearray(xml)
    for _ in range(chance.randrange(1, 4)):
        spoilt[chance.randrange(len(spoilt))] = chance.randrange(32, 127)
    return bytes(spoilt)


def cut_something_out(xml: bytes, chance: random.Random) -> bytes:
    start = chance.randrange(len(xml))
    return xml[:start] + xml[start + chance.randrange(1, 40) :]


CELLS: tuple[Spoil, ...] = (
    *(fill_a_cell, fill_a_cell_with_text, move_a_cell),
    *(double_a_row, put_a_row_elsewhere, renumber_a_row),
)
XML: tuple[Spoil, ...] = (turn_bytes, cut_something_out)
SHEETS = ("Takings",) * 4 + ("Plan", "Pieces", "Cash-up", "Share-out", "Hand over", "Start here", "Costs")
OTHER_PARTS = ("xl/workbook.xml", "xl/styles.xml", "docProps/custom.xml", "xl/_rels/workbook.xml.rels")


def spoilt(seed: int) -> bytes:
    """Return a spoilt book."""
    chance = random.Random(seed)  # noqa: S311  (nothing secret)
    in_cells = chance.random() < 0.6
    if not in_cells and chance.random() < 0.25:
        name = chance.choice(OTHER_PARTS)
    else:
        name = part_of(chance.choice(SHEETS))
    spoil = chance.choice(CELLS if in_cells else XML)
    return with_parts(light_book(), {name: spoil(part(name), chance)})


def lost(book: BookRead) -> list[int]:
    """Return the numbers of the lines that are neither there, in part at least, nor asked about."""
    asked = sum(question.sheet == "Takings" for question in book.questions)
    missing = [line.number for line in LINES if not any(_alike(line, one) for one in book.entries.lines)]
    return missing[asked:]


def _alike(line: Line, other: Line) -> bool:
    """Whether at most one thing was changed on a line, or it was given another number."""
    keys = ("number", "day", "kind", "piece", "count", "amount", "gift", "way", "group", "claim", "note")
    changed = [key for key in keys if getattr(line, key) != getattr(other, key)]
    return len(changed) <= 2


def stand(seeds: range, folder: Path) -> None:
    for seed in seeds:
        book = spoilt(seed)
        with suppress(SalebookError):
            assert (seed, []) == (seed, lost(read(book, folder)))


def test_spoilt_books_lose_no_line_in_silence(tmp_path: Path) -> None:
    stand(range(USUAL), tmp_path)


@pytest.mark.long
def test_many_spoilt_books_lose_no_line_in_silence(tmp_path: Path) -> None:
    stand(range(USUAL, USUAL + MANY), tmp_path)
