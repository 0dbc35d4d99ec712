"""Takings in a spreadsheet program: the same sums and remarks as in Python, whatever is typed."""

from collections.abc import Iterator, Mapping
from functools import cache
from io import BytesIO
from itertools import product
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.utils import column_index_from_string, get_column_letter

from salebook.book.style import broken_into_lines
from salebook.book.write import book_bytes
from salebook.event.entries import Claim, Entries, Line, LineKind, PieceEntry
from salebook.event.event import reckon_event
from salebook.event.pieces import GONE
from salebook.event.remarks import Remark, in_words, say
from tests.support.cells import Place, Value, changed, values_of
from tests.support.inputs import KEPT_BESIDE_LINES
from tests.support.programs import needs_libreoffice
from tests.support.proof import differences, recalculated_by_libreoffice
from tests.support.rules import broken_rules
from tests.support.schema import violations
from tests.support.small_event import (
    DONATED,
    FIRST,
    FIRST_DAY,
    SECOND,
    SECOND_DAY,
    UNNUMBERED,
    after,
    line,
    numbered_anew,
    sale,
)

TYPED: tuple[tuple[LineKind, str], ...] = (
    ("sale", ""),
    ("sale", "20"),
    ("sale", "0"),
    ("deposit", "10"),
    ("balance", ""),
    ("balance", "5"),
    ("refund", ""),
    ("refund", "28"),
    ("order", ""),
)
"""What may be typed on one piece."""

LEFT_TO_RIGHT, TOP_TO_BOTTOM = 1366, 768
"""A small screen in pixels."""

ROW_NUMBERS_AND_SCROLL_BAR, BARS_OF_THE_PROGRAM = 60, 300
"""What a spreadsheet program takes of it: a ribbon of buttons, tabs, the line for the cell's content."""

LINES_THERE = 100
"""As many lines as there are at least."""

PIXELS_A_POINT, USUAL_POINTS = 96 / 72, 15


def pixels_wide(width: float) -> int:
    """Return a column's width in pixels, at 7 a digit (ISO/IEC 29500-1, 18.3.1.13)."""
    return int((256 * width + int(128 / 7)) / 256 * 7)


def book_after(*lines: Line, wanted: int = 4, **more: Mapping[str, PieceEntry]) -> bytes:
    reckoning = sale(wanted)
    return book_bytes(reckoning, reckon_event(reckoning, Entries(lines=lines, **more)))  # type: ignore[arg-type]


def columns(shown: Mapping[Place, Value]) -> tuple[int, dict[str, str]]:
    """Return the row of keys on Takings and the letter of each key's column."""
    row = next(
        int(cell[1:]) for (sheet, cell), value in shown.items() if sheet == "Takings" and value == "[takings]"
    )
    letters = {
        str(value): cell.removesuffix(str(row))
        for (sheet, cell), value in shown.items()
        if sheet == "Takings" and cell.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ") == str(row)
    }
    return row, letters


class Sheet:
    """Takings as it shows, by line from the top and key."""

    def __init__(self, book: bytes) -> None:
        self._shown = values_of(book)
        self._keys, self._letters = columns(self._shown)

    def place(self, nth: int, key: str) -> Place:
        return "Takings", f"{self._letters[key]}{self._keys + 2 + nth}"

    def __call__(self, nth: int, key: str) -> Value | None:
        return self._shown.get(self.place(nth, key))


@cache
def recalculated(book: bytes) -> bytes:
    return recalculated_by_libreoffice({"book": book})["book"]


def lines_on_one_piece() -> Iterator[tuple[int, tuple[tuple[LineKind, str], ...]]]:
    pairs = list(product(TYPED, repeat=2))
    threes = [three for three in product(TYPED, repeat=3) if {"refund"} & {kind for kind, _amount in three}]
    return enumerate([*pairs, *threes[::5]], start=1)


@cache
def every_pair() -> bytes:
    """Return a book in which every two kinds of line, and many threes, meet on a piece of their own."""
    meetings = list(lines_on_one_piece())
    lines = (line(0, kind, f"MAY-{piece:03d}", amount) for piece, typed in meetings for kind, amount in typed)
    return book_after(*numbered_anew(lines), wanted=len(meetings))


MESSY = numbered_anew(
    (
        line(0, piece=FIRST, day=SECOND_DAY, way="card", gift="2.50", group="tide ~ MILL"),
        line(0, piece=SECOND, way=" CARD", with_above=True, claim="7"),
        line(0, piece="may-002 ", way="bank * transfer?", group="Reed bank * friends?"),
        line(0, piece="MAY-00?"),
        line(0, piece="*", amount="4"),
        line(0, piece="MAY-003", way="group's own tin", group="Tide ~ mill"),
        line(0, piece=DONATED, way="*"),
        line(0, piece="D1-002", way="", amount="12.345"),
        line(0, piece=UNNUMBERED, count=3, day=FIRST_DAY),
        line(0, "refund", UNNUMBERED, count=1),
        line(0, "balance", UNNUMBERED),
        line(0, piece=UNNUMBERED, count=0, amount="2"),
        line(0, "order", "may", "3", claim="c8", count=2, way=""),
        line(0, "order", UNNUMBERED, "3", claim="C8"),
        line(0, "order", "XX"),
        line(0, "order", "*", claim="7"),
        line(0, "deposit", "MAY-004", "9.99", claim="7", waiting=True),
        line(0, "donation", amount="20", group="Nobody"),
        line(0, "raffle", FIRST, "3", way="cash", till="2"),
        line(0, "postage", till="2"),
        line(0, piece=FIRST, amount="-4", till="2"),
        Line(number=0, note="=1+1", day=SECOND_DAY, till="2"),
        line(0, "other", gift="1.10", till="2"),
        line(0, piece="MAY-003", amount="0", day=SECOND_DAY),
        line(0, "order", "MAY", "28", claim="9", way="card"),
        line(0, "donation", amount="2", way="", with_above=True),
        line(0, "donation", amount="3", way="", with_above=True),
        line(0, "donation", amount="3", way="cash", with_above=True),
        line(0, "donation", amount="4", way=""),
        line(0, "donation", amount="5", way="", with_above=True),
    )
)


@cache
def messy() -> bytes:
    pieces = {
        FIRST: PieceEntry(mishap="broken", grade="second"),
        "MAY-002": PieceEntry(reserved_for=" c8"),
        "MAY-003": PieceEntry(reserved_for="9"),
        "MAY-004": PieceEntry(grade="second"),
    }
    claims = (Claim(claim="7", name="A. Person"), Claim(claim="C8"), Claim(claim="9"))
    reckoning = sale()
    entries = Entries(lines=MESSY, pieces=pieces, claims=claims, made={"MAY": 3, "DOT": 2})
    return book_bytes(reckoning, reckon_event(reckoning, entries))


@needs_libreoffice
def test_lines_that_meet_on_a_piece_count_in_the_sheet_as_in_python() -> None:
    assert differences(every_pair(), values_of(recalculated(every_pair()))) == []


@needs_libreoffice
def test_messy_lines_count_in_the_sheet_as_in_python() -> None:
    assert differences(messy(), values_of(recalculated(messy()))) == []


@pytest.mark.slow
def test_a_messy_book_breaks_no_rule_of_the_file_format() -> None:
    assert violations(messy()) == []
    assert list(broken_rules(messy())) == []


@needs_libreoffice
@pytest.mark.parametrize(
    ("key", "typed", "remark", "counts"),
    [
        ("amount", "£38", "not a number", 0),
        ("gift", "two", "not a number", 28),
        ("count", "one", "not a number", 28),
        ("kind", "sold", "no such kind", 0),
        ("kind", " Sale ", "", 28),
        ("day", "Saturday", "not a date", 28),
        ("amount", -5, "type it without a minus", 0),
        ("waiting", "Yes", "", 0),
        ("waiting", "no", "", 28),
        ("claim", 7, "", 28),
        ("piece", "may-001 ", "", 28),
    ],
)
def test_what_is_pasted_is_remarked_and_breaks_no_sum(
    key: str, typed: Value, remark: str, counts: float
) -> None:
    sheet = Sheet(_pasted())
    nth = next(n for n, (k, t) in enumerate(PASTED) if (k, t) == (key, typed))
    assert (sheet(nth, "=remark") or "", sheet(nth, "=money")) == (remark, counts)


PASTED: tuple[tuple[str, Value], ...] = (
    ("amount", "£38"),
    ("gift", "two"),
    ("count", "one"),
    ("kind", "sold"),
    ("kind", " Sale "),
    ("day", "Saturday"),
    ("amount", -5),
    ("waiting", "Yes"),
    ("waiting", "no"),
    ("claim", 7),
    ("piece", "may-001 "),
)


@cache
def _pasted() -> bytes:
    """Return a recalculated book with one thing pasted into the sale of each piece."""
    wanted = len(PASTED)
    lines = [line(0, piece=f"MAY-{n:03d}") for n in range(1, wanted + 1)]
    lines[-1] = line(0)
    book = book_after(*numbered_anew(lines), wanted=wanted)
    sheet = Sheet(book)
    typed = {sheet.place(nth, key): value for nth, (key, value) in enumerate(PASTED)}
    typed[sheet.place(0, "piece")] = "MAY-012"
    return recalculated(changed(book, typed))


@needs_libreoffice
def test_a_sheet_with_its_rows_in_another_order_shows_the_same_of_each_line() -> None:
    lines = [one for one in MESSY if one.till == "1"]
    event = after(*lines)
    book = book_after(*lines)
    sheet = Sheet(book)
    back_to_front = recalculated(changed(book, dict(_swapped(sheet, len(lines)))))
    shown = Sheet(back_to_front)
    of_line = {counted.line.number: counted for counted in event.state.lines}
    for nth in range(len(lines)):
        counted = of_line[int(float(str(shown(nth, "line"))))]
        assert shown(nth, "=money") == pytest.approx(float(counted.arrived))
        assert (shown(nth, "=remark") or "") == in_words(counted.remark)
        assert shown(nth, "=day") == (counted.day - FIRST_DAY).days + Sheet(book)(8, "=day")  # type: ignore[operator]


def _swapped(sheet: Sheet, rows: int) -> Iterator[tuple[Place, Value]]:
    """Yield what stands in each typed cell when the rows stand back to front."""
    keys = ("line", "day", "time", "piece", "way", "amount", "kind", "gift", "group", "with_above")
    for nth in range(rows):
        for key in (*keys, "waiting", "count", "claim", "note"):
            value = sheet(rows - 1 - nth, key)
            yield sheet.place(nth, key), "" if value is None else value


class TestRoom:
    """Room for at least three lines a piece, never under a hundred; a warning long before the end."""

    @pytest.mark.slow
    @pytest.mark.parametrize(("wanted", "fewest"), [(1, 100), (60, 180)])
    def test_there_are_lines_enough(self, wanted: int, fewest: int) -> None:
        sheet = Sheet(book_after(wanted=wanted))
        assert sheet(fewest - 1, "line") is not None
        assert sheet(0, "line") == 1

    @needs_libreoffice
    @pytest.mark.parametrize(("used", "warns"), [(0.75, False), (0.85, True)])
    def test_a_nearly_full_sheet_says_so(self, used: float, warns: bool) -> None:
        book = book_after()
        sheet = Sheet(book)
        rows = next(nth for nth in range(10_000) if sheet(nth, "line") is None)
        typed = {sheet.place(nth, "note"): "x" for nth in range(int(rows * used))}
        shown = values_of(recalculated(changed(book, typed)))
        texts = [str(value) for (title, _cell), value in shown.items() if title == "Takings"]
        assert any("Nearly full" in text for text in texts) == warns

    def test_lines_that_were_there_keep_their_numbers_and_new_ones_go_on(self) -> None:
        sheet = Sheet(book_after(line(3, piece=FIRST), line(40, piece=SECOND)))
        assert [sheet(nth, "line") for nth in range(3)] == [3, 40, 41]


@cache
def takings() -> tuple[Any, dict[str, str], int]:
    """Return the sheet Takings as written, the letter of each key's column and the first line's row."""
    sheet = load_workbook(BytesIO(messy()))["Takings"]
    keys, letters = columns(values_of(messy()))
    return sheet, letters, keys + 2


class TestSmallScreen:
    """Takings fits 1366 × 768 at 100 %: all that is for people stands side by side, and many lines show."""

    def test_nothing_for_people_stands_beyond_its_right_edge(self) -> None:
        sheet, letters, _row = takings()
        last = column_index_from_string(letters["=money"])
        widths = [sheet.column_dimensions[get_column_letter(at)].width for at in range(1, last + 1)]
        assert sum(pixels_wide(width) for width in widths) + ROW_NUMBERS_AND_SCROLL_BAR <= LEFT_TO_RIGHT

    def test_the_remark_stands_beside_what_is_typed(self) -> None:
        _sheet, letters, _row = takings()
        note, remark = (column_index_from_string(letters[key]) for key in ("note", "=remark"))
        assert remark == note + 1

    def test_what_only_formulas_need_is_folded_away(self) -> None:
        sheet, letters, _row = takings()
        last = column_index_from_string(letters["=money"])
        shapes = {
            key: (sheet.column_dimensions[letter].hidden, sheet.column_dimensions[letter].outlineLevel)
            for key, letter in letters.items()
            if column_index_from_string(letter) > last
        }
        assert len(shapes) > 40
        # As there are several tills, it is shown from which each line comes.
        assert {key for key, shape in shapes.items() if shape != (True, 1)} == {"till"}
        assert shapes["till"] == (False, 0)

    def test_the_cursor_waits_at_the_first_free_line(self) -> None:
        sheet, letters, first_line = takings()
        moving = sheet.sheet_view.selection[-1]
        assert moving.activeCell == f"{letters['piece']}{first_line + len(MESSY)}"
        assert sheet.sheet_view.pane.topLeftCell == f"{letters['day']}{first_line + len(MESSY) - 10}"

    def test_fifteen_lines_show_below_the_headings(self) -> None:
        sheet, _letters, first_line = takings()
        heights = [sheet.row_dimensions[row].height or USUAL_POINTS for row in range(1, first_line + 15)]
        assert sum(heights) * PIXELS_A_POINT + BARS_OF_THE_PROGRAM <= TOP_TO_BOTTOM

    def test_the_headings_and_the_lines_numbers_stay_in_sight(self) -> None:
        sheet, letters, first_line = takings()
        pane = sheet.sheet_view.pane
        frozen = (column_index_from_string(letters["day"]) - 1, first_line - 1)
        assert (pane.state, int(pane.xSplit), int(pane.ySplit)) == ("frozen", *frozen)

    def test_it_is_shown_at_full_size(self) -> None:
        sheet, _letters, _row = takings()
        assert sheet.sheet_view.zoomScale in {None, 100}

    def test_every_remark_fits_its_column(self) -> None:
        sheet, letters, _row = takings()
        about = {Remark.MARKED_AS: max(GONE, key=len), Remark.RESERVED_FOR: "C123"}
        width = sheet.column_dimensions[letters["=remark"]].width - 1
        remarks = [say(remark, about.get(remark, "")) for remark in Remark]
        wide = [said for said in remarks if len(broken_into_lines(said, width, points=9, bold=True)) > 1]
        assert wide == []

    def test_piece_and_way_to_pay_are_neighbours_that_can_be_typed_into(self) -> None:
        sheet, letters, row = takings()
        piece, way = (column_index_from_string(letters[key]) for key in ("piece", "way"))
        cells = [sheet.cell(row + down, column) for down in range(3) for column in (piece, way)]
        assert (way - piece, {cell.protection.locked for cell in cells}) == (1, {False})

    def test_between_line_and_note_everything_can_be_typed_into_and_nothing_else(self) -> None:
        sheet, letters, row = takings()
        open_keys = [key for key, letter in letters.items() if not sheet[f"{letter}{row}"].protection.locked]
        typed = [
            key
            for key in letters
            if not key.startswith(("=", "[")) and key not in {"line", *KEPT_BESIDE_LINES}
        ]
        assert (open_keys, sheet.protection.sheet) == (typed, True)


def test_a_piece_like_a_day_in_may_stays_as_it_is_typed() -> None:
    """Format 49, "@", is text (ISO/IEC 29500-1, 18.8.30): what is typed there is never made a date."""
    sheet, letters, row = takings()
    formats = {sheet[f"{letters['piece']}{row + nth}"].number_format for nth in range(LINES_THERE)}
    assert formats == {"@"}


def test_no_person_stands_in_takings_or_pieces() -> None:
    shown = values_of(messy())
    assert {sheet for (sheet, _cell), value in shown.items() if "A. Person" in str(value)} == {"Hand over"}


def test_a_text_that_begins_like_a_formula_is_a_text() -> None:
    sheet = load_workbook(BytesIO(messy()))["Takings"]
    notes = [cell for row in sheet.iter_rows() for cell in row if cell.value == "=1+1"]
    assert [cell.data_type for cell in notes] == ["s"]
