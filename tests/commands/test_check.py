"""`salebook check`."""

import io
import json
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from salebook.cli import main
from salebook.jobs.check import Check, check_lines
from tests.support.command_line import FIRST, SAMPLES, SOUND, Capture


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
        assert "\n  please note: How many would sell at each price is not said for Mug" in said
        assert "\n  assumed: MUG → Losses: 3 % in throwing" in said

    def test_after_many_lines_the_verdict_is_said_again(self, capsys: Capture) -> None:
        assert main(["check", str(FIRST)]) == 0
        lines = capsys.readouterr().out.splitlines()
        assert len(lines) > 11
        assert lines[-1] == lines[0] == f"{FIRST}: sound"

    def test_after_a_few_lines_once_is_enough(self) -> None:
        few = Check(file="plan.toml", warnings=("one", "two"), assumed=("three",))
        assert check_lines(few) == (
            "plan.toml: sound",
            "  please note: one",
            "  please note: two",
            "  assumed: three",
        )

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
