"""`salebook report`: the accounts of a filled-in workbook."""

import io
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.comments import Comment

from salebook.book.write import book_bytes
from salebook.cli import main
from salebook.event.entries import Claim, Entries, PieceEntry
from salebook.event.event import reckon_event
from salebook.event.report import Report, report_of
from salebook.jobs.report_json import report_json
from salebook.prints.after.pack import prints_after
from tests.support.cells import file_of, parts_of, sheet_parts
from tests.support.finished_sale import accounts
from tests.support.print_sales import made
from tests.support.programs import needs_libreoffice, needs_weasyprint
from tests.support.proof import recalculated_by_libreoffice, values_of
from tests.support.sale_strategies import wrong_figures
from tests.support.small_event import FIRST, FIRST_DAY, SECOND, line, sale

Capture = pytest.CaptureFixture[str]
MARKS = ("zebrowski", "960777", "quagga")
MARK = "Zebrowski 01632 960777 quagga"
LEFT_ALONE = frozenset({"counted_by", "checked_by", "done", "spent_on"})


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    book = tmp_path_factory.mktemp("sound") / "sale.xlsx"
    book.write_bytes(book_bytes(sale(), accounts().event))
    return book


@pytest.fixture(scope="module")
def doubtful(tmp_path_factory: pytest.TempPathFactory) -> Path:
    book = tmp_path_factory.mktemp("doubtful") / "sale.xlsx"
    lines = (line(1, piece=FIRST), line(2, piece="MAY-900"), line(3, piece=FIRST))
    book.write_bytes(book_bytes(sale(), reckon_event(sale(), Entries(lines=lines))))
    return book


class TestFinal:
    def test_everything_is_made_and_named(self, sound: Path, tmp_path: Path, capsys: Capture) -> None:
        assert main(["report", str(sound), "-o", str(tmp_path / "accounts")]) == 0
        shown = capsys.readouterr()
        lines = shown.out.splitlines()
        made = [Path(said.removeprefix("Made ")) for said in lines if said.startswith("Made ")]
        assert (lines[0], shown.err) == (
            "£120.75 came in. £8.60 comes off for costs, fees and givers' parts.",
            "",
        )
        assert sorted(made) == sorted((tmp_path / "accounts").iterdir())
        assert {"statement.html", "statement.csv", "collection.html"} <= {path.name for path in made}

    def test_json_is_one_object_and_needs_no_folder(self, sound: Path, capsys: Capture) -> None:
        assert main(["report", str(sound), "--json"]) == 0
        shown = capsys.readouterr()
        answer = json.loads(shown.out)
        assert shown.err == ""
        assert list(answer) == [
            *("currency", "final", "status", "takings", "fees", "costs_met_by_sale", "to_givers", "pool"),
            *("costs", "share_out", "pieces", "stock", "to_collect", "to_send", "cash_up", "bank", "target"),
            "fingerprint",
            *("questions", "notes"),
        ]
        assert (answer["final"], answer["pool"]) == (True, "110.15")

    def test_json_and_a_folder_go_together(self, sound: Path, tmp_path: Path, capsys: Capture) -> None:
        assert main(["report", str(sound), "--json", "-o", str(tmp_path / "accounts")]) == 0
        assert json.loads(capsys.readouterr().out)["currency"] == "GBP"
        assert (tmp_path / "accounts" / "statement.html").is_file()

    def test_final_asks_for_no_more_where_nothing_needs_a_look(self, sound: Path, tmp_path: Path) -> None:
        assert main(["report", str(sound), "-o", str(tmp_path), "--final"]) == 0

    @pytest.mark.parametrize(
        ("options", "day"), [(["--today", "2027-07-01"], "1 July 2027"), ([], f"{date.today().year}")]
    )
    def test_letters_carry_the_day_that_is_given_or_the_computers(
        self, options: list[str], day: str, sound: Path, tmp_path: Path
    ) -> None:
        assert main(["report", str(sound), "-o", str(tmp_path), *options]) == 0
        dated = [*tmp_path.glob("letter-*.html"), *tmp_path.glob("thanks-*"), tmp_path / "statement.html"]
        assert len(dated) == 4
        assert [path.name for path in dated if day not in path.read_text(encoding="utf-8")] == []

    def test_what_was_typed_loosely_is_told(self, sound: Path, tmp_path: Path, capsys: Capture) -> None:
        workbook = load_workbook(sound)
        sheet = workbook["Takings"]
        (row,) = (row for row in range(1, sheet.max_row) if sheet.cell(row, 2).value == 5)
        sheet.cell(row, 7).value = "£71.25"
        workbook.save(tmp_path / "sale.xlsx")
        assert main(["report", str(tmp_path / "sale.xlsx"), "--json"]) == 0
        (note,) = json.loads(capsys.readouterr().out)["notes"]
        assert note == {
            "sheet": "Takings",
            "row": row,
            "says": "the amount is text, and read as a number",
            "book": "",
        }
        assert main(["report", str(tmp_path / "sale.xlsx"), "-o", str(tmp_path / "out")]) == 0
        assert f"Takings, row {row}: the amount is text" in capsys.readouterr().out

    def test_an_evening_is_one_page_and_nothing_else(
        self, sound: Path, tmp_path: Path, capsys: Capture
    ) -> None:
        out = tmp_path / "evenings"
        assert main(["report", str(sound), "-o", str(out), "--evening", "2027-06-19"]) == 0
        assert [path.name for path in out.iterdir()] == ["evening-2027-06-19.html"]
        assert capsys.readouterr().out == f"Made {out / 'evening-2027-06-19.html'}\n"

    @pytest.mark.parametrize(
        ("options", "says"),
        [
            (["--evening", "2027-06-19", "--final", "-o", "out"], "does not go together with --final"),
            (["--evening", "2027-06-19", "--json"], "does not go together with --json"),
            (["--evening", "2027-06-19", "--up-to", "2027-06-19", "-o", "out"], "together with --up-to"),
            (["--evening", "2027-06-19", "--hours", "-o", "out"], "together with --hours"),
            (["--evening", "2027-06-19"], "needs '-o'"),
            (["--evening", "2027-06-22", "-o", "out"], "no line of takings is of 22 June 2027"),
        ],
    )
    def test_what_an_evening_cannot_be_is_said(
        self, sound: Path, options: list[str], says: str, capsys: Capture, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.chdir(sound.parent)
        assert main(["report", str(sound), *options]) == 2
        assert says in " ".join(capsys.readouterr().err.split())

    def test_hours_are_on_the_statement_only_where_asked_for(self, sound: Path, tmp_path: Path) -> None:
        texts = []
        for options in ([], ["--hours"]):
            assert main(["report", str(sound), "-o", str(tmp_path), *options]) == 0
            texts.append((tmp_path / "statement.html").read_text(encoding="utf-8"))
        assert ["work" in text for text in texts] == [False, True]

    def test_a_persons_own_templates_come_first(self, sound: Path, tmp_path: Path) -> None:
        (tmp_path / "statement.html").write_text("{{ share_out.takings|figure }} came in", encoding="utf-8")
        options = ["-o", str(tmp_path / "out"), "--templates", str(tmp_path)]
        assert main(["report", str(sound), *options]) == 0
        assert (tmp_path / "out" / "statement.html").read_text(encoding="utf-8") == "120.75 came in"

    @needs_weasyprint
    def test_every_print_comes_as_pdf_too(self, sound: Path, tmp_path: Path) -> None:
        assert main(["report", str(sound), "-o", str(tmp_path), "--pdf"]) == 0
        pages = {path.stem for path in tmp_path.glob("*.html")}
        assert pages - {"check"} == {path.stem for path in tmp_path.glob("*.pdf")}
        assert {path.read_bytes()[:5] for path in tmp_path.glob("*.pdf")} == {b"%PDF-"}

    def test_the_book_gives_the_same_accounts_as_what_was_filled_in(
        self, sound: Path, capsys: Capture
    ) -> None:
        assert main(["report", str(sound), "--json"]) == 0
        assert json.loads(capsys.readouterr().out) == report_json(accounts())


class TestNotFinal:
    def test_all_is_made_and_the_lines_are_named(
        self, doubtful: Path, tmp_path: Path, capsys: Capture
    ) -> None:
        assert main(["report", str(doubtful), "-o", str(tmp_path)]) == 3
        shown = capsys.readouterr()
        assert "Not final: 2 lines need a look." in shown.err
        assert "line 2: unknown: write as in MAY-001" in shown.err
        assert "line 3: sold twice" in shown.err
        assert ",not final," in (tmp_path / "lines.csv").read_text(encoding="utf-8")
        for path in set(tmp_path.iterdir()) - {tmp_path / "lines.csv", tmp_path / "check.html"}:
            assert "Not final: 2 lines need a look." in path.read_text(encoding="utf-8")

    def test_the_row_is_the_sheets_own(self, doubtful: Path, capsys: Capture) -> None:
        assert main(["report", str(doubtful), "--json"]) == 3
        answer = json.loads(capsys.readouterr().out)
        sheet = load_workbook(doubtful)["Takings"]
        rows = [question["row"] for question in answer["questions"]]
        assert answer["final"] is False
        assert [sheet.cell(row, 2).value for row in rows] == [2, 3]

    def test_final_refuses_and_writes_nothing(self, doubtful: Path, tmp_path: Path, capsys: Capture) -> None:
        assert main(["report", str(doubtful), "-o", str(tmp_path / "accounts"), "--final"]) == 3
        shown = capsys.readouterr()
        assert shown.out == ""
        assert "line 2: unknown: write as in MAY-001" in shown.err
        assert "Nothing was written" in shown.err
        assert not (tmp_path / "accounts").exists()

    def test_a_sum_that_the_sheet_shows_otherwise_is_a_question(
        self, sound: Path, tmp_path: Path, capsys: Capture
    ) -> None:
        book = tmp_path / "sale.xlsx"
        book.write_bytes(with_another_pool(sound.read_bytes()))
        assert main(["report", str(book), "--json"]) == 3
        (question,) = json.loads(capsys.readouterr().out)["questions"]
        assert question["says"] == "Money to share: the sheet shows £999.00, the lines add up to £110.15"


def with_another_pool(book: bytes) -> bytes:
    """Return the workbook with another stored result for the money to share."""
    sheet, cell = place_of(book, "pool")
    parts = parts_of(book)
    part = sheet_parts(parts)[sheet]
    stored = re.compile(rf'(<c r="{cell}"[^>]*><f>[^<]*</f><v>)[^<]*(</v>)'.encode())
    parts[part], count = stored.subn(rb"\g<1>999\g<2>", parts[part])
    assert count == 1
    return file_of(parts)


def place_of(book: bytes, name: str) -> tuple[str, str]:
    """Return the sheet and the first cell that a name stands for."""
    sheet, cells = load_workbook(io.BytesIO(book)).defined_names[name].attr_text.rsplit("!", 1)
    return sheet.strip("'"), cells.replace("$", "").split(":")[0]


class TestInterim:
    def test_later_days_are_left_out(self, sound: Path, capsys: Capture) -> None:
        assert main(["report", str(sound), "--json", "--up-to", "2027-06-19"]) == 0
        answer = json.loads(capsys.readouterr().out)
        assert list(answer["takings"]["by_day"]) == ["2027-06-19"]
        assert [box["day"] for box in answer["cash_up"]] == ["2027-06-19"]
        assert answer["final"] is False

    def test_no_names_are_printed(self, sound: Path, tmp_path: Path) -> None:
        assert main(["report", str(sound), "-o", str(tmp_path), "--up-to", "2027-06-19"]) == 0
        assert not (tmp_path / "collection.html").exists()


class TestForget:
    def test_a_copy_without_people_is_written_and_the_book_stays(
        self, sound: Path, tmp_path: Path, capsys: Capture
    ) -> None:
        before = sound.read_bytes()
        for _time in range(2):
            assert main(["report", str(sound), "-o", str(tmp_path), "--forget"]) == 0
        assert f"\n  {sound}\n" in capsys.readouterr().err
        assert sound.read_bytes() == before
        copies = {"sale-without-people.xlsx", "sale-without-people-2.xlsx"}
        assert {path.name for path in tmp_path.glob("*.xlsx")} == copies
        assert not (tmp_path / "collection.html").exists()
        assert main(["report", str(tmp_path / "sale-without-people.xlsx"), "--json"]) == 0

    def test_what_is_open_is_said_before_the_names_are_left_out(
        self, sound: Path, tmp_path: Path, capsys: Capture
    ) -> None:
        main(["report", str(sound), "-o", str(tmp_path), "--forget"])
        told = capsys.readouterr().err.splitlines()
        assert told[:3] == [
            "Not handed over yet: 1 to fetch, 1 to send.",
            "2 of them still owe £19.00 together.",
            "£9.00 is promised and has not arrived.",
        ]

    def test_what_is_open_is_said_although_nothing_can_be_written(
        self, sound: Path, tmp_path: Path, capsys: Capture
    ) -> None:
        (tmp_path / "out").write_text("mine", encoding="utf-8")
        assert main(["report", str(sound), "-o", str(tmp_path / "out"), "--forget"]) == 1
        assert capsys.readouterr().err.startswith("Not handed over yet")

    def test_nothing_is_said_to_be_open_where_nothing_is(self, tmp_path: Path, capsys: Capture) -> None:
        book = tmp_path / "sale.xlsx"
        done = (Claim(claim="1", name="Wren Alder", how="collecting", done=True),)
        book.write_bytes(book_bytes(sale(), reckon_event(sale(), Entries(claims=done))))
        assert main(["report", str(book), "-o", str(tmp_path / "accounts"), "--forget"]) == 0
        says = "Names from Hand over stand in these files; delete what you need no longer:"
        assert capsys.readouterr().err.splitlines() == [says, f"  {book}"]

    def test_a_list_with_names_that_lies_there_already_is_pointed_at(
        self, sound: Path, tmp_path: Path, capsys: Capture
    ) -> None:
        (tmp_path / "collection.html").write_text("<p>Ada Quill</p>", encoding="utf-8")
        assert main(["report", str(sound), "-o", str(tmp_path), "--forget", "--json"]) == 0
        shown = capsys.readouterr()
        assert str(tmp_path / "collection.html") in shown.err
        assert json.loads(shown.out)["final"] is True


class TestWrongUse:
    @pytest.mark.parametrize(
        ("options", "says"),
        [
            ([], "-o"),
            (["--json", "--forget"], "'--forget' needs '-o'"),
            (["-o", "x", "--final", "--up-to", "2027-06-19"], "--up-to"),
            (["-o", "x", "--up-to", "19 June"], "--up-to"),
        ],
    )
    def test_options_that_make_no_sense_are_named(
        self, options: list[str], says: str, sound: Path, capsys: Capture
    ) -> None:
        assert main(["report", str(sound), *options]) == 2
        shown = capsys.readouterr()
        assert shown.out == ""
        assert says in shown.err

    @pytest.mark.parametrize("name", ["nothing.xlsx", "plan.toml"])
    def test_a_file_that_is_no_workbook_is_said(self, name: str, tmp_path: Path, capsys: Capture) -> None:
        (tmp_path / "plan.toml").write_text("format = 1", encoding="utf-8")
        assert main(["report", str(tmp_path / name), "-o", str(tmp_path / "out")]) in {1, 2}
        shown = capsys.readouterr()
        assert shown.out == ""
        assert str(tmp_path / name) in shown.err
        assert not (tmp_path / "out").exists()

    def test_a_folder_that_is_a_file_is_said(self, sound: Path, tmp_path: Path, capsys: Capture) -> None:
        (tmp_path / "out").write_text("mine", encoding="utf-8")
        assert main(["report", str(sound), "-o", str(tmp_path / "out")]) == 1
        assert "this is a file, not a folder" in capsys.readouterr().err


@pytest.fixture(scope="module")
def marked(sound: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book full of marks."""
    return marked_copy(sound, tmp_path_factory.mktemp("marked"))


@pytest.fixture(scope="module")
def outputs(marked: Path) -> dict[str, str]:
    """All files of a report on a book that is full of marks, in small letters."""
    folder = marked.parent / "out"
    assert main(["report", str(marked), "-o", str(folder), "--hours"]) == 3
    return {path.name: path.read_text(encoding="utf-8").lower() for path in folder.iterdir()}


class TestPrivacy:
    """Names, telephone numbers and notes stand in no output but the list of what is to hand over."""

    def test_they_are_on_the_list_of_what_is_to_hand_over(self, outputs: dict[str, str]) -> None:
        assert [mark in outputs["collection.html"] for mark in MARKS] == [True, True, True]

    def test_they_are_in_no_other_file(self, outputs: dict[str, str]) -> None:
        others = {name: text for name, text in outputs.items() if name != "collection.html"}
        assert len(others) >= 6
        assert [(name, mark) for name, text in others.items() for mark in MARKS if mark in text] == []

    @pytest.mark.parametrize("options", [[], ["--up-to", "2027-06-19"]])
    def test_they_are_not_in_the_answer_or_on_the_terminal(
        self, options: list[str], marked: Path, capsys: Capture
    ) -> None:
        assert main(["report", str(marked), "--json", *options]) == 3
        shown = capsys.readouterr()
        text = (shown.out + shown.err).lower()
        assert [mark for mark in MARKS if mark in text] == []

    def test_they_are_in_no_other_print_where_they_stand_beside_what_counts(self) -> None:
        prints = made(prints_after, accounts_of(marked_entries()), today=FIRST_DAY)
        collection = prints.pop("collection.html").lower()
        text = "".join((*prints.values(), json.dumps(report_json(accounts_of(marked_entries()))))).lower()
        assert [mark in collection for mark in MARKS] == [True, True, True]
        assert [mark for mark in MARKS if mark in text] == []


def marked_entries() -> Entries:
    """Return what was filled in, a mark in each text that salebook takes as it is."""
    entries = accounts().event.entries
    return replace(
        entries,
        lines=tuple(replace(line, note=MARK, claim=MARK) for line in entries.lines),
        pieces={FIRST: PieceEntry(reserved_for=MARK), SECOND: PieceEntry(reserved_for=MARK)},
        banked=tuple(replace(banked, what=MARK) for banked in entries.banked),
        payments=tuple(replace(payment, reference=MARK) for payment in entries.payments),
        claims=tuple(Claim(claim=MARK, name=MARK, contact=MARK, what=MARK) for _claim in entries.claims),
    )


def accounts_of(entries: Entries) -> Report:
    return report_of(sale(), entries)


def marked_copy(book: Path, folder: Path) -> Path:
    """Return a copy with a name, a telephone number and a note in every empty cell that is to be filled in.

    They stand in the margins too: beside and below each table, and in comments. What the plan says, who
    counted the cash, and what was spent on, is left alone: those stand on prints on purpose. So is what is
    handed over, since that is on no list.
    """
    workbook = load_workbook(book)
    cells = [cell for sheet in workbook.worksheets for cell in (*_to_fill_in(sheet), *_margins(sheet))]
    assert len(cells) > 1000
    for cell in cells:
        cell.value = MARK
    for sheet in workbook.worksheets:
        sheet["B3"].comment = Comment(MARK, MARK)
    workbook.save(folder / "sale.xlsx")
    return folder / "sale.xlsx"


def _to_fill_in(sheet: Any) -> Iterator[Any]:
    left_alone: set[int] = set()
    for row in sheet.iter_rows() if sheet.title != "Plan" else ():
        if isinstance(row[0].value, str) and row[0].value.startswith("["):
            left_alone = {cell.column for cell in row if cell.value in LEFT_ALONE}
        for cell in row:
            if cell.value is None and not cell.protection.locked and cell.column not in left_alone:
                yield cell


def _margins(sheet: Any) -> Iterator[Any]:
    last_row, last_column = sheet.max_row, sheet.max_column
    rows = (row for row in range(1, last_row + 1) if not str(sheet.cell(row, 1).value).startswith("["))
    yield from (sheet.cell(row, last_column + 2) for row in rows)
    yield from (sheet.cell(last_row + 2, column) for column in range(2, last_column + 1))


@needs_libreoffice
def test_the_answer_agrees_with_the_sheets_after_recalculation() -> None:
    report = accounts()
    book = book_bytes(sale(), report.event)
    recalculated = values_of(recalculated_by_libreoffice({"sale": book})["sale"])
    assert wrong_figures(report, book, recalculated) == ""
