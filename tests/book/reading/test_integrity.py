"""What a workbook's tables have lost is asked about: keys, marks, whole tables, entries twice."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from salebook.book.file.opening import open_workbook
from salebook.book.reading.integrity import keys_read, keys_typed
from salebook.book.reading.raw import read_raw
from salebook.book.reading.tables import tables_of
from tests.support.bent_book import EVERYTHING, bent, full_book, place, read
from tests.support.books import SAMPLES, sample_book
from tests.support.inputs import KEPT_BESIDE_LINES

pytestmark = pytest.mark.slow

HOMES = {
    **dict.fromkeys(("tally", "pieces"), "Pieces"),
    **dict.fromkeys(("cash", "coins", "table", "bank", "bank_ways"), "Cash-up"),
    **dict.fromkeys(("paid", "ways"), "Share-out"),
    **{
        "studio": "Making",
        "costs": "Costs",
        "unplanned": "Costs",
        "claims": "Hand over",
        "kept": "Start here",
    },
}

FILLED = {
    **{"cash": "paid_out", "coins": "count", "table": "counted", "bank": "arrived"},
    "bank_ways": "explained",
    **{"paid": "reference", "ways": "actual_fee", "costs": "actual"},
    "unplanned": "met_by",
    **{"tally": "out_of_the_kiln", "studio": "thrown", "pieces": "reserved_for", "kept": "says"},
}
"""A key of each table under which something is filled in."""


def says_of(change: Callable[[Any], object], folder: Path) -> list[tuple[str, str]]:
    book = read(bent(change, full_book()), folder)
    return [(question.sheet, question.says) for question in book.questions]


def test_a_book_with_something_in_every_table_is_read_whole(tmp_path: Path) -> None:
    book = read(full_book(), tmp_path)
    assert (EVERYTHING, (), ()) == (book.entries, book.questions, book.notes)


@pytest.mark.parametrize("sample", SAMPLES)
def test_every_key_that_is_read_stands_in_the_books_that_are_written(sample: str, tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(sample_book(sample))
    sheets = dict.fromkeys(keys_read(), "Plan") | HOMES | {"takings": "Takings"}
    tables = tables_of(read_raw(open_workbook(path)), sheets, ("Start here", "Progress", "Firing"))
    there = {section: {key for part in parts for key in part.keys} for section, parts in tables.parts.items()}
    missing = {section: set(keys_read()[section]) - keys for section, keys in there.items()}
    assert {section: keys for section, keys in missing.items() if keys} == {}


@pytest.mark.parametrize("section", HOMES)
def test_a_table_without_its_row_of_keys_is_asked_about(section: str, tmp_path: Path) -> None:
    def lose(workbook: Any) -> None:
        for row in workbook[HOMES[section]].iter_rows(max_col=1):
            if row[0].value == f"[{section}]":
                row[0].value = None

    said = says_of(lose, tmp_path)
    assert (HOMES[section], True) in [(sheet, f"[{section}] is missing" in says) for sheet, says in said]


@pytest.mark.parametrize(("section", "key"), [(section, keys_typed()[section][-1]) for section in HOMES])
def test_a_lost_key_is_asked_about(section: str, key: str, tmp_path: Path) -> None:
    def lose(workbook: Any) -> None:
        for row in workbook[HOMES[section]].iter_rows():
            if row[0].value == f"[{section}]":
                next(cell for cell in row if cell.value == key).value = None

    said = says_of(lose, tmp_path)
    assert (HOMES[section], True) in [(sheet, f"no small grey word {key} " in says) for sheet, says in said]


@pytest.mark.parametrize("key", sorted(KEPT_BESIDE_LINES))
def test_a_lost_key_of_what_is_kept_beside_lines_is_asked_about(key: str, tmp_path: Path) -> None:
    def lose(workbook: Any) -> None:
        workbook["Takings"].cell(*place(workbook["Takings"], "takings", key)).value = None

    said = says_of(lose, tmp_path)
    assert [("Takings", True)] == [(sheet, f"no small grey word {key} " in says) for sheet, says in said]


def test_a_lost_key_of_the_plan_is_asked_about(tmp_path: Path) -> None:
    def lose(workbook: Any) -> None:
        workbook["Plan"].cell(*place(workbook["Plan"], "overheads", "met_by")).value = None

    assert ["Plan"] == [sheet for sheet, _says in says_of(lose, tmp_path)]


@pytest.mark.parametrize(
    ("section", "key"),
    [
        *(("takings", key) for key in ("amount", "gift", "count")),
        *(("cash", "float"), ("cash", "paid_out"), ("coins", "count"), ("table", "counted")),
        *(("bank", "arrived"), ("paid", "amount"), ("ways", "actual_fee"), ("costs", "actual")),
        *(
            ("unplanned", "amount"),
            ("pieces", "agreed_price"),
            ("tally", "out_of_the_kiln"),
            ("studio", "thrown"),
        ),
    ],
)
def test_a_number_shown_as_a_percentage_is_asked_about_and_counts_as_nothing(
    section: str, key: str, tmp_path: Path
) -> None:
    number_format = "0%" if section == "takings" else "0.0 %"

    def show(workbook: Any) -> None:
        sheet = workbook[{"takings": "Takings"}.get(section) or HOMES[section]]
        keys, column = place(sheet, section, key)
        marks = {n: str(sheet.cell(n, 1).value).partition(".")[0] for n in range(keys + 2, keys + 40)}
        rows = [n for n, mark in marks.items() if mark == section]
        row = next((n for n in rows if sheet.cell(n, column).value is not None), rows[0])
        sheet.cell(row, column).value = 1
        sheet.cell(row, column).number_format = number_format

    book = read(bent(show, full_book()), tmp_path)
    assert sum("a percentage stands here" in question.says for question in book.questions) == 1
    unread = [(key, "100%")] if section == "takings" else []
    assert unread == [one for line in book.entries.lines for one in line.unread]
    assert [section != "takings"] * len(book.unread) == ["100%" in one.says for one in book.unread]


@pytest.mark.parametrize("section", FILLED)
def test_a_row_that_lost_its_mark_is_asked_about(section: str, tmp_path: Path) -> None:
    def lose(workbook: Any) -> None:
        sheet = workbook[HOMES[section]]
        keys, column = place(sheet, section, FILLED[section])
        row = next(n for n in range(keys + 2, keys + 40) if sheet.cell(n, column).value is not None)
        sheet.cell(row, 1).value = None

    assert ["lost its mark" in says for _sheet, says in says_of(lose, tmp_path)] == [True]


def test_an_overhead_put_in_by_hand_without_its_mark_is_asked_about(tmp_path: Path) -> None:
    def put_in(workbook: Any) -> None:
        sheet = workbook["Plan"]
        keys, column = place(sheet, "overheads", "name")
        sheet.cell(keys + 3, column).value = "tea urn"

    assert ["lost its mark" in says for _sheet, says in says_of(put_in, tmp_path)] == [True]


def test_a_key_that_was_dragged_off_its_column_is_asked_about(tmp_path: Path) -> None:
    def drag(workbook: Any) -> None:
        sheet = workbook["Takings"]
        row, column = place(sheet, "takings", "amount")
        sheet.cell(row, column).value = None
        sheet.cell(row, 150).value = "amount"

    assert any("was it moved" in says for _sheet, says in says_of(drag, tmp_path))


def test_an_entry_of_the_plan_that_stands_twice_is_asked_about_and_the_first_counts(tmp_path: Path) -> None:
    def double(workbook: Any) -> None:
        for row in workbook["Plan"].iter_rows(max_col=3):
            if str(row[0].value).startswith("sale.confidence"):
                row[0].value, row[2].value = "sale.target", 5000

    book = read(bent(double, full_book()), tmp_path)
    assert book.plan.sale.target == 300
    assert ["this stands twice: the first row counts"] == [question.says for question in book.questions]


def test_an_error_in_a_text_cell_is_asked_about(tmp_path: Path) -> None:
    def spoil(workbook: Any) -> None:
        sheet = workbook["Cash-up"]
        row, column = place(sheet, "cash", "counted_by")
        sheet.cell(row + 2, column).value = "#REF!"

    assert ["error #REF!" in says for _sheet, says in says_of(spoil, tmp_path)] == [True]
