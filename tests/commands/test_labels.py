"""`salebook labels`, and the labels of a pack."""

from collections.abc import Callable
from pathlib import Path

import pytest

from salebook.cli import main
from tests.support.command_line import FIRST, SOUND, run_salebook
from tests.support.programs import needs_weasyprint


class TestLabels:
    @pytest.mark.slow
    def test_labels_go_into_a_file_and_remarks_to_standard_error(self, plan: Callable[..., Path]) -> None:
        measures = 'columns = 1\nrows = 1\nwidth = "20 mm"\nheight = "12 mm"\nleft = "2 mm"\n'
        path = plan()
        text = f'{SOUND}\n[labels]\npage = "A4"\n{measures}top = "9 mm"\nacross = "20 mm"\ndown = "12 mm"\n'
        path.write_text(text, encoding="utf-8")
        file = path.parent / "some.html"
        run = run_salebook("labels", path, "--only", "MUG-3", "-o", file)
        assert (run.returncode, run.stdout) == (0, f"Made {file}\n")
        assert "paper's edge" in run.stderr
        assert "too small for a code" in run.stderr
        assert "MUG-003" in file.read_text(encoding="utf-8")

    def test_labels_go_to_standard_output_from_standard_input(self) -> None:
        run = run_salebook("labels", "-", "-o", "-", "--outline", stdin=SOUND)
        assert (run.returncode, run.stderr) == (0, "")
        assert run.stdout.startswith("<!DOCTYPE html>")

    @pytest.mark.parametrize(
        ("arguments", "says"),
        [
            (("--only", "MUG-999"), "There is no piece MUG-999; the nearest is MUG-0"),
            (("--skip", "21"), "expected 0 to 20"),
            (("--nudge", "900,0"), "off the page"),
            (("--nudge", "-x"), "expected two numbers in mm"),
            (("--tags", "--outline"), "sheets of labels"),
            (("--made",), "name the sale's workbook"),
            (("--addresses",), "a plan does not know whom to send anything"),
            (("--addresses", "--made"), "--addresses goes together with"),
        ],
    )
    def test_what_cannot_be_printed_is_named_and_leaves_no_file(
        self, arguments: tuple[str, ...], says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        file = tmp_path / "labels.html"
        assert main(["labels", str(FIRST), *arguments, "-o", str(file)]) == 2
        out, err = capsys.readouterr()
        assert (out, says in err) == ("", True)
        assert not file.exists()

    @pytest.mark.parametrize(
        ("arguments", "says"),
        [
            (("-o", "x.html", "--pdf"), "x.html: expected a name that ends in .pdf"),
            (("-o", "sale.xlsx"), "sale.xlsx: expected a name that ends in .html or .pdf"),
            (("-o", "-", "--only", ""), "No numbers to print"),
            (("-o", "-", "--claim-slips", "--skip", "2"), "tags are cut from plain card"),
        ],
    )
    def test_an_odd_wish_is_named(
        self, arguments: tuple[str, ...], says: str, capsys: pytest.CaptureFixture[str]
    ) -> None:
        assert main(["labels", str(FIRST), *arguments]) == 2
        assert says in capsys.readouterr().err

    def test_claim_slips_come_on_tags(self, tmp_path: Path) -> None:
        file = tmp_path / "slips.html"
        assert main(["labels", str(FIRST), "--claim-slips", "-o", str(file)]) == 0
        text = file.read_text(encoding="utf-8")
        assert text.count('<div class="slip">') == text.count('<div class="stub">') == 20

    def test_a_pack_warns_of_labels_at_the_papers_edge(
        self, tmp_path: Path, capsys: pytest.CaptureFixture[str]
    ) -> None:
        measures = 'columns = 1\nrows = 1\nwidth = "60 mm"\nheight = "30 mm"\nleft = "2 mm"\n'
        plan = tmp_path / "plan.toml"
        text = f'{SOUND}\n[labels]\npage = "A4"\n{measures}top = "9 mm"\nacross = "60 mm"\ndown = "30 mm"\n'
        plan.write_text(text, encoding="utf-8")
        assert main(["make", str(plan), "-o", str(tmp_path / "pack")]) == 0
        assert "Labels come within 2.0 mm of the paper's edge" in capsys.readouterr().err

    @pytest.mark.slow
    def test_a_fault_in_an_own_template_is_named_with_file_and_line(self, tmp_path: Path) -> None:
        template = tmp_path / "label.html"
        template.write_text("\n{{ label.nmae }}\n{% if %}", encoding="utf-8")
        run = run_salebook("labels", FIRST, "--templates", tmp_path, "-o", "-")
        assert (run.returncode, run.stdout) == (2, "")
        assert run.stderr.startswith(f"{template}:3: fault in the template: ")

    @pytest.mark.slow
    def test_an_own_template_changes_the_pack(self, tmp_path: Path) -> None:
        own = tmp_path / "own"
        own.mkdir()
        (own / "poster.html").write_text("<p>{{ sale.title }}, and cake</p>", encoding="utf-8")
        run = run_salebook("make", FIRST, "-o", tmp_path / "pack", "--templates", own)
        assert run.returncode == 0
        assert (tmp_path / "pack" / "poster.html").read_text(encoding="utf-8") == (
            "<p>Spring shed sale, and cake</p>"
        )

    @needs_weasyprint
    def test_a_pack_can_hold_every_print_as_pdf(self, tmp_path: Path) -> None:
        run = run_salebook("make", FIRST, "-o", tmp_path, "--pdf")
        assert run.returncode == 0
        pages, pdfs = ({path.stem for path in tmp_path.glob(f"*.{kind}")} for kind in ("html", "pdf"))
        assert pages == pdfs != set()

    @pytest.mark.slow
    def test_without_weasyprint_nothing_is_written(self, tmp_path: Path) -> None:
        (tmp_path / "weasyprint.py").write_text("raise ImportError", encoding="utf-8")
        file = tmp_path / "labels.pdf"
        run = run_salebook("labels", FIRST, "--pdf", "-o", file, PYTHONPATH=str(tmp_path))
        assert (run.returncode, run.stdout) == (1, "")
        assert run.stderr == "PDF needs WeasyPrint: .venv/bin/pip install '.[pdf]' in salebook's folder\n"
        assert not file.exists()
