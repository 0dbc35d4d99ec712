"""Pieces and Hand over: what is typed there, and on Takings, is followed everywhere in the book."""

from collections.abc import Mapping
from functools import cache
from typing import Any

import pytest

from salebook.book.write import book_bytes
from salebook.event.entries import Claim, Entries, Line, PieceEntry
from salebook.event.event import reckon_event
from tests.cells import Place, Value, changed, formula_cells, values_of
from tests.event.table import DONATED, FIRST, SECOND, UNNUMBERED, line, sale
from tests.inputs import input_place
from tests.programs import needs_libreoffice
from tests.proof import recalculated_by_libreoffice, same

LINES = (
    line(1, piece=FIRST, way="card"),
    line(2, "deposit", SECOND, "8", claim="7"),
    line(3, piece=DONATED, gift="2", group="Tide ~ mill"),
    line(4, piece=UNNUMBERED, count=4, way="group's own tin"),
    line(5, "order", "MAY", claim="9", way=""),
)


def book(**entries: Any) -> bytes:
    return book_bytes(sale(), reckon_event(sale(), Entries(**entries)))


def place(section: str, key: str, where: Mapping[str, Value], sheet: str = "Pieces") -> Place:
    return input_place(book(lines=LINES), sheet, section, key, where)


def assert_typed_is_as_written(typed: Mapping[Place, Value], before: bytes, after: bytes) -> None:
    """Assert that typing into one book gives what the other book shows, in every formula cell."""
    shown = values_of(recalculated_by_libreoffice({"book": changed(before, typed)})["book"])
    expected = {(cell.sheet, cell.cell): cell.stored for cell in formula_cells(after)}
    wrong = {at: (value, shown.get(at)) for at, value in expected.items() if not _same(value, shown.get(at))}
    assert wrong == {}


def _same(expected: Value | None, shown: Value | None) -> bool:
    return expected is not None and same(expected, "" if shown is None else shown)


@needs_libreoffice
@pytest.mark.parametrize(
    ("key", "value", "entry"),
    [
        ("grade", "second", PieceEntry(grade="second")),
        ("mishap", "broken", PieceEntry(mishap="broken")),
        ("reserved_for", "9", PieceEntry(reserved_for="9")),
    ],
)
def test_what_is_typed_about_a_piece_is_followed(key: str, value: str, entry: PieceEntry) -> None:
    for number in (FIRST, "MAY-002"):
        typed = {place("pieces", key, {"number": number}): value}
        after = book(lines=LINES, pieces={number: entry})
        assert_typed_is_as_written(typed, book(lines=LINES), after)


@needs_libreoffice
def test_a_count_of_what_came_out_of_the_kiln_is_followed() -> None:
    typed: dict[Place, Value] = {
        place("tally", "out_of_the_kiln", {"code": "MAY"}): 1,
        place("tally", "out_of_the_kiln", {"code": "DOT"}): 3,
    }
    assert_typed_is_as_written(typed, book(lines=LINES), book(lines=LINES, made={"MAY": 1, "DOT": 3}))


@needs_libreoffice
def test_lines_typed_into_an_empty_book_are_followed() -> None:
    typed = {at: value for one in LINES for at, value in _typed(one).items()}
    assert_typed_is_as_written(typed, book(), book(lines=LINES))


def _typed(one: Line) -> dict[Place, Value]:
    texts = {"piece": one.piece, "way": one.way, "group": one.group, "claim": one.claim}
    numbers = {"amount": one.amount, "gift": one.gift, "count": one.count}
    cells: dict[str, Value] = {key: text for key, text in texts.items() if text}
    cells |= {key: float(value) for key, value in numbers.items() if value is not None}
    cells |= {"kind": one.kind} if one.kind != "sale" else {}
    return {_takings_cell(one.number, key): value for key, value in cells.items()}


@cache
def _takings_cell(number: int, key: str) -> Place:
    return input_place(book(), "Takings", "takings", key, {"line": number})


@needs_libreoffice
def test_a_claim_typed_on_hand_over_shows_what_is_to_pay() -> None:
    claim = Claim(claim="7", name="A. Person", how="fetched")
    empty = book(lines=LINES)
    first_row = min(
        (int(cell[1:]), cell)
        for (sheet, cell), value in values_of(empty).items()
        if sheet == "Hand over" and value == "claims"
    )[0]
    typed: dict[Place, Value] = {("Hand over", f"B{first_row}"): "7"}
    assert_typed_is_as_written(typed, empty, book(lines=LINES, claims=(claim,)))
