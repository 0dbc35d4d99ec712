"""The programs that tests lean on."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support import programs

ROOT = Path(__file__).parent.parent.parent


@pytest.mark.skipif(not programs.ALL_MUST_RUN, reason="asked for with SALEBOOK_ALL=1")
@pytest.mark.parametrize("program", [*programs.NAMES, *programs.PACKAGES])
def test_every_program_is_there_when_every_test_must_run(program: str) -> None:
    assert programs.find(program) is not None


@pytest.mark.parametrize(("all_must_run", "marks"), [("", ["skip"]), ("0", ["skip"]), ("1", [])])
def test_a_missing_program_skips_unless_every_test_must_run(all_must_run: str, marks: list[str]) -> None:
    code = "from tests.support.programs import marks_for; print([each.name for each in marks_for('zbarimg')])"
    environment = {**os.environ, "PATH": "/nowhere", "SALEBOOK_ALL": all_must_run}
    run = subprocess.run(
        [sys.executable, "-c", code], env=environment, cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == str(marks)


@pytest.mark.parametrize(
    ("program", "slow"),
    [
        ("LibreOffice", True),
        ("Chromium", True),
        ("weasyprint", True),
        ("pdfinfo", False),
        ("zbarimg", False),
    ],
)
def test_a_test_that_runs_a_heavy_program_is_slow(program: str, slow: bool) -> None:
    assert slow == ("slow" in [mark.name for mark in programs.marks_for(program)])


@programs.needs_libreoffice
def test_a_test_has_the_marks_of_the_programs_it_needs(request: pytest.FixtureRequest) -> None:
    assert request.node.get_closest_marker("slow") is not None


def test_a_program_that_is_not_installed_fails_the_test_that_asks_for_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("PATH", "/nowhere")
    with pytest.raises(pytest.fail.Exception, match="zbarimg is not installed"):
        programs.path_of("zbarimg")
