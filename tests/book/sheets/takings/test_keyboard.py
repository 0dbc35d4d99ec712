"""Ten sales typed on a real keyboard, as a helper at a table types them."""

from collections.abc import Iterator
from decimal import Decimal
from io import BytesIO
from pathlib import Path

import pytest
from openpyxl import load_workbook

from salebook.book.read import BookRead, read_book
from salebook.book.write import book_bytes
from salebook.event.entries import Entries, Line
from salebook.event.event import reckon_event
from tests.support.cells import values_of
from tests.support.keyboard import Keyboard, typing_into
from tests.support.programs import needs_keyboard
from tests.support.small_event import line, numbered_anew, sale

WANTED = 20
SCANNER_MS = 2
"""A scanner types hundreds of letters a second."""

TYPED = numbered_anew(
    (
        *(line(0, piece=f"MAY-00{n}") for n in (1, 2, 3)),
        line(0, piece="MAY-004", amount="20"),
        line(0, piece="MAY-005", way="card"),
        line(0, piece="MAY-006", way="card"),
        *(line(0, piece=f"MAY-00{n}") for n in (7, 8)),
        line(0, piece="MAY-009", way="card"),
        line(0, piece="MAY-010", way="card"),
    )
)


def type_ten_sales(keyboard: Keyboard) -> None:
    for piece in ("MAY-001", "may 2", "May003"):
        keyboard.type(piece)
        keyboard.press("Tab")
        keyboard.type("cash")
        keyboard.press("Return")
    _another_price(keyboard)
    _way_from_the_list(keyboard, "MAY-005")
    _way_from_the_list(keyboard, "MAY-006")
    _scanner_that_ends_with_tab(keyboard, "MAY-007", "MAY-008")
    _scanner_that_ends_with_enter(keyboard, "MAY-009", "MAY-010")


def _another_price(keyboard: Keyboard) -> None:
    keyboard.type("MAY-004")
    keyboard.press("Tab")
    keyboard.type("cash")
    keyboard.press("Tab")
    keyboard.type("20")
    keyboard.press("Return")


def _way_from_the_list(keyboard: Keyboard, piece: str) -> None:
    """Choose the second way to pay."""
    keyboard.type(piece)
    keyboard.press("Tab", "alt+Down", "Down", "Return", "Return")


def _scanner_that_ends_with_tab(keyboard: Keyboard, *pieces: str) -> None:
    for piece in pieces:
        keyboard.type(piece, key_ms=SCANNER_MS)
        keyboard.press("Tab")
        keyboard.type("cash")
        keyboard.press("Return")


def _scanner_that_ends_with_enter(keyboard: Keyboard, *pieces: str) -> None:
    """Scan one after the other, then go up and type how each was paid."""
    for piece in pieces:
        keyboard.type(piece, key_ms=SCANNER_MS)
        keyboard.press("Return")
    keyboard.press(*["Up"] * len(pieces), "Right")
    for _piece in pieces:
        keyboard.type("card")
        keyboard.press("Return")


@pytest.fixture(scope="module")
def typed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    book = book_bytes(sale(WANTED), reckon_event(sale(WANTED), Entries()))
    sheets = load_workbook(BytesIO(book)).sheetnames
    folder = tmp_path_factory.mktemp("keyboard")
    with typing_into(book, folder) as keyboard:
        keyboard.press(*["ctrl+Next"] * sheets.index("Takings"))
        type_ten_sales(keyboard)
        keyboard.save()
        yield keyboard.book


@pytest.fixture(scope="module")
def read(typed: Path) -> BookRead:
    return read_book(typed)


@needs_keyboard
def test_each_sale_stands_in_a_line_of_its_own(read: BookRead) -> None:
    def said(line: Line) -> tuple[object, ...]:
        return line.number, line.piece, line.way, line.amount, line.kind

    def as_typed(line: Line) -> tuple[object, ...]:
        return line.number, {"MAY 2": "MAY-002", "MAY003": "MAY-003"}.get(line.piece.upper(), line.piece)

    assert [said(line)[2:] for line in TYPED] == [said(line)[2:] for line in read.entries.lines]
    assert [said(line)[:2] for line in TYPED] == [as_typed(line) for line in read.entries.lines]


@needs_keyboard
def test_the_sheet_counts_them_and_none_needs_a_look(typed: Path, read: BookRead) -> None:
    shown = values_of(typed.read_bytes())
    state = reckon_event(sale(WANTED), Entries(lines=TYPED)).state
    raised = sum((line.arrived for line in state.lines), Decimal(0))
    assert read.questions == ()
    assert float(raised) in {value for (sheet, _cell), value in shown.items() if sheet == "Share-out"}
