"""The programs that tests lean on."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests import programs

ROOT = Path(__file__).parent.parent


@pytest.mark.skipif(not programs.ALL_MUST_RUN, reason="asked for with SALEBOOK_ALL=1")
@pytest.mark.parametrize("program", programs.NAMES)
def test_every_program_is_there_when_every_test_must_run(program: str) -> None:
    assert programs.find(program) is not None


@pytest.mark.parametrize(("all_must_run", "skipped"), [("", True), ("0", True), ("1", False)])
def test_a_missing_program_skips_unless_every_test_must_run(all_must_run: str, skipped: bool) -> None:
    code = "from tests.programs import needs_zbar; print(needs_zbar.mark.args[0])"
    environment = {**os.environ, "PATH": "/nowhere", "SALEBOOK_ALL": all_must_run}
    run = subprocess.run(
        [sys.executable, "-c", code], env=environment, cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == str(skipped)


def test_a_program_that_is_not_installed_fails_the_test_that_asks_for_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("PATH", "/nowhere")
    with pytest.raises(pytest.fail.Exception, match="zbarimg is not installed"):
        programs.path_of("zbarimg")
