"""`make` and `demo`: what they put into a folder, and what they leave alone."""

from pathlib import Path
from zipfile import ZipFile

import pytest
from openpyxl import load_workbook
from openpyxl.cell.cell import Cell
from openpyxl.worksheet.worksheet import Worksheet

from salebook.cli import main
from salebook.plan.load import load_plan
from salebook.prints.before.pack import all_prints
from salebook.reckoning import reckon
from tests.support.command_line import FIRST, Capture, each_sample_file
from tests.support.print_sales import made


def plan_in(folder: Path, replaced: str, by: str) -> Path:
    """Write the first sample with some of its text replaced."""
    written = FIRST.read_text(encoding="utf-8")
    assert replaced in written
    path = folder / "plan.toml"
    path.write_text(written.replace(replaced, by, 1), encoding="utf-8")
    return path


class TestMake:
    @each_sample_file
    def test_every_sample_gives_a_workbook_and_prints(
        self, sample: Path, tmp_path: Path, capsys: Capture
    ) -> None:
        folder = tmp_path / "pack"
        assert main(["make", str(sample), "-o", str(folder)]) == 0
        shown = capsys.readouterr()
        assert shown.err == ""
        files = sorted(path.name for path in folder.iterdir())
        assert files == sorted(("sale.xlsx", "sale.ics", *made(all_prints, reckon(load_plan(sample)))))
        assert [name for name in files if str(folder / name) not in shown.out] == []
        assert "open it first" in shown.out.splitlines()[0]

    @pytest.mark.slow
    def test_the_same_plan_gives_the_same_files_but_for_the_books_ids(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setattr("salebook.jobs.make.new_book_id", lambda: "K4C4C")
        folders = (tmp_path / "one", tmp_path / "two")
        for folder in folders:
            assert main(["make", str(FIRST), "-o", str(folder)]) == 0
        one, two = (parts_of(folder) for folder in folders)
        assert len(one) > 10
        assert one == two

    def test_a_fresh_workbook_is_made_anew(self, tmp_path: Path) -> None:
        assert main(["make", str(FIRST), "-o", str(tmp_path)]) == 0
        before = (tmp_path / "sale.xlsx").read_bytes()
        assert main(["make", str(plan_in(tmp_path, "price = 16", "price = 18")), "-o", str(tmp_path)]) == 0
        assert (tmp_path / "sale.xlsx").read_bytes() != before

    @pytest.mark.slow
    def test_a_workbook_with_takings_in_it_stays(self, tmp_path: Path, capsys: Capture) -> None:
        assert main(["make", str(FIRST), "-o", str(tmp_path)]) == 0
        book = tmp_path / "sale.xlsx"
        workbook = load_workbook(book)
        first_input(workbook["Takings"]).value = "MUG-001"
        workbook.save(book)
        filled = book.read_bytes()
        capsys.readouterr()
        assert main(["make", str(FIRST), "-o", str(tmp_path)]) == 1
        shown = capsys.readouterr()
        assert shown.out == ""
        assert "--force" in shown.err
        assert book.read_bytes() == filled
        assert main(["make", str(FIRST), "-o", str(tmp_path), "--force"]) == 0
        (copy,) = tmp_path.glob("sale-*.xlsx")
        assert copy.read_bytes() == filled
        assert book.read_bytes() != filled

    def test_a_faulty_plan_makes_nothing(self, tmp_path: Path, capsys: Capture) -> None:
        folder = tmp_path / "pack"
        assert main(["make", str(plan_in(tmp_path, "wanted = 20", "wanted = -1")), "-o", str(folder)]) == 2
        assert "wanted" in capsys.readouterr().err
        assert not folder.exists()

    @pytest.mark.parametrize("place", ["plan.toml", "plan.toml/pack", "/proc/nowhere/pack"])
    def test_a_folder_that_cannot_be_written_is_said(
        self, place: str, tmp_path: Path, capsys: Capture
    ) -> None:
        path = plan_in(tmp_path, "price = 16", "price = 18")
        folder = path.parent / place
        assert main(["make", str(path), "-o", str(folder)]) == 1
        shown = capsys.readouterr()
        assert shown.out == ""
        assert shown.err.startswith(f"{folder}: ")
        assert shown.err.count("\n") == 1

    def test_the_folder_has_to_be_said(self, capsys: Capture) -> None:
        assert main(["make", str(FIRST)]) == 2
        assert "'-o' / '--out'" in capsys.readouterr().err


class TestDemo:
    @pytest.mark.slow
    def test_the_demo_comes_with_the_plan_it_was_made_from(self, tmp_path: Path, capsys: Capture) -> None:
        folder = tmp_path / "demo"
        assert main(["demo", str(folder)]) == 0
        shown = capsys.readouterr()
        assert shown.err == ""
        assert f"{folder / 'sale.xlsx'}: open it first" in shown.out
        assert main(["check", str(folder / "harbour-weekend.toml")]) == 0

    @pytest.mark.slow
    def test_a_plan_that_was_changed_in_the_demo_folder_stays(self, tmp_path: Path) -> None:
        mine = tmp_path / "harbour-weekend.toml"
        mine.write_text("mine", encoding="utf-8")
        assert main(["demo", str(tmp_path)]) == 0
        assert mine.read_text(encoding="utf-8") == "mine"


def parts_of(folder: Path) -> dict[str, bytes]:
    """Return the files of a pack, the workbook as the parts inside it."""
    with ZipFile(folder / "sale.xlsx") as book:
        parts = {name: book.read(name) for name in book.namelist()}
    return parts | {path.name: path.read_bytes() for path in folder.glob("*.html")}


def first_input(sheet: Worksheet) -> Cell:
    """Return the first cell of a sheet that is there to be filled in."""
    cells = (cell for row in sheet.iter_rows() for cell in row if isinstance(cell, Cell))
    return next(cell for cell in cells if not cell.protection.locked and cell.value is None)
