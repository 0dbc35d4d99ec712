"""A fresh workbook after a change of plan holds everything that was filled in before."""

import io
import json
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from salebook.base.errors import FileError, WrongUseError
from salebook.book.read import read_book
from salebook.book.write import book_bytes
from salebook.cli import main
from salebook.event.entries import Claim, Entries, PieceEntry, TableCount, Unplaced
from salebook.event.event import reckon_event
from salebook.jobs.renew import renew
from salebook.making.studio_tally import StudioCount
from salebook.reckoning import Reckoning
from tests.support.bent_book import bent, typed
from tests.support.cells import values_of
from tests.support.entry_strategies import a_day_of_takings
from tests.support.proof import differences, recalculated_by_libreoffice, without_stored_results
from tests.support.small_event import FIRST, FIRST_DAY, PLAN, SECOND, line, sale

TODAY = date(2027, 6, 21)


def put(reckoning: Reckoning, filled_in: Entries, path: Path) -> Path:
    path.write_bytes(book_bytes(reckoning, reckon_event(reckoning, filled_in), sale_id="abc"))
    return path


def plan_file(folder: Path, old: str = "", new: str = "") -> Path:
    text = PLAN.replace("WANTED", "4")
    assert old in text
    path = folder / "plan.toml"
    path.write_text(text.replace(old, new), encoding="utf-8")
    return path


def test_the_same_plan_gives_the_same_entries(tmp_path: Path) -> None:
    filled_in = a_day_of_takings(sale().plan)
    book = put(sale(), filled_in, tmp_path / "sale.xlsx")
    renewed = renew(book, plan=None, today=TODAY)
    before, after = read_book(book), read_book(tmp_path / "sale-renewed.xlsx")
    assert renewed.path == tmp_path / "sale-renewed.xlsx"
    assert (before.entries, before.plan, "abc") == (after.entries, after.plan, after.sale_id)


def test_a_changed_price_is_in_the_fresh_book(tmp_path: Path) -> None:
    book = put(sale(), Entries(lines=(line(1, piece=FIRST),)), tmp_path / "sale.xlsx")
    renewed = renew(book, plan=plan_file(tmp_path, "price = 28", "price = 31"), today=TODAY)
    after = read_book(renewed.path)
    assert (Decimal(31), ()) == (after.plan.wares[0].price, renewed.questions)
    assert ([Decimal(28)], 1) == ([one.amount for one in after.entries.lines], renewed.lines_typed)


def test_while_a_line_of_a_changed_price_needs_a_look_nothing_is_renewed(tmp_path: Path) -> None:
    lines = (line(1, piece="MAY-002"), line(2, piece=FIRST, group="Nobody"))
    book = put(sale(), Entries(lines=lines), tmp_path / "sale.xlsx")
    plan = plan_file(tmp_path, "price = 28", "price = 31")
    row = next(row for one, row in read_book(book).rows.items() if one.number == 2)
    with pytest.raises(WrongUseError, match=f"mend them first(?s:.*)Takings, row {row}: no such group"):
        renew(book, plan=plan, today=TODAY)
    assert {book, plan} == set(tmp_path.iterdir())


@pytest.mark.slow
def test_what_was_agreed_stands_in_every_book_after_a_change_of_prices(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = (
        line(1, "deposit", FIRST, "10", claim="7"),
        line(2, "order", "MAY", count=2, claim="9"),
        line(3, "deposit", SECOND, "1", claim="8"),
    )
    claims = tuple(Claim(claim=number) for number in ("7", "8", "9"))
    book = put(sale(), Entries(lines=lines, claims=claims), tmp_path / "sale.xlsx")
    plan = plan_file(tmp_path, "price = 28", "price = 31")
    assert main(["renew", str(book), "--plan", str(plan)]) == 0
    said = capsys.readouterr().out
    assert "MAY-001 keeps the price that was agreed: £28.00." in said
    assert "MAY, ordered on line 2, keeps the price that was agreed: £28.00 for each." in said
    dearer = plan_file(tmp_path, "price = 28", "price = 40")
    again = renew(tmp_path / "sale-renewed.xlsx", plan=dearer, today=TODAY)
    assert again.agreed == ()
    join = ["join", str(again.path), "-o", str(tmp_path / "all.xlsx"), "--plan", str(dearer)]
    assert main(join) == 0
    owed = [recalculated_owed(path) for path in (again.path, tmp_path / "all.xlsx")]
    assert [[18, 17, 56]] * 2 == owed


def recalculated_owed(path: Path) -> list[object]:
    """Return what each claim still owes as LibreOffice works it out."""
    book = recalculated_by_libreoffice({"book": without_stored_results(path.read_bytes())})["book"]
    assert differences(path.read_bytes(), values_of(book)) == []
    sheet = load_workbook(io.BytesIO(book), data_only=True)["Hand over"]
    rows = sheet.iter_rows(min_col=1, max_col=10, values_only=True)
    return [row[9] for row in rows if row[0] == "claims" and row[1]]


@pytest.mark.slow
def test_other_money_is_asked_about(tmp_path: Path) -> None:
    book = put(sale(), Entries(lines=(line(1, "donation", amount="5"),)), tmp_path / "sale.xlsx")
    plan = plan_file(tmp_path, "days = [", 'currency = "EUR"\ndays = [')
    (question,) = renew(book, plan=plan, today=TODAY).questions
    assert question.says == "the money is EUR now and was GBP: each amount stands as it was typed"


@pytest.mark.slow
def test_what_the_plan_has_no_place_for_is_kept_and_asked_about(tmp_path: Path) -> None:
    filled_in = Entries(
        lines=(line(1, piece="DOT", count=2), line(2, piece=FIRST)),
        pieces={FIRST: PieceEntry(reserved_for="7")},
        made={"DOT": 28},
        studio={"DOT": StudioCount(thrown=30)},
        table_counts=(TableCount(day=FIRST_DAY, code="DOT", counted=26),),
        actual_costs={"overhead: hall": Decimal(4)},
        actual_fees={"card": Decimal(1)},
    )
    book = put(sale(), filled_in, tmp_path / "sale.xlsx")
    plan = plan_file(tmp_path, '[[wares]]\ncode = "DOT"', '[[wares]]\ncode = "TWIG"')
    renewed = renew(book, plan=plan, today=TODAY)
    after = read_book(renewed.path)
    assert [Decimal(3), None] == [one.amount for one in after.entries.lines]
    kept = (
        Unplaced(sheet="Pieces", says="DOT: 28 out of the kiln"),
        Unplaced(sheet="Making", says="DOT: thrown 30"),
        Unplaced(sheet="Cash-up", says="2027-06-19, DOT: 26"),
    )
    assert kept == after.entries.unplaced
    asked = [question.says for question in renewed.questions if question.sheet == "Start here"]
    assert ["no place for it" in says for says in asked] == [True] * len(kept)
    again = renew(renewed.path, plan=None, today=TODAY)
    assert kept == read_book(again.path).entries.unplaced


@pytest.mark.slow
def test_an_amount_in_words_is_still_there_in_words(tmp_path: Path) -> None:
    told = replace(line(1, piece=FIRST, amount="0"), unread=(("amount", "eighteen"),))
    book = put(sale(), Entries(lines=(told,)), tmp_path / "sale.xlsx")
    renewed = renew(book, plan=None, today=TODAY)
    assert (told,) == read_book(renewed.path).entries.lines
    assert ["the amount is not a number"] == [question.says for question in renewed.questions]


@pytest.mark.slow
def test_errors_and_uncalculated_formulas_in_lines_are_asked_about_and_recalculate_alike(
    tmp_path: Path,
) -> None:
    def spoil(workbook: Any) -> None:
        for number, key in enumerate(("piece", "way", "group", "claim", "amount"), start=1):
            typed(workbook, number, {key: "=5+2.5" if number % 2 else "#N/A"})

    (tmp_path / "sale.xlsx").write_bytes(bent(spoil))
    renewed = renew(tmp_path / "sale.xlsx", plan=None, today=TODAY)
    asked = ("shows the error", "never calculated")
    assert sum(says in one.says for one in renewed.questions for says in asked) == 5
    book = renewed.path.read_bytes()
    again = recalculated_by_libreoffice({"sale": without_stored_results(book)})
    assert differences(book, values_of(again["sale"])) == []


@pytest.mark.slow
def test_a_count_of_the_studio_in_words_is_kept_on_start_here(tmp_path: Path) -> None:
    def spoil(workbook: Any) -> None:
        sheet = workbook["Making"]
        key = next(cell for row in sheet.iter_rows() for cell in row if cell.value == "[studio]")
        column = next(cell.column for cell in sheet[key.row] if cell.value == "thrown")
        row = next(row for row in range(key.row + 1, key.row + 9) if sheet.cell(row, 1).value == "studio")
        sheet.cell(row, column).value = "ca 5"

    (tmp_path / "sale.xlsx").write_bytes(bent(spoil))
    renewed = renew(tmp_path / "sale.xlsx", plan=None, today=TODAY)
    (kept,) = read_book(renewed.path).entries.unplaced
    assert (kept.sheet, kept.says.partition(", ")[2]) == ("Making", "thrown: ca 5")


def test_the_command_says_which_book_to_use_and_what_it_typed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = put(sale(), Entries(lines=(line(1, piece=FIRST),)), tmp_path / "sale.xlsx")
    plan = plan_file(tmp_path, "price = 28", "price = 31")
    assert main(["renew", str(book), "--plan", str(plan)]) == 0
    said = capsys.readouterr().out
    words = (
        "typed in now, so that what was taken stays as it was: 1.",
        "From now on use",
        "may show old prices",
    )
    assert all(part in said for part in words)


@pytest.mark.slow
def test_a_book_that_stands_there_already_is_kept_under_the_date(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("salebook.jobs.renew.new_book_id", lambda: "K4C4C")
    book = put(sale(), Entries(), tmp_path / "sale.xlsx")
    renew(book, plan=None, today=TODAY)
    again = renew(book, plan=None, today=TODAY)
    assert again.kept_copy == tmp_path / "sale-renewed-2027-06-21.xlsx"
    assert again.kept_copy.read_bytes() == again.path.read_bytes()


def test_a_book_open_in_a_spreadsheet_program_is_left_alone(tmp_path: Path) -> None:
    book = put(sale(), Entries(), tmp_path / "sale.xlsx")
    for name in (".~lock.sale.xlsx#", "~$sale.xlsx", ".~lock.sale-renewed.xlsx#"):
        mark = tmp_path / name
        mark.touch()
        with pytest.raises(FileError, match="open in a spreadsheet program"):
            renew(book, plan=None, today=TODAY)
        mark.unlink()
        assert [book] == list(tmp_path.iterdir())


def test_the_command_exits_with_3_while_rows_need_a_person(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = put(sale(), Entries(lines=(line(1, piece="MAY-900"),)), tmp_path / "sale.xlsx")
    assert main(["renew", str(book)]) == 3
    assert "unknown: write as in" in capsys.readouterr().err
    assert main(["check", str(book)]) == 3
    assert "unknown: write as in" in capsys.readouterr().out


def test_price_and_make_take_a_workbook(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    book = put(sale(), Entries(), tmp_path / "sale.xlsx")
    assert main(["price", str(plan_file(tmp_path)), "--json"]) == 0
    from_plan = json.loads(capsys.readouterr().out)
    assert main(["price", str(book), "--json"]) == 0
    from_book = json.loads(capsys.readouterr().out)
    assert from_plan == {key: value for key, value in from_book.items() if key != "now"}
    assert from_plan["target"]["chance"] == from_book["now"]["figures"]["chance"]
