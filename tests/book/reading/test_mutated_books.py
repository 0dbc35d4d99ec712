"""Books spoilt at random, in their cells and their XML: never a traceback, nothing lost in silence."""

import io
import random
import re
import zipfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from pathlib import Path

import pytest
from openpyxl import load_workbook

from salebook.base.errors import SalebookError
from salebook.book.read import BookRead
from tests.support.bent_book import EVERYTHING, LINES, full_book, read, with_parts
from tests.support.facts import changed, facts, lost

pytestmark = pytest.mark.slow

USUAL, MANY = 300, 2_000
LEAST_READ, LEAST_TOUCHED = 0.6, 0.12
"""Shares of the books: those that are read, and those of them where a fact or a question tells of it."""
MOST_CHANGED = 2
"""Facts that a change in one cell or row may change without a question."""
CELL = re.compile(rb'<c r="[A-Z]+[0-9]+"[^>]*?(?:/>|>.*?</c>)')
PLACE = re.compile(rb'<c r="([A-Z]+([0-9]+))"')
MARK = re.compile(rb'<c r="A([0-9]+)"[^>]*><is>')
WRITTEN = re.compile(rb"<c [^>]*>(?:<v>[^<]+</v>|<is>.*</is>)</c>")
ROW = re.compile(rb"<row .*?</row>", re.DOTALL)
JUNK = (
    *(b"#REF!", b"\xc2\xa338", b"38,00", b"1.234,50", b"lan-3", b"=1+1", b"TRUE", b"[takings]", b"takings"),
    *(b"yes", b"?", b"-7", b"1e400", b"NaN", b"31/02/2027", b"24:61", b"a" * 4000),
)
"""What a person or a program may leave in a cell."""

Spoil = Callable[[bytes, random.Random], bytes]


@cache
def part_of(sheet: str) -> str:
    return f"xl/worksheets/sheet{load_workbook(io.BytesIO(full_book())).sheetnames.index(sheet) + 1}.xml"


@cache
def part(name: str) -> bytes:
    with zipfile.ZipFile(io.BytesIO(full_book())) as archive:
        return archive.read(name)


@cache
def cells_of(xml: bytes) -> tuple[Sequence[re.Match[bytes]], Sequence[re.Match[bytes]]]:
    """Return all cells of a sheet, and those that are read: what is written in the rows of tables."""
    cells = list(CELL.finditer(xml))
    marked = {int(mark[1]) for mark in MARK.finditer(xml)}
    return cells, [c for c in cells if WRITTEN.fullmatch(c[0]) and int(place_of(c)[2]) in marked]


def place_of(cell: re.Match[bytes]) -> re.Match[bytes]:
    found = PLACE.match(cell[0])
    assert found
    return found


@cache
def filled_in(xml: bytes) -> Sequence[re.Match[bytes]]:
    """Return the cells in which people typed something."""
    sheet = next(sheet for sheet in SHEETS if part(part_of(sheet)) == xml)
    rows = load_workbook(io.BytesIO(full_book()))[sheet].iter_rows()
    typed = {cell.coordinate for row in rows for cell in row if not cell.protection.locked}
    return [cell for cell in cells_of(xml)[1] if place_of(cell)[1].decode() in typed]


def a_cell(xml: bytes, chance: random.Random) -> re.Match[bytes]:
    """Return one of a sheet's cells: half of them were typed by people, and few are not read at all."""
    every, written = cells_of(xml)
    return chance.choice(
        chance.choice((filled_in(xml) or written, filled_in(xml) or written, written, every))
    )


def with_content(cell: re.Match[bytes], kind: bytes, text: bytes) -> bytes:
    place = place_of(cell)
    inner = b"<is><t>%s</t></is>" % text if kind == b"inlineStr" else b"<v>%s</v>" % text
    return b'<c r="%s" t="%s">%s</c>' % (place[1], kind, inner)


def fill_a_cell(xml: bytes, chance: random.Random) -> bytes:
    cell, kind = a_cell(xml, chance), chance.choice((b"inlineStr", b"n", b"b", b"e", b"d"))
    return xml[: cell.start()] + with_content(cell, kind, chance.choice(JUNK)) + xml[cell.end() :]


def fill_a_cell_with_text(xml: bytes, chance: random.Random) -> bytes:
    cell = a_cell(xml, chance)
    return xml[: cell.start()] + with_content(cell, b"inlineStr", chance.choice(JUNK)) + xml[cell.end() :]


def move_a_cell(xml: bytes, chance: random.Random) -> bytes:
    cell = a_cell(xml, chance)
    column = bytes([chance.randrange(ord("A"), ord("Z") + 1)])
    new = re.sub(rb'r="[A-Z]+', b'r="' + column, cell[0], count=1)
    return xml[: cell.start()] + new + xml[cell.end() :]


def a_row(xml: bytes, chance: random.Random) -> re.Match[bytes]:
    return chance.choice(list(ROW.finditer(xml)))


def double_a_row(xml: bytes, chance: random.Random) -> bytes:
    row = a_row(xml, chance)
    return xml[: row.end()] + row[0] + xml[row.end() :]


def put_a_row_elsewhere(xml: bytes, chance: random.Random) -> bytes:
    rows = list(ROW.finditer(xml))
    row, after = chance.choice(rows), chance.choice(rows)
    rest = xml[: row.start()] + xml[row.end() :]
    at = after.start() if after.start() <= row.start() else after.start() - len(row[0])
    return rest[:at] + row[0] + rest[at:]


def renumber_a_row(xml: bytes, chance: random.Random) -> bytes:
    row = a_row(xml, chance)
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


FILLED_IN: tuple[Spoil, ...] = (fill_a_cell, fill_a_cell_with_text)
CELLS: tuple[Spoil, ...] = (*FILLED_IN, move_a_cell, double_a_row, put_a_row_elsewhere, renumber_a_row)
XML: tuple[Spoil, ...] = (turn_bytes, cut_something_out)
SHEETS = ("Takings",) * 4 + ("Pieces", "Cash-up", "Share-out", "Hand over", "Start here", "Costs", "Plan")
OTHER_PARTS = ("xl/workbook.xml", "xl/styles.xml", "docProps/custom.xml", "xl/_rels/workbook.xml.rels")


@dataclass(frozen=True)
class Spoilt:
    """A spoilt book, and how it was spoilt; `sheet` is "" where it is none of the sheets."""

    book: bytes
    sheet: str
    spoil: Spoil


def spoilt(seed: int) -> Spoilt:
    chance = random.Random(seed)  # noqa: S311  (nothing secret)
    in_cells = chance.random() < 0.7
    elsewhere = not in_cells and chance.random() < 0.25
    sheet = "" if elsewhere else chance.choice(SHEETS)
    name = part_of(sheet) if sheet else chance.choice(OTHER_PARTS)
    spoil = chance.choice(CELLS if in_cells else XML)
    return Spoilt(with_parts(full_book(), {name: spoil(part(name), chance)}), sheet, spoil)


SURE_AMOUNTS = {None, Decimal(0), Decimal(38), Decimal(-7), *(line.amount for line in LINES)}
"""What junk may be read as where an amount is expected; all else is asked about and counts as nothing."""


def look_at(seed: int, before: Spoilt, book: BookRead) -> None:
    """See that a book that was read has lost nothing in silence, and that nothing was guessed."""
    gone = lost(EVERYTHING, book)
    to_the_margin = before.spoil is move_a_cell and sum(map(len, gone.values())) <= 1
    assert (seed, {}) == (seed, {} if to_the_margin else gone)
    touched = {before.sheet, "Plan"} if before.sheet else set(facts(EVERYTHING))
    if before.sheet not in {"", "Plan"}:
        assert changed(EVERYTHING, book.entries).keys() <= touched
    if before.spoil in CELLS and not book.questions:
        assert sum(changed(EVERYTHING, book.entries).values()) <= MOST_CHANGED
    if before.spoil in FILLED_IN:
        assert {line.amount for line in book.entries.lines} <= SURE_AMOUNTS


def stand(seeds: range, folder: Path) -> None:
    """See what becomes of spoilt books: most are read, some of them with questions, the others refused."""
    read_, touched = 0, 0
    for seed in seeds:
        before = spoilt(seed)
        try:
            book = read(before.book, folder)
        except SalebookError:
            continue
        look_at(seed, before, book)
        read_ += 1
        touched += bool(book.questions or changed(EVERYTHING, book.entries))
    assert read_ > len(seeds) * LEAST_READ
    assert touched > len(seeds) * LEAST_TOUCHED


def test_spoilt_books_lose_nothing_in_silence(tmp_path: Path) -> None:
    stand(range(USUAL), tmp_path)


@pytest.mark.long
def test_many_spoilt_books_lose_nothing_in_silence(tmp_path: Path) -> None:
    stand(range(USUAL, USUAL + MANY), tmp_path)
