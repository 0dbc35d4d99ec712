"""salebook run as a program of its own, in a pipe or on a terminal."""

import os
import pty
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
SAMPLES = sorted((ROOT / "sample_data").glob("*.toml"))
FIRST = ROOT / "sample_data" / "first-sale.toml"
SOUND = FIRST.read_text(encoding="utf-8")

each_sample_file = pytest.mark.parametrize(
    "sample",
    [pytest.param(path, id=path.name, marks=() if path == FIRST else pytest.mark.slow) for path in SAMPLES],
)
"""Runs a test on every sample, on others than the smallest with the slow tests."""

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
