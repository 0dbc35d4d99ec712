"""What cannot be read, and what goes wrong on the way: messages and exit codes."""

import io
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from salebook.cli import main
from tests.support.command_line import FIRST, ROOT, SOUND, Capture


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


def price_written_to(place: int, options: list[str]) -> tuple[int, bytes]:
    """Run `salebook price`, its answer going to an open file; return its exit code and its complaint."""
    run = subprocess.run(
        [sys.executable, "-m", "salebook", "price", str(FIRST), *options],
        stdout=place,
        stderr=subprocess.PIPE,
        cwd=ROOT,
        check=False,
    )
    return run.returncode, run.stderr


class TestTroubleOnTheWay:
    def stop(self, monkeypatch: pytest.MonkeyPatch, trouble: BaseException) -> None:
        def fail(*_arguments: object, **_options: object) -> None:
            raise trouble

        monkeypatch.setattr("salebook.jobs.source.reckon", fail)

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

    @pytest.mark.slow
    @pytest.mark.parametrize("options", [[], ["--json"]], ids=["tables", "json"])
    def test_a_reader_that_goes_away_is_no_trouble(self, options: list[str]) -> None:
        ours, theirs = os.pipe()
        os.close(ours)
        said = price_written_to(theirs, options)
        os.close(theirs)
        assert said == (1, b"")

    @pytest.mark.slow
    @pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full here")
    @pytest.mark.parametrize("options", [[], ["--json"]], ids=["tables", "json"])
    def test_a_full_disk_behind_standard_output_is_one_line(self, options: list[str]) -> None:
        with Path("/dev/full").open("wb") as full:
            said = price_written_to(full.fileno(), options)
        assert said == (1, b"No space left on device\n")

    @pytest.mark.slow
    @pytest.mark.parametrize(("redirection", "exit_code"), [("<&-", 2), (">&-", 0)])
    def test_closed_streams_give_no_traceback(self, redirection: str, exit_code: int) -> None:
        command = f'"{sys.executable}" -m salebook price - {redirection}'
        run = subprocess.run(
            ["bash", "-c", command], input=SOUND, capture_output=True, text=True, cwd=ROOT, check=False
        )
        assert run.returncode == exit_code
        assert "Traceback" not in run.stderr
        assert "nobody foresaw" not in run.stderr
