"""Pieces and Hand over: what is typed there, and on Takings, is followed everywhere in the book."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache
from typing import Any

import pytest

from salebook.book.figure import serial
from salebook.book.write import book_bytes
from salebook.event.entries import Claim, Entries, Line, PieceEntry
from salebook.event.event import reckon_event
from salebook.making.studio_tally import StudioCount
from tests.support.cells import Place, Value, changed, formula_cells, values_of
from tests.support.inputs import input_place
from tests.support.programs import needs_libreoffice
from tests.support.proof import recalculated_by_libreoffice, same
from tests.support.small_event import DONATED, FIRST, SECOND, SECOND_DAY, UNNUMBERED, line, sale

LINES = (
    line(1, piece=FIRST, way="card"),
    line(2, "deposit", SECOND, "8", claim="7"),
    line(3, piece=DONATED, gift="2", group="Tide ~ mill"),
    line(4, piece=UNNUMBERED, count=4, way="group's own tin"),
    line(5, "order", "MAY", claim="9", way=""),
)


def book(**entries: Any) -> bytes:
    return book_bytes(sale(), reckon_event(sale(), Entries(**entries)))


@cache
def empty() -> bytes:
    return book()


@cache
def with_lines() -> bytes:
    return book(lines=LINES)


def place(section: str, key: str, where: Mapping[str, Value], sheet: str = "Pieces") -> Place:
    return input_place(with_lines(), sheet, section, key, where)


@dataclass(frozen=True, kw_only=True)
class Case:
    """What is typed into a book, and the book that has it from the beginning."""

    typed: Mapping[Place, Value]
    before: bytes
    after: bytes


def _about_a_piece(
    key: str, value: Value, entry: PieceEntry, number: str, before: PieceEntry | None = None
) -> Case:
    typed: dict[Place, Value] = {place("pieces", key, {"number": number}): value}
    book_before = book(lines=LINES, pieces={number: before}) if before else with_lines()
    return Case(typed=typed, before=book_before, after=book(lines=LINES, pieces={number: entry}))


def _out_of_the_kiln() -> Case:
    typed: dict[Place, Value] = {
        place("tally", "out_of_the_kiln", {"code": "MAY"}): 1,
        place("tally", "out_of_the_kiln", {"code": "DOT"}): 3,
    }
    return Case(typed=typed, before=with_lines(), after=book(lines=LINES, made={"MAY": 1, "DOT": 3}))


def _lines() -> Case:
    typed = {at: value for one in LINES for at, value in _typed(one).items()}
    return Case(typed=typed, before=empty(), after=with_lines())


def _typed(one: Line) -> dict[Place, Value]:
    texts = {"piece": one.piece, "way": one.way, "group": one.group, "claim": one.claim}
    numbers = {"amount": one.amount, "gift": one.gift, "count": one.count}
    cells: dict[str, Value] = {key: text for key, text in texts.items() if text}
    cells |= {key: float(value) for key, value in numbers.items() if value is not None}
    cells |= {"kind": one.kind} if one.kind != "sale" else {}
    return {_takings_cell(one.number, key): value for key, value in cells.items()}


@cache
def _takings_cell(number: int, key: str) -> Place:
    return input_place(empty(), "Takings", "takings", key, {"line": number})


def _a_claim() -> Case:
    claim = Claim(claim="7", name="A. Person", how="collecting")
    first_row = min(
        (int(cell[1:]), cell)
        for (sheet, cell), value in values_of(with_lines()).items()
        if sheet == "Hand over" and value == "claims"
    )[0]
    typed: dict[Place, Value] = {("Hand over", f"B{first_row}"): "7"}
    return Case(typed=typed, before=with_lines(), after=book(lines=LINES, claims=(claim,)))


def _counted(graded: Mapping[str, PieceEntry], made: Mapping[str, int]) -> Case:
    counts = {"MAY": StudioCount(good=3, seconds=2), "DOT": StudioCount(good=20)}
    typed: dict[Place, Value] = {
        place("studio", "good", {"code": "MAY"}, "Making"): 3,
        place("studio", "seconds", {"code": "MAY"}, "Making"): 2,
        place("studio", "good", {"code": "DOT"}, "Making"): 20,
    }
    typed |= {place("tally", "out_of_the_kiln", {"code": code}): count for code, count in made.items()}
    typed |= {
        place("pieces", "grade", {"number": number}): str(entry.grade) for number, entry in graded.items()
    }
    after = book(lines=LINES, studio=counts, pieces=dict(graded), made=dict(made))
    return Case(typed=typed, before=with_lines(), after=after)


CASES: Mapping[str, Callable[[], Case]] = {
    "counted out of the kiln": lambda: _counted({}, {}),
    "counted, and one graded": lambda: _counted({"MAY-002": PieceEntry(grade="second")}, {}),
    "counted, and overruled": lambda: _counted({"MAY-002": PieceEntry(grade="first")}, {"MAY": 4}),
    "grade of a sold piece": lambda: _about_a_piece("grade", "second", PieceEntry(grade="second"), FIRST),
    "grade": lambda: _about_a_piece("grade", "second", PieceEntry(grade="second"), "MAY-002"),
    "a first that was to be a second": lambda: _about_a_piece(
        "grade", "first", PieceEntry(grade="first"), SECOND
    ),
    "broken though sold": lambda: _about_a_piece("mishap", "broken", PieceEntry(mishap="broken"), FIRST),
    "broken": lambda: _about_a_piece("mishap", "broken", PieceEntry(mishap="broken"), "MAY-002"),
    "reserved though sold": lambda: _about_a_piece("reserved_for", "9", PieceEntry(reserved_for="9"), FIRST),
    "reserved": lambda: _about_a_piece("reserved_for", "9", PieceEntry(reserved_for="9"), "MAY-002"),
    "broken since a day": lambda: _about_a_piece(
        "marked_on",
        serial(SECOND_DAY),
        PieceEntry(reserved_for="4", marked_on=SECOND_DAY),
        "MAY-003",
        PieceEntry(reserved_for="4"),
    ),
    "an agreed price": lambda: _about_a_piece(
        "agreed_price", 17.5, PieceEntry(agreed_price=Decimal("17.5")), SECOND
    ),
    "out of the kiln": _out_of_the_kiln,
    "lines": _lines,
    "a claim on Hand over": _a_claim,
}


@cache
def cases() -> Mapping[str, Case]:
    return {name: case() for name, case in CASES.items()}


@cache
def recalculated() -> Mapping[str, bytes]:
    """Recalculate all cases at once: starting the program takes longer than a book."""
    typed = {str(at): changed(case.before, case.typed) for at, case in enumerate(cases().values())}
    return dict(zip(cases(), recalculated_by_libreoffice(typed).values(), strict=True))


@needs_libreoffice
@pytest.mark.parametrize("name", CASES)
def test_what_is_typed_is_followed(name: str) -> None:
    """Typing into one book gives what a book that has it from the beginning shows, in every formula cell."""
    shown = values_of(recalculated()[name])
    expected = {(cell.sheet, cell.cell): cell.stored for cell in formula_cells(cases()[name].after)}
    wrong = {at: (value, shown.get(at)) for at, value in expected.items() if not _same(value, shown.get(at))}
    assert {at: values for at, values in wrong.items() if at not in _about_staleness(shown)} == {}


def _about_staleness(shown: Mapping[Place, Value]) -> set[Place]:
    """Return the cells that say that the chance is stale: a book made with the counts has it anew."""
    stamp = min(
        _row(at) for at, value in shown.items() if at[0] == "Price" and value == "[stamp.stale_chance]"
    )
    return {at for at in shown if at[0] == "Start here" or (at[0] == "Price" and _row(at) > stamp)}


def _row(at: Place) -> int:
    return int(at[1].lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ"))


def _same(expected: Value | None, shown: Value | None) -> bool:
    return expected is not None and same(expected, "" if shown is None else shown)
