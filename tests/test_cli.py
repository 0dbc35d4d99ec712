"""The commands: what they print, where, and with which exit code."""

import io
import json
import os
import pty
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import click
import pytest

from salebook import __version__
from salebook.cli import commands, main
from tests.programs import needs_weasyprint

ROOT = Path(__file__).parent.parent
SAMPLES = sorted((ROOT / "sample_data").glob("*.toml"))
FIRST = ROOT / "sample_data" / "first-sale.toml"
SOUND = FIRST.read_text(encoding="utf-8")

Run = subprocess.CompletedProcess[str]
Capture = pytest.CaptureFixture[str]


def run_salebook(*arguments: str | Path, stdin: str | bytes = "", **environment: str) -> Run:
    """Run salebook as a program of its own."""
    given = stdin.encode() if isinstance(stdin, str) else stdin
    run = subprocess.run(
        [sys.executable, "-m", "salebook", *map(str, arguments)],
        input=given,
        capture_output=True,
        check=False,
        cwd=ROOT,
        env={**os.environ, "PYTHONIOENCODING": "utf-8", "PYTHONWARNINGS": "error", **environment},
    )
    out, err = run.stdout.decode(), run.stderr.decode()
    return subprocess.CompletedProcess(run.args, run.returncode, out, err)


@pytest.fixture
def plan(tmp_path: Path) -> Callable[..., Path]:
    """Return a function that writes the first sample with some of its text replaced."""

    def write(replaced: str = "", by: str = "") -> Path:
        assert replaced in SOUND
        path = tmp_path / "plan.toml"
        path.write_text(SOUND.replace(replaced, by, 1) if replaced else SOUND, encoding="utf-8")
        return path

    return write


class TestHelp:
    @pytest.mark.parametrize("name", sorted(commands.commands))
    def test_every_command_has_help_with_an_example(self, name: str, capsys: Capture) -> None:
        assert main([name, "--help"]) == 0
        shown = capsys.readouterr().out
        assert re.search(rf"Examples?:\n\s+salebook {name}\b", shown)

    @pytest.mark.parametrize("name", sorted(commands.commands))
    def test_every_option_of_a_command_is_explained(self, name: str) -> None:
        options = [each for each in commands.commands[name].params if isinstance(each, click.Option)]
        assert [option.name for option in options if not option.help] == []

    def test_the_help_names_every_command(self, capsys: Capture) -> None:
        assert main(["--help"]) == 0
        shown = capsys.readouterr().out
        assert [name for name in commands.commands if f"\n  {name} " not in shown] == []

    def test_the_version_is_the_packages(self, capsys: Capture) -> None:
        assert main(["--version"]) == 0
        assert capsys.readouterr().out == f"salebook {__version__}\n"


class TestWrongUse:
    @pytest.mark.parametrize(
        ("arguments", "says"),
        [
            (["pric"], "'pric'"),
            (["price"], "'PLAN'"),
            (["check"], "'FILE...'"),
            (["price", "--jsno", "x"], "--jsno"),
            (["price", "x", "y"], "y"),
        ],
    )
    def test_wrong_use_says_what_is_wrong_and_exits_with_2(
        self, arguments: list[str], says: str, capsys: Capture
    ) -> None:
        assert main(arguments) == 2
        shown = capsys.readouterr()
        assert shown.out == ""
        assert says in shown.err
        assert "--help" in shown.err


class TestCheck:
    @pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.name)
    def test_every_sample_is_sound(self, sample: Path, capsys: Capture) -> None:
        assert main(["check", str(sample)]) == 0
        shown = capsys.readouterr()
        assert shown.out.splitlines()[0] == f"{sample}: sound"
        assert shown.err == ""

    def test_a_sound_plan_comes_with_what_to_mind(self, capsys: Capture) -> None:
        assert main(["check", str(FIRST)]) == 0
        said = capsys.readouterr().out
        assert "\n  to mind: How many would sell at each price is not said for Mug" in said
        assert "\n  assumed: wares → MUG → losses: 3 % in throwing" in said

    def test_all_faults_are_listed_with_the_file(self, plan: Callable[..., Path], capsys: Capture) -> None:
        faulty = plan('code = "MUG"\nname = "Mug"\nwanted = 20', 'code = "mug"\nname = "Mug"\nwantd = 20')
        assert main(["check", str(faulty)]) == 2
        lines = capsys.readouterr().out.splitlines()
        assert len(lines) == 2
        assert [line for line in lines if not line.startswith(f"{faulty}: ")] == []
        assert any("wantd" in line and "wanted" in line for line in lines)

    def test_several_files_are_all_looked_at(self, plan: Callable[..., Path], capsys: Capture) -> None:
        faulty = plan("wanted = 20", "wanted = -1")
        missing = faulty.with_name("missing.toml")
        assert main(["check", str(missing), str(faulty), str(FIRST)]) == 2
        shown = capsys.readouterr()
        assert f"{missing}: there is no such file" in shown.err
        assert f"{faulty}: " in shown.out
        assert f"{FIRST}: sound" in shown.out

    def test_a_plan_may_come_from_standard_input(
        self, monkeypatch: pytest.MonkeyPatch, capsys: Capture
    ) -> None:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(SOUND.encode())))
        assert main(["check", "-"]) == 0
        assert capsys.readouterr().out.splitlines()[0] == "standard input: sound"

    def test_json_is_one_object_with_every_fault(self, plan: Callable[..., Path], capsys: Capture) -> None:
        faulty = plan("wanted = 20", "wanted = -1")
        assert main(["check", str(faulty), str(FIRST), "--json"]) == 2
        shown = capsys.readouterr()
        first, second = json.loads(shown.out)["files"]
        assert shown.err == ""
        assert (first["file"], first["sound"], second["sound"]) == (str(faulty), False, True)
        assert [sorted(fault) for fault in first["faults"]] == [["expected", "found", "hint", "place"]]
        assert "wanted" in first["faults"][0]["place"]
        assert second["faults"] == []
        assert second["warnings"] != []

    def test_check_changes_nothing(self, plan: Callable[..., Path], capsys: Capture) -> None:
        path = plan()
        before = (path.read_bytes(), path.stat().st_mtime_ns, list(path.parent.iterdir()))
        assert main(["check", str(path)]) == 0
        assert capsys.readouterr().err == ""
        assert (path.read_bytes(), path.stat().st_mtime_ns, list(path.parent.iterdir())) == before


class TestPrice:
    @pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.name)
    def test_every_sample_is_priced_in_sentences_then_tables(self, sample: Path, capsys: Capture) -> None:
        assert main(["price", str(sample)]) == 0
        shown = capsys.readouterr()
        assert shown.err == ""
        places = [shown.out.find(text) for text in ("you can expect about", "At other prices", "To mind")]
        assert -1 not in places
        assert places == sorted(places)

    def test_the_answer_holds_the_keys_that_are_promised(self, capsys: Capture) -> None:
        assert main(["price", str(ROOT / "sample_data" / "harbour-weekend.toml"), "--json"]) == 0
        shown = capsys.readouterr()
        answer = json.loads(shown.out)
        assert shown.err == ""
        assert list(answer) == [
            *("currency", "wares", "clays", "firings", "days", "hours", "costs"),
            *("break_even", "target", "ladder", "share_out", "assumed", "warnings"),
        ]
        assert answer["currency"] == "GBP"
        assert answer["target"]["amount"] == "1800.00"
        assert [rung["change"] for rung in answer["ladder"]] == list(range(-30, 61, 5))

    def test_a_faulty_plan_is_told_on_standard_error_alone(
        self, plan: Callable[..., Path], capsys: Capture
    ) -> None:
        assert main(["price", str(plan("price = 16", "price = -16")), "--json"]) == 2
        shown = capsys.readouterr()
        assert shown.out == ""
        assert "price" in shown.err

    def test_too_late_is_the_first_thing_said(self, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--today", "2027-04-20"]) == 0
        title, empty, first, *_rest = capsys.readouterr().out.splitlines()
        assert (title, empty) == ("Spring shed sale", "")
        assert first.startswith("TOO LATE by 7 days")

    def test_the_days_are_answered_from_the_day_that_is_named(self, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--today", "2027-04-03", "--json"]) == 0
        days = json.loads(capsys.readouterr().out)["days"]
        assert {key: value for key, value in days.items() if key != "plan"} == {
            "today": "2027-04-03",
            "sale_day": "2027-04-24",
            "begin_by": "2027-04-13",
            "last_day_to_throw": "2027-04-14",
            "first_firing": None,
            "last_firing": None,
            "days_in_hand": 10,
            "too_late": False,
            "instead": None,
        }
        assert days["plan"][0] == {
            "task": "throw",
            "firing": "",
            "loads": 0,
            "latest": ["2027-04-13", "2027-04-14"],
            "soonest": ["2027-04-03", "2027-04-04"],
        }

    def test_a_day_that_is_none_is_wrong_use(self, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--today", "2027-02-30"]) == 2
        assert "2027-02-30" in capsys.readouterr().err

    def test_a_piece_too_tall_for_the_kiln_is_told_with_the_file(
        self, tmp_path: Path, capsys: Capture
    ) -> None:
        full = (ROOT / "sample_data" / "harbour-weekend.toml").read_text(encoding="utf-8")
        path = tmp_path / "tall.toml"
        path.write_text(
            full.replace('made_height = "110 mm"', 'made_height = "1100 mm"', 1), encoding="utf-8"
        )
        assert main(["price", str(path)]) == 2
        assert capsys.readouterr().err.startswith(f"{path}: wares → MUG → made_height: found ")

    def test_what_would_help_is_reckoned_for_the_full_sample(self, capsys: Capture) -> None:
        assert main(["price", str(ROOT / "sample_data" / "harbour-weekend.toml")]) == 0
        shown = capsys.readouterr().out
        assert re.search(r"10 more of Pouring jug, .* \+£\d+\.\d\d +\d+%\n", shown)
        assert re.search(r"a target of £1,620\.00 +as before +\d+%", shown)

    def test_a_plan_from_standard_input_gives_the_same_answer(self, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--json"]) == 0
        assert run_salebook("price", "-", "--json", stdin=SOUND).stdout == capsys.readouterr().out

    @pytest.mark.parametrize(
        "name", ["=1+1", "+44 7700", "-5 off", "@shop", "[red]tea[/red]", "a :mug: b", "Ærø £ 茶"]
    )
    def test_names_are_shown_as_they_stand(
        self, name: str, plan: Callable[..., Path], capsys: Capture
    ) -> None:
        assert main(["price", str(plan("Quince Yard playground", name))]) == 0
        assert name in capsys.readouterr().out


class TestTerminal:
    def test_in_a_pipe_the_output_is_plain(self) -> None:
        assert "\x1b" not in run_salebook("price", FIRST, TERM="xterm-256color").stdout

    def test_on_a_terminal_the_output_has_colour(self) -> None:
        assert re.search("\x1b\\[3[0-9;]*m", on_a_terminal("price", str(FIRST)))

    def test_no_color_is_honoured(self) -> None:
        shown = on_a_terminal("price", str(FIRST), NO_COLOR="1")
        assert "At other prices" in shown
        assert re.search("\x1b\\[[34][0-9;]*m", shown) is None

    def test_a_narrow_terminal_still_gets_every_figure(self) -> None:
        run = run_salebook("price", FIRST, COLUMNS="40")
        assert "£264.00" in run.stdout

    def test_a_terminal_that_lacks_the_letters_gets_the_rest(self) -> None:
        run = run_salebook("price", FIRST, PYTHONIOENCODING="ascii")
        assert (run.returncode, run.stderr) == (0, "")
        assert "264.00" in run.stdout

    def test_no_text_of_a_plan_can_steer_the_terminal(self) -> None:
        run = run_salebook("check", "-", stdin='format = 1\n[sale]\ntitle = "a\\u001b[2Jb"\n')
        assert run.returncode == 2
        assert "\x1b" not in run.stdout + run.stderr


def on_a_terminal(*arguments: str, **environment: str) -> str:
    """Run salebook on a terminal and return what it writes there."""
    ours, theirs = pty.openpty()
    kept = {name: value for name, value in os.environ.items() if name not in {"NO_COLOR", "FORCE_COLOR"}}
    run = subprocess.Popen(
        [sys.executable, "-m", "salebook", *arguments],
        stdout=theirs,
        cwd=ROOT,
        env={**kept, "TERM": "xterm-256color", "COLUMNS": "100", "PYTHONIOENCODING": "utf-8", **environment},
    )
    os.close(theirs)
    written = b""
    try:
        while part := os.read(ours, 65536):
            written += part
    except OSError:  # Linux says so where the other end has closed
        pass
    os.close(ours)
    assert run.wait() == 0
    return written.decode()


class TestFilesThatCannotBeRead:
    """Exit 1 and one line that names the file."""

    def expect_trouble(self, path: Path, capsys: Capture) -> None:
        for command in ("check", "price"):
            assert main([command, str(path)]) == 1
            shown = capsys.readouterr()
            assert shown.out == ""
            assert shown.err.startswith(f"{path}: ")
            assert shown.err.count("\n") == 1

    def test_a_file_that_is_not_there(self, tmp_path: Path, capsys: Capture) -> None:
        self.expect_trouble(tmp_path / "plan.toml", capsys)

    def test_a_folder(self, tmp_path: Path, capsys: Capture) -> None:
        self.expect_trouble(tmp_path, capsys)

    def test_a_path_through_a_file(self, plan: Callable[..., Path], capsys: Capture) -> None:
        self.expect_trouble(plan() / "inside.toml", capsys)

    def test_a_name_that_is_too_long(self, tmp_path: Path, capsys: Capture) -> None:
        self.expect_trouble(tmp_path / ("x" * 4000), capsys)

    def test_a_file_without_rights(self, plan: Callable[..., Path], capsys: Capture) -> None:
        path = plan()
        path.chmod(0)
        if os.access(path, os.R_OK):
            pytest.skip("whoever runs this may read everything")
        self.expect_trouble(path, capsys)

    def test_a_file_that_is_no_text(self, tmp_path: Path, capsys: Capture) -> None:
        path = tmp_path / "plan.toml"
        path.write_bytes(bytes(range(256)) * 4)
        self.expect_trouble(path, capsys)

    def test_a_file_of_fifty_megabytes(self, tmp_path: Path, capsys: Capture) -> None:
        path = tmp_path / "plan.toml"
        with path.open("wb") as file:
            file.truncate(50_000_000)
        self.expect_trouble(path, capsys)

    @pytest.mark.parametrize(
        ("given", "says"),
        [(b"\xff\xfe\x00", "this is not text in UTF-8"), (b"# " * 2_000_000, "too large for a plan")],
        ids=["no text", "four megabytes"],
    )
    def test_standard_input(
        self, given: bytes, says: str, monkeypatch: pytest.MonkeyPatch, capsys: Capture
    ) -> None:
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(given)))
        assert main(["price", "-"]) == 1
        shown = capsys.readouterr()
        assert shown.out == ""
        assert shown.err.startswith(f"standard input: {says}")


class TestFilesThatAreNoPlan:
    """Exit 2 and at least one line that names the file."""

    @pytest.mark.parametrize(
        "text",
        ["", "\n\n", "format = 2", "hello", "<html></html>", "[" * 100_000, "format = 1\n" * 2, "a." * 5000],
        ids=["empty", "blank", "other form", "prose", "web page", "nested", "twice", "dotted"],
    )
    def test_every_one_is_answered(self, text: str, tmp_path: Path, capsys: Capture) -> None:
        path = tmp_path / "plan.toml"
        path.write_text(text, encoding="utf-8")
        assert main(["price", str(path)]) == 2
        shown = capsys.readouterr()
        assert shown.out == ""
        assert shown.err.startswith(f"{path}: ")

    def test_a_piece_taller_than_the_kiln_is_told_by_check_too(self, tmp_path: Path, capsys: Capture) -> None:
        tall = (ROOT / "sample_data" / "harbour-weekend.toml").read_text(encoding="utf-8")
        path = tmp_path / "plan.toml"
        path.write_text(tall.replace('made_height = "215 mm"', 'made_height = "1 m"'), encoding="utf-8")
        assert main(["check", str(path)]) == 2
        assert "JUG" in capsys.readouterr().out


class TestTroubleOnTheWay:
    def stop(self, monkeypatch: pytest.MonkeyPatch, trouble: BaseException) -> None:
        def fail(*_arguments: object, **_options: object) -> None:
            raise trouble

        monkeypatch.setattr("salebook.source.reckon", fail)

    def test_an_interruption_is_one_word(self, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
        self.stop(monkeypatch, KeyboardInterrupt())
        assert main(["price", str(FIRST)]) == 1
        assert capsys.readouterr().err.strip() == "Stopped."

    def test_the_unforeseen_is_one_sentence(self, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
        monkeypatch.delenv("SALEBOOK_TRACE", raising=False)
        self.stop(monkeypatch, ZeroDivisionError("by nought"))
        assert main(["price", str(FIRST)]) == 1
        shown = capsys.readouterr()
        assert "ZeroDivisionError: by nought" in shown.err
        assert "report it" in shown.err
        assert "Traceback" not in shown.err

    def test_its_traceback_is_there_for_the_asking(
        self, monkeypatch: pytest.MonkeyPatch, capsys: Capture
    ) -> None:
        monkeypatch.setenv("SALEBOOK_TRACE", "1")
        self.stop(monkeypatch, ZeroDivisionError("by nought"))
        assert main(["price", str(FIRST)]) == 1
        assert "Traceback" in capsys.readouterr().err

    def test_a_disk_that_fails_is_said_with_its_file(
        self, monkeypatch: pytest.MonkeyPatch, capsys: Capture
    ) -> None:
        self.stop(monkeypatch, OSError(28, "No space left on device", "/there"))
        assert main(["price", str(FIRST)]) == 1
        assert capsys.readouterr().err == "/there: No space left on device\n"

    @pytest.mark.parametrize("options", [[], ["--json"]], ids=["tables", "json"])
    def test_a_reader_that_goes_away_is_no_trouble(self, options: list[str]) -> None:
        ours, theirs = os.pipe()
        os.close(ours)
        run = subprocess.run(
            [sys.executable, "-m", "salebook", "price", str(FIRST), *options],
            stdout=theirs,
            stderr=subprocess.PIPE,
            cwd=ROOT,
            check=False,
        )
        os.close(theirs)
        assert (run.returncode, run.stderr) == (1, b"")

    @pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
    @pytest.mark.parametrize("options", [[], ["--json"]], ids=["tables", "json"])
    def test_a_full_disk_behind_standard_output_is_one_line(self, options: list[str]) -> None:
        with Path("/dev/full").open("wb") as full:
            run = subprocess.run(
                [sys.executable, "-m", "salebook", "price", str(FIRST), *options],
                stdout=full,
                stderr=subprocess.PIPE,
                cwd=ROOT,
                check=False,
            )
        assert (run.returncode, run.stderr) == (1, b"No space left on device\n")

    @pytest.mark.parametrize(("redirection", "exit_code"), [("<&-", 2), (">&-", 0)])
    def test_closed_streams_give_no_traceback(self, redirection: str, exit_code: int) -> None:
        command = f'"{sys.executable}" -m salebook price - {redirection}'
        run = subprocess.run(
            ["bash", "-c", command], input=SOUND, capture_output=True, text=True, cwd=ROOT, check=False
        )
        assert run.returncode == exit_code
        assert "Traceback" not in run.stderr
        assert "nobody foresaw" not in run.stderr


class TestLabels:
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
        ],
    )
    def test_what_cannot_be_printed_is_named_and_leaves_no_file(
        self, arguments: tuple[str, ...], says: str, tmp_path: Path
    ) -> None:
        file = tmp_path / "labels.html"
        run = run_salebook("labels", FIRST, *arguments, "-o", file)
        assert (run.returncode, run.stdout) == (2, "")
        assert says in run.stderr
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

    def test_a_fault_in_an_own_template_is_named_with_file_and_line(self, tmp_path: Path) -> None:
        template = tmp_path / "label.html"
        template.write_text("\n{{ label.nmae }}\n{% if %}", encoding="utf-8")
        run = run_salebook("labels", FIRST, "--templates", tmp_path, "-o", "-")
        assert (run.returncode, run.stdout) == (2, "")
        assert run.stderr.startswith(f"{template}:3: fault in the template: ")

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

    def test_without_weasyprint_nothing_is_written(self, tmp_path: Path) -> None:
        (tmp_path / "weasyprint.py").write_text("raise ImportError", encoding="utf-8")
        file = tmp_path / "labels.pdf"
        run = run_salebook("labels", FIRST, "--pdf", "-o", file, PYTHONPATH=str(tmp_path))
        assert (run.returncode, run.stdout) == (1, "")
        assert run.stderr == "PDF needs WeasyPrint: pip install 'salebook[pdf]'\n"
        assert not file.exists()


def test_an_empty_place_is_refused(capsys: Capture) -> None:
    assert main(["make", str(FIRST), "-o", ""]) == 2
    assert "is empty: name a file or folder" in capsys.readouterr().err
