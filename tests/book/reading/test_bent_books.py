"""A workbook that people sorted, stretched, renamed and saved elsewhere still gives back every line."""

import io
import subprocess
import zipfile
from collections.abc import Callable
from copy import copy
from dataclasses import replace
from datetime import date, datetime, time
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.dimensions import SheetDimension

from salebook.base.errors import FaultyPlanError
from salebook.book.reading.typed import CellParser
from tests.support.bent_book import (
    EVERYTHING,
    LINES,
    bent,
    full_book,
    numbered,
    place,
    read,
    small_book,
    typed,
    with_parts,
)
from tests.support.programs import libreoffice_command
from tests.support.small_event import SECOND_DAY, sale

pytestmark = pytest.mark.slow


def test_the_book_as_it_was_written_has_no_questions(tmp_path: Path) -> None:
    book = read(small_book(), tmp_path)
    assert (LINES, (), ()) == (book.entries.lines, book.questions, book.notes)


def sort_backwards(workbook: Any) -> None:
    sheet = workbook["Takings"]
    first = place(sheet, "takings", "line")[0] + 2
    rows = [[cell.value for cell in row] for row in sheet.iter_rows(min_row=first, max_row=first + 5)]
    for number, row in enumerate(reversed(rows)):
        for column, value in enumerate(row, start=1):
            sheet.cell(first + number, column).value = value


def hide_some_rows(workbook: Any) -> None:
    sheet = workbook["Takings"]
    first = place(sheet, "takings", "line")[0] + 2
    sheet.auto_filter.ref = f"B{first - 1}:O{first + 20}"
    for row in (first, first + 2):
        sheet.row_dimensions[row].hidden = True


def put_in_rows(workbook: Any) -> None:
    sheet = workbook["Takings"]
    sheet.insert_rows(1)
    sheet.insert_rows(place(sheet, "takings", "line")[0] + 4, amount=3)


def put_in_a_column(workbook: Any) -> None:
    workbook["Takings"].insert_cols(5)


def put_in_the_first_column(workbook: Any) -> None:
    workbook["Takings"].insert_cols(1)


def write_in_the_margin(workbook: Any) -> None:
    sheet = workbook["Takings"]
    keys = place(sheet, "takings", "line")[0]
    sheet.cell(keys + 3, 150).value = "ask about this one"
    sheet.cell(1, 30).value = "rain until noon"


def rename_sheets(workbook: Any) -> None:
    workbook["Takings"].title = "Till"
    workbook["Pieces"].title = "Pots"


def move_sheets(workbook: Any) -> None:
    workbook.move_sheet("Takings", offset=-7)


def drop_properties(workbook: Any) -> None:
    for name in list(workbook.custom_doc_props.names):
        del workbook.custom_doc_props[name]


@pytest.mark.parametrize(
    "change",
    [
        sort_backwards,
        hide_some_rows,
        put_in_rows,
        put_in_a_column,
        put_in_the_first_column,
        write_in_the_margin,
        rename_sheets,
        move_sheets,
        drop_properties,
    ],
)
def test_nothing_is_lost_and_nothing_asked(change: Callable[[Any], object], tmp_path: Path) -> None:
    book = read(bent(change), tmp_path, name="renamed by somebody.xlsx")
    plan = read(small_book(), tmp_path).plan
    assert (LINES, ()) == (book.entries.lines, book.questions)
    assert (plan, book.sale_id) == (book.plan, read(small_book(), tmp_path).sale_id)


def test_a_book_that_states_a_wrong_size_is_read_whole(tmp_path: Path) -> None:
    sheets = load_workbook(io.BytesIO(small_book())).sheetnames
    part = f"xl/worksheets/sheet{sheets.index('Takings') + 1}.xml"
    book = load_workbook(io.BytesIO(small_book()))
    written = SheetDimension(ref="A1:B3").ref
    raw = _part(small_book(), part).replace(book["Takings"].dimensions.encode(), written.encode(), 1)
    assert raw != _part(small_book(), part)
    assert read(with_parts(small_book(), {part: raw}), tmp_path).entries.lines == LINES


def _part(book: bytes, name: str) -> bytes:
    with zipfile.ZipFile(io.BytesIO(book)) as archive:
        return archive.read(name)


def test_a_book_saved_by_libreoffice_is_the_same_book(tmp_path: Path) -> None:
    (tmp_path / "given").mkdir()
    (tmp_path / "given" / "book.xlsx").write_bytes(small_book())
    command = libreoffice_command(
        tmp_path / "profile",
        "--convert-to",
        "xlsx",
        "--outdir",
        str(tmp_path),
        str(tmp_path / "given" / "book.xlsx"),
    )
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    book = read((tmp_path / "book.xlsx").read_bytes(), tmp_path)
    same = read(small_book(), tmp_path, name="same.xlsx")
    assert (same.plan, same.entries, ()) == (book.plan, book.entries, book.questions)
    assert same.stored == book.stored


READ_AS = [
    ({"amount": "£38"}, {"amount": Decimal(38)}),
    ({"amount": "38,00"}, {"amount": Decimal(38)}),
    ({"amount": " 38.50 "}, {"amount": Decimal("38.50")}),
    ({"amount": "1,234.50"}, {"amount": Decimal("1234.50")}),
    ({"day": "20 June 2027"}, {"day": SECOND_DAY}),
    ({"day": "20/06/2027"}, {"day": SECOND_DAY}),
    ({"day": "2027-06-20"}, {"day": SECOND_DAY}),
    ({"day": datetime(2027, 6, 20)}, {"day": SECOND_DAY}),
    ({"day": 46558}, {"day": SECOND_DAY}),
    ({"time": "10.45"}, {"at": time(10, 45)}),
    ({"time": time(10, 45, 30)}, {"at": time(10, 45)}),
    ({"piece": "may-3"}, {"piece": "MAY-003"}),
    ({"piece": " May 003 "}, {"piece": "MAY-003"}),
    ({"piece": "MAY3"}, {"piece": "MAY-003"}),
    ({"piece": "D1 2"}, {"piece": "D1-002"}),
    ({"piece": "dot "}, {"piece": "DOT"}),
    ({"way": " cash  "}, {"way": "cash"}),
    ({"kind": " Sale"}, {"kind": "sale"}),
    ({"waiting": "Yes"}, {"waiting": True}),
    ({"with_above": "no"}, {"with_above": False}),
    ({"amount": "1.234,50"}, {"amount": Decimal("1234.50")}),
    ({"count": "3"}, {"count": 3}),
    ({"amount": -5}, {"amount": Decimal(-5)}),
]


@pytest.mark.parametrize(("cells", "means"), READ_AS, ids=str)
def test_what_people_type_is_understood(cells: dict[str, Any], means: dict[str, Any], tmp_path: Path) -> None:
    book = read(bent(lambda workbook: typed(workbook, 2, cells)), tmp_path)
    assert replace(LINES[1], **means) == numbered(book)[2]
    assert book.questions == ()


ASKED = [
    ({"amount": "thirty"}, "the amount is not a number", {"amount": Decimal(0)}),
    ({"amount": "1.234"}, "the amount is not a number", {"amount": Decimal(0)}),
    ({"amount": "12 or 15"}, "the amount is not a number", {"amount": Decimal(0)}),
    ({"gift": "a bit"}, "the gift on top is not a number", {"gift": Decimal(0)}),
    ({"day": "Sunday"}, "the day is not a date", {}),
    ({"day": "13/13/2027"}, "the day is not a date", {}),
    ({"time": "after lunch"}, "the time is not one", {}),
    ({"kind": "sail"}, "there is no such kind of line", {"kind": "other"}),
    ({"count": 2.5}, "how many is not a whole number", {}),
]


@pytest.mark.parametrize(("cells", "says", "counts"), ASKED, ids=str)
def test_what_nobody_can_know_is_asked_and_kept(
    cells: dict[str, Any], says: str, counts: dict[str, Any], tmp_path: Path
) -> None:
    rows: list[int] = []
    book = read(bent(lambda workbook: rows.append(typed(workbook, 2, cells))), tmp_path)
    ((key, value),) = cells.items()
    assert replace(LINES[1], **counts, unread=((key, str(value)),)) == numbered(book)[2]
    assert [("Takings", rows[0], says)] == [(one.sheet, one.row, one.says) for one in book.questions]


SPENT = [
    ({}, [], {}),
    ({"amount": "£3.10", "met_by": " Sale"}, [], {}),
    ({"spent_on": None}, ["what was this spent on?"], {"name": ""}),
    ({"amount": None}, ["how much was spent here?"], {"amount": Decimal(0)}),
    ({"amount": "a few"}, ["this cost is not a number: it counts as nothing"], {"amount": Decimal(0)}),
    ({"met_by": None}, ["who pays for this? Until you choose, the maker does"], {"met_by": "maker"}),
    (
        {"met_by": "my aunt"},
        ["who pays is none of the words to choose from: the maker, for now"],
        {"met_by": "maker"},
    ),
]


@pytest.mark.parametrize(("cells", "says", "counts"), SPENT, ids=str)
def test_a_cost_that_nobody_planned_is_read_and_what_it_lacks_is_asked(
    cells: dict[str, Any], says: list[str], counts: dict[str, Any], tmp_path: Path
) -> None:
    def change(workbook: Any) -> None:
        for key, value in cells.items():
            keys, column = place(workbook["Costs"], "unplanned", key)
            workbook["Costs"].cell(keys + 2, column).value = value

    book = read(bent(change, full_book()), tmp_path)
    assert book.entries.unplanned == (replace(EVERYTHING.unplanned[0], **counts),)
    assert says == [question.says for question in book.questions]


def test_an_error_in_a_cell_is_asked_about(tmp_path: Path) -> None:
    book = read(bent(lambda workbook: typed(workbook, 3, {"amount": "=#REF!"})), tmp_path)
    assert [question.sheet for question in book.questions] == ["Takings"]
    assert numbered(book)[3].amount == 0


def test_each_wrong_cell_of_a_row_is_asked_about_by_its_column(tmp_path: Path) -> None:
    keys = ("amount", "gift", "count", "day", "time", "claim")
    letters: list[str] = []

    def spoil(workbook: Any) -> None:
        typed(workbook, 3, dict.fromkeys(keys, "#REF!"))
        letters.extend(get_column_letter(place(workbook["Takings"], "takings", key)[1]) for key in keys)

    says = [question.says for question in read(bent(spoil), tmp_path).questions]
    assert sorted(f"column {letter} shows the error #REF!" for letter in letters) == sorted(says)


def test_a_formula_that_was_never_calculated_is_asked_about(tmp_path: Path) -> None:
    book = read(bent(lambda workbook: typed(workbook, 3, {"amount": "=5+2.5"})), tmp_path)
    assert "never calculated" in book.questions[0].says
    assert numbered(book)[3].unread


def test_a_line_put_in_by_hand_counts_and_is_asked_about(tmp_path: Path) -> None:
    def put_in(workbook: Any) -> None:
        sheet = workbook["Takings"]
        keys, column = place(sheet, "takings", "piece")
        sheet.insert_rows(keys + 4)
        sheet.cell(keys + 4, column).value = "MAY-003"

    book = read(bent(put_in), tmp_path)
    assert [line.piece for line in book.entries.lines if line.number > 6] == ["MAY-003"]
    assert ["put in by hand" in question.says for question in book.questions] == [True]


def test_a_copied_row_counts_once(tmp_path: Path) -> None:
    def copy_down(workbook: Any) -> None:
        sheet = workbook["Takings"]
        first = place(sheet, "takings", "line")[0] + 2
        for cell in list(sheet[first + 1]):
            sheet.cell(first + 9, cell.column).value = copy(cell.value)

    assert read(bent(copy_down), tmp_path).entries.lines == LINES


def test_one_number_on_two_different_lines_is_asked_about_and_both_count(tmp_path: Path) -> None:
    book = read(bent(lambda workbook: typed(workbook, 4, {"line": 2})), tmp_path)
    assert len(book.entries.lines) == len(LINES)
    assert ["line 2 stands twice: both count"] == [question.says for question in book.questions]


def test_merged_cells_across_entries_are_asked_about(tmp_path: Path) -> None:
    def merge(workbook: Any) -> None:
        sheet = workbook["Takings"]
        row = place(sheet, "takings", "piece")[0] + 3
        sheet.merge_cells(start_row=row, end_row=row + 1, start_column=5, end_column=6)

    book = read(bent(merge), tmp_path)
    assert any("take them apart" in question.says for question in book.questions)


def test_a_doubled_heading_takes_no_amount_by_guess(tmp_path: Path) -> None:
    def double(workbook: Any) -> None:
        sheet = workbook["Takings"]
        keys = place(sheet, "takings", "amount")[0]
        sheet.cell(keys, 150).value = "amount"
        sheet.cell(keys + 4, 150).value = 99

    book = read(bent(double), tmp_path)
    assert numbered(book)[3].amount == 0
    assert any("stands here twice" in question.says for question in book.questions)
    assert numbered(book)[3].unread


@pytest.mark.parametrize(
    ("title", "section", "key"),
    [("Takings", "takings", "=money"), ("Takings", "takings", "=index"), ("Pieces", "pieces", "=price")],
)
def test_formulas_that_were_overwritten_are_said_and_change_nothing(
    title: str, section: str, key: str, tmp_path: Path
) -> None:
    def overwrite(workbook: Any) -> None:
        sheet = workbook[title]
        keys, column = place(sheet, section, key)
        sheet.cell(keys + 3, column).value = 1000

    book = read(bent(overwrite), tmp_path)
    assert (LINES, ()) == (book.entries.lines, book.questions)
    assert ["typed over a formula" in note.says for note in book.notes] == [True]


def test_a_copy_of_a_sheet_is_said(tmp_path: Path) -> None:
    book = read(bent(lambda workbook: workbook.copy_worksheet(workbook["Takings"])), tmp_path)
    assert book.entries.lines == LINES
    assert ["Takings Copy"] == [question.sheet for question in book.questions]


def test_a_book_never_calculated_shows_no_sums(tmp_path: Path) -> None:
    assert read(bent(lambda _workbook: None), tmp_path).stored.sums == {}
    assert read(small_book(), tmp_path).stored.sums["takings_total"] > 0


@pytest.mark.parametrize("key", ["line", "amount", "piece", "kind"])
def test_a_lost_heading_is_named(key: str, tmp_path: Path) -> None:
    def lose(workbook: Any) -> None:
        sheet = workbook["Takings"]
        sheet.cell(*place(sheet, "takings", key)).value = None

    book = bent(lose)
    with pytest.raises(FaultyPlanError, match=f"no small grey word {key}"):
        read(book, tmp_path)


@pytest.mark.parametrize("title", ["Takings", "Plan"])
def test_a_lost_sheet_is_named(title: str, tmp_path: Path) -> None:
    book = bent(lambda workbook: workbook.remove(workbook[title]))
    with pytest.raises(FaultyPlanError, match=title):
        read(book, tmp_path)


def test_a_lost_sheet_that_others_can_do_without_is_asked_about(tmp_path: Path) -> None:
    book = read(bent(lambda workbook: workbook.remove(workbook["Hand over"])), tmp_path)
    assert book.entries.lines == LINES
    assert ["Hand over"] == [question.sheet for question in book.questions]


def test_a_price_changed_on_plan_is_the_books_price(tmp_path: Path) -> None:
    def change(workbook: Any) -> None:
        sheet = workbook["Plan"]
        keys, column = place(sheet, "wares", "price")
        sheet.cell(keys + 2, column).value = "29,50"

    book = read(bent(change), tmp_path)
    assert book.plan.wares[0].price == Decimal("29.50")
    assert sale().plan.wares[1:] == book.plan.wares[1:]


def test_a_faulty_plan_sheet_says_where(tmp_path: Path) -> None:
    def change(workbook: Any) -> None:
        sheet = workbook["Plan"]
        keys, column = place(sheet, "wares", "price")
        sheet.cell(keys + 2, column).value = "a lot"

    book = bent(change)
    with pytest.raises(FaultyPlanError, match="wares → MAY → price"):
        read(book, tmp_path)


def test_days_are_read_as_the_locale_writes_them() -> None:
    us = CellParser(locale="en_US", currency="USD", first_day=date(2027, 6, 19))
    german = CellParser(locale="de_DE", currency="EUR", first_day=date(2027, 6, 19))
    assert us.day("6/20/2027") == german.day("20.6.2027") == german.day("20. Juni") == SECOND_DAY
    assert german.amount("1.234,50 €") == us.amount("$1,234.50") == Decimal("1234.50")


@pytest.mark.parametrize(
    ("typed_in", "found"), [("=1/0", "a formula that was never calculated"), ("#REF!", "the error #REF!")]
)
def test_a_broken_cell_on_plan_is_called_what_it_is(typed_in: str, found: str, tmp_path: Path) -> None:
    def change(workbook: Any) -> None:
        rows = workbook["Plan"].iter_rows()
        next(row for row in rows if str(row[0].value).startswith("sale.target"))[2].value = typed_in

    book = bent(change)
    with pytest.raises(FaultyPlanError, match=f"sale → target: found {found}"):
        read(book, tmp_path)


def test_a_fee_that_shows_in_per_cent_on_plan_is_so_many_per_cent(tmp_path: Path) -> None:
    def change(workbook: Any) -> None:
        keys, column = place(workbook["Plan"], "payments", "percent")
        names = place(workbook["Plan"], "payments", "name")[1]
        rows = range(keys + 1, keys + 12)
        card = next(row for row in rows if workbook["Plan"].cell(row, names).value == "card")
        workbook["Plan"].cell(card, column, 0.0175).number_format = "0.00%"

    plan = read(bent(change), tmp_path).plan
    assert [way.percent for way in plan.payments if way.name == "card"] == [Decimal("1.75")]


def paste_a_helpers_lines(
    sheet: str = "Takings", *, keys: bool = True, right: int = 0
) -> Callable[[Any], None]:
    """Paste the headings and the first two lines, another piece on the first, three rows below a sheet."""

    def paste(workbook: Any) -> None:
        source = workbook["Takings"]
        target = workbook[sheet] if sheet in workbook.sheetnames else workbook.create_sheet(sheet)
        top, column = place(source, "takings", "piece")
        rows = [[cell.value for cell in row] for row in source.iter_rows(min_row=top, max_row=top + 3)]
        rows[2][column - 1] = "MAY-004"
        first = top + 1 if right else target.max_row + 3
        for number, row in enumerate(rows if keys else rows[1:]):
            for at, value in enumerate(row[0 if keys else 1 :], start=1 if keys else 2):
                is_formula = isinstance(value, str) and value.startswith("=") and number > 0
                target.cell(first + number, at + right).value = None if is_formula else value

    return paste


def test_a_helpers_table_pasted_below_is_read_line_by_line(tmp_path: Path) -> None:
    book = read(bent(paste_a_helpers_lines()), tmp_path)
    assert {*LINES} < {*book.entries.lines}
    assert ["MAY-004"] == [line.piece for line in book.entries.lines if line not in LINES]
    assert [
        "line 1 stands twice: both count",
        "line 2 stands twice, alike: it counts once; is it one sale?",
    ] == [question.says for question in book.questions]


def test_pasted_without_the_grey_words_each_line_is_taken_and_asked_about(tmp_path: Path) -> None:
    book = read(bent(paste_a_helpers_lines(keys=False)), tmp_path)
    assert ["MAY-004", "MAY-002"] == [line.piece for line in book.entries.lines[len(LINES) :]]
    assert ["put in by hand" in question.says for question in book.questions] == [True, True]


@pytest.mark.parametrize("keys", [True, False])
@pytest.mark.parametrize("sheet", ["Pieces", "Cash-up", "Helper"])
def test_lines_pasted_on_another_sheet_are_asked_about(sheet: str, keys: bool, tmp_path: Path) -> None:
    book = read(bent(paste_a_helpers_lines(sheet, keys=keys)), tmp_path)
    asked = [question.sheet for question in book.questions if "2 from this row on" in question.says]
    assert (LINES, [sheet]) == (book.entries.lines, asked)


def test_lines_pasted_beside_the_table_are_asked_about(tmp_path: Path) -> None:
    book = read(bent(paste_a_helpers_lines(keys=False, right=150)), tmp_path)
    assert LINES == book.entries.lines
    assert ["2 from this row on" in question.says for question in book.questions] == [True]
