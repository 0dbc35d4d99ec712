"""The books of several tables put together: every line once, in the order of time."""

import io
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, time
from decimal import Decimal
from functools import cache
from pathlib import Path
from shutil import copytree
from typing import Any

import pytest
from openpyxl import load_workbook

from salebook.base.errors import FileError, WrongUseError
from salebook.book.read import read_any_book, read_book
from salebook.book.write import book_bytes, till_book_bytes
from salebook.cli import main
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.event.merge import merge
from salebook.event.told import TillBook
from salebook.jobs.check import check_file
from salebook.jobs.join import Joined, join_books
from salebook.jobs.make import OFFICE
from salebook.jobs.renew import renew
from tests.support.bent_book import bent, place, typed
from tests.support.cells import values_of
from tests.support.programs import needs_libreoffice
from tests.support.proof import differences, recalculated_by_libreoffice, without_stored_results
from tests.support.small_event import FIRST, FIRST_DAY, SECOND, SECOND_DAY, line, sale

TODAY = date(2027, 6, 21)
Lines = tuple[Mapping[str, Any], ...]


@cache
def empty_till(till: str, book_id: str = "") -> bytes:
    return till_book_bytes(sale(), reckon_event(sale(), Entries()), till=till, book_id=book_id)


@cache
def empty_owners_book() -> bytes:
    return book_bytes(sale(), reckon_event(sale(), Entries()), till=OFFICE)


def till_book(till: str, lines: Lines, path: Path, book_id: str = "") -> Path:
    def fill(workbook: Any) -> None:
        for number, values in enumerate(lines, start=1):
            typed(workbook, number, values)

    path.write_bytes(bent(fill, empty_till(till, book_id)))
    return path


FIRST_TABLE: Lines = (
    {"day": FIRST_DAY, "time": time(10, 5), "piece": FIRST, "way": "cash"},
    {"time": time(12, 0), "piece": "dot", "count": 2, "way": "card"},
    {"day": SECOND_DAY, "kind": "raffle", "amount": 12, "way": "cash"},
)
SECOND_TABLE: Lines = (
    {"day": FIRST_DAY, "time": time(11, 0), "piece": "D1-001", "way": "cash"},
    {"piece": SECOND, "way": "card"},
)


def join(*books: Path, out: Path) -> Joined:
    return join_books(books, out, plan=None, force=False, today=TODAY)


@pytest.fixture(scope="module")
def one_day(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("one-day")
    (folder / "sale.xlsx").write_bytes(empty_owners_book())
    till_book("1", FIRST_TABLE, folder / "one.xlsx")
    till_book("2", SECOND_TABLE, folder / "two.xlsx")
    return folder


@pytest.fixture
def folder(one_day: Path, tmp_path: Path) -> Path:
    return copytree(one_day, tmp_path, dirs_exist_ok=True)


def test_lines_stand_in_the_order_of_time_each_with_its_till(folder: Path) -> None:
    made = join(folder / "one.xlsx", folder / "two.xlsx", out=folder / "all.xlsx")
    assert (5, ()) == (made.lines, made.questions)
    read = read_book(folder / "all.xlsx")
    by_row = [(one.bundle, one.number) for one in sorted(read.rows, key=read.rows.__getitem__)]
    assert [("1", 1), ("2", 1), ("2", 2), ("1", 2), ("1", 3)] == by_row


@pytest.mark.slow
def test_the_joined_book_is_right_in_every_cell(folder: Path) -> None:
    join(folder / "one.xlsx", folder / "two.xlsx", out=folder / "all.xlsx")
    for book in ((folder / "all.xlsx").read_bytes(), empty_till("2")):
        again = recalculated_by_libreoffice({"t": without_stored_results(book)})["t"]
        assert differences(book, values_of(again)) == []


def test_a_copied_file_counts_once(folder: Path) -> None:
    (folder / "copy.xlsx").write_bytes((folder / "one.xlsx").read_bytes())
    made = join(*(folder / f"{name}.xlsx" for name in ("one", "copy", "two")), out=folder / "all.xlsx")
    assert (5, ()) == (made.lines, made.questions)
    assert any("given 2 times" in note for note in made.notes)


@pytest.mark.slow
@pytest.mark.parametrize("names", [("older", "one"), ("one", "older")])
def test_what_an_older_copy_says_otherwise_counts_too_and_is_asked_about(
    names: tuple[str, str], folder: Path
) -> None:
    changed: Lines = ({**FIRST_TABLE[0], "piece": "MAY-002"}, FIRST_TABLE[1])
    till_book("1", changed, folder / "older.xlsx")
    made = join(*(folder / f"{name}.xlsx" for name in names), out=folder / "all.xlsx")
    lines = read_book(made.path).entries.lines
    assert (4, {FIRST, "MAY-002"}) == (made.lines, {one.piece for one in lines if one.number == 1})
    assert [names[1] + ".xlsx"] == [question.book for question in made.questions]


def test_a_piece_sold_at_two_tables_is_asked_about(folder: Path) -> None:
    till_book("2", ({**SECOND_TABLE[0], "piece": FIRST},), folder / "two.xlsx")
    made = join(folder / "one.xlsx", folder / "two.xlsx", out=folder / "all.xlsx")
    assert ["table 2, line 1: sold twice"] == [question.says for question in made.questions]


@pytest.mark.parametrize("name", ["all.txt", "all", "-"])
def test_a_name_that_is_no_workbooks_is_refused(
    name: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = name if name == "-" else str(folder / name)
    assert main(["join", str(folder / "one.xlsx"), "-o", out]) == 2
    assert "let it end in .xlsx" in capsys.readouterr().err


@pytest.mark.parametrize("command", [["join", "-", "-o", "all.xlsx"], ["renew", "-"], ["report", "-"]])
def test_standard_input_is_no_workbook(command: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert main(command) == 2
    assert "cannot hold a workbook" in capsys.readouterr().err


def test_what_cannot_be_read_as_a_workbook_is_not_overwritten(folder: Path) -> None:
    (folder / "all.xlsx").write_bytes(b"a letter")
    with pytest.raises(FileError, match="cannot be read as a workbook"):
        join(folder / "one.xlsx", out=folder / "all.xlsx")
    assert (folder / "all.xlsx").read_bytes() == b"a letter"


@pytest.mark.slow
def test_a_till_of_another_sale_is_refused(folder: Path) -> None:
    def other(workbook: Any) -> None:
        del workbook.custom_doc_props["salebook sale"]
        sheet = workbook["This table"]
        for row in sheet.iter_rows():
            if row[0].value == "till.sale_id":
                row[2].value = "another"

    (folder / "two.xlsx").write_bytes(bent(other, empty_till("2")))
    books = (folder / "one.xlsx", folder / "two.xlsx")
    with pytest.raises(WrongUseError, match=r"two\.xlsx: of another sale"):
        join(*books, out=folder / "all.xlsx")
    assert not (folder / "all.xlsx").exists()


def test_without_the_plan_anywhere_that_is_said(folder: Path) -> None:
    (folder / "sale.xlsx").unlink()
    with pytest.raises(WrongUseError, match="holds the plan"):
        join(folder / "one.xlsx", out=folder / "all.xlsx")


@pytest.mark.slow
def test_what_the_owners_book_holds_is_in_the_joined_one(folder: Path) -> None:
    event = reckon_event(sale(), Entries(lines=(line(1, "donation", amount="9", till=OFFICE),)))
    (folder / "sale.xlsx").write_bytes(book_bytes(sale(), event, till=OFFICE))
    made = join(folder / "sale.xlsx", folder / "one.xlsx", out=folder / "all.xlsx")
    assert made.lines == 4


def test_a_tills_book_holds_no_costs_and_no_plan() -> None:
    workbook = load_workbook(io.BytesIO(empty_till("1")))
    assert ["This table", "Pieces", "Takings", "Hand over", "Cash-up"] == workbook.sheetnames
    said = {str(value) for value in values_of(empty_till("1")).values()}
    secrets = {"hall", "3.5", "buff", "300.0", "300", "bags", "1.75", "0.25"}
    assert secrets & said == set()


def test_a_tills_id_stands_in_its_properties_and_in_a_cell(folder: Path) -> None:
    assert ("2", "1") == (read_any_book(folder / "two.xlsx").till, read_any_book(folder / "one.xlsx").till)
    bare = bent(
        lambda workbook: [
            workbook.custom_doc_props.__delitem__(name) for name in list(workbook.custom_doc_props.names)
        ],
        empty_till("2"),
    )
    (folder / "bare.xlsx").write_bytes(bare)
    assert read_any_book(folder / "bare.xlsx").till == "2"


def test_like_lines_of_two_tables_are_two_lines() -> None:
    raffle = line(1, "raffle", amount="5")
    books = [
        TillBook(file=till, till=till, entries=Entries(lines=(replace(raffle, till=till),))) for till in "12"
    ]
    assert len(merge(books).entries.lines) == 2


def test_joining_twice_changes_nothing() -> None:
    book = TillBook(
        file="a", till="1", entries=Entries(lines=(line(1, "raffle", amount="5"), line(2, piece=FIRST)))
    )
    once = merge([book])
    again = merge([book, TillBook(file="b", till="", entries=once.entries)])
    assert (once.entries, ()) == (again.entries, again.questions)


SUNDAY: Lines = (
    {"day": SECOND_DAY, "time": time(10, 0), "piece": "MAY-003", "way": "cash"},
    {"kind": "raffle", "amount": 5, "way": "cash"},
)


@pytest.fixture(scope="module")
def saturday_and_sunday(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("two-days")
    (folder / "sale.xlsx").write_bytes(empty_owners_book())
    till_book("1", FIRST_TABLE, folder / "one.xlsx", book_id="SAT4C")
    till_book("2", SECOND_TABLE, folder / "two.xlsx", book_id="SAT4D")
    made = join(*(folder / f"{name}.xlsx" for name in ("one", "two")), out=folder / "all.xlsx")
    dearer = load_workbook(made.path)
    keys, column = place(dearer["Plan"], "wares", "price")
    dearer["Plan"].cell(keys + 2, column).value = 99
    dearer.save(folder / "dearer.xlsx")
    renew(made.path, plan=folder / "dearer.xlsx", today=TODAY)
    till_book("1", SUNDAY, folder / "sunday.xlsx", book_id="SUN4C")
    return folder


@pytest.fixture
def two_days(saturday_and_sunday: Path, tmp_path: Path) -> Path:
    """Two tables on Saturday put together, renewed with another price, and table 1 on Sunday."""
    return copytree(saturday_and_sunday, tmp_path, dirs_exist_ok=True)


@pytest.mark.slow
def test_the_second_day_of_a_table_is_taken_in_whole_and_the_first_keeps_its_amounts(two_days: Path) -> None:
    renewed, sunday = two_days / "all-renewed.xlsx", two_days / "sunday.xlsx"
    made = join(renewed, sunday, out=two_days / "both.xlsx")
    lines = read_book(made.path).entries.lines
    assert (7, ()) == (made.lines, made.questions)
    ids = ["SAT4C", "SAT4C", "SAT4C", "SAT4D", "SAT4D", "SUN4C", "SUN4C"]
    assert ids == sorted(one.book for one in lines)
    by_piece = {(one.book, one.piece): one.amount for one in lines}
    assert (Decimal(28), None) == (by_piece["SAT4C", FIRST], by_piece["SUN4C", "MAY-003"])


@pytest.mark.slow
def test_older_copies_and_what_was_joined_before_add_nothing(two_days: Path) -> None:
    names = ("all-renewed", "sunday", "one", "two")
    once = join(*(two_days / f"{name}.xlsx" for name in names), out=two_days / "once.xlsx")
    again = join(once.path, two_days / "one.xlsx", two_days / "sunday.xlsx", out=two_days / "again.xlsx")
    assert (7, (), 7, ()) == (once.lines, once.questions, again.lines, again.questions)
    assert read_book(once.path).entries.lines == read_book(again.path).entries.lines


@needs_libreoffice
def test_lines_of_two_days_of_one_table_are_right_in_every_cell(two_days: Path) -> None:
    made = join(two_days / "all-renewed.xlsx", two_days / "sunday.xlsx", out=two_days / "both.xlsx")
    book = made.path.read_bytes()
    again = recalculated_by_libreoffice({"t": without_stored_results(book)})["t"]
    assert differences(book, values_of(again)) == []


@pytest.mark.slow
def test_a_table_is_asked_the_same_before_and_after_its_book_is_joined(folder: Path) -> None:
    doubtful: Lines = (
        {"piece": FIRST},
        {"kind": "raffle", "amount": "much"},
        {"amount": 3, "waiting": "maybe"},
    )
    till_book("2", doubtful, folder / "two.xlsx", book_id="K4C4C")
    till_book("1", (), folder / "one.xlsx")
    before = check_file(folder / "two.xlsx").questions
    made = join(folder / "one.xlsx", folder / "two.xlsx", out=folder / "all.xlsx")
    after = check_file(made.path).questions
    assert len(before) > 3
    assert list(before) == [replace(one, book="") for one in made.questions]
    assert ["two.xlsx"] * len(before) == [one.book for one in made.questions]
    said = [one.says.removeprefix("table 2, ") for one in before]
    assert sorted(said) == sorted(one.says.removeprefix("table 2, ") for one in after)


@pytest.mark.slow
def test_a_joined_book_that_nobody_touched_is_joined_anew_and_another_is_not(folder: Path) -> None:
    books = (folder / "one.xlsx", folder / "two.xlsx")
    made = join(*books, out=folder / "all.xlsx")
    till_book("2", ({**SECOND_TABLE[0], "way": "card"},), folder / "two.xlsx")
    assert join(*books, out=made.path).lines == 4
    workbook = load_workbook(made.path)
    typed(workbook, 1, {"note": "a word"})
    workbook.save(made.path)
    with pytest.raises(FileError, match="something else has been filled in"):
        join(*books, out=made.path)
