"""Every gate in turn: `python -m tests`; the speed checks: `python -m tests bench`.

`python -m tests versions` and `known-good` stand in tests/versions.py.
"""

import subprocess
import sys
from pathlib import Path

from tests.versions import try_both_ends, write_known_good

ROOT = Path(__file__).parent.parent

# The tests of a file stay together: what they share, such as a run of LibreOffice, is made once.
SPREAD = ("-n", "2", "--dist", "loadfile", "--no-loadscope-reorder")

GATES = {
    "style": ("ruff", "check", "."),
    "format": ("ruff", "format", "--check", "."),
    "types": ("mypy",),
    "tests": ("pytest", *SPREAD, "--cov", "--cov-report=term"),
}
"""Tests come last, so that pytest's closing line ends the output."""

BENCH = {"speed": ("pytest", "tests/bench", "-o", "addopts=--strict-markers --strict-config -ra")}


OTHERS = {"versions": try_both_ends, "known-good": write_known_good}
"""What is no gate: it says something, or writes something down."""


def passes(name: str, arguments: tuple[str, ...]) -> bool:
    """Run one gate with this Python and say whether it passed."""
    sys.stdout.write(f"\n== {name}: {' '.join(arguments)}\n")
    sys.stdout.flush()
    return subprocess.run([sys.executable, "-m", *arguments], cwd=ROOT, check=False).returncode == 0


def main() -> int:
    """Run all gates, also after one has failed; 0 where all passed."""
    asked = "".join(sys.argv[1:2])
    if asked in OTHERS:
        return OTHERS[asked]()
    gates = BENCH if asked == "bench" else GATES
    failed = [name for name, arguments in gates.items() if not passes(name, arguments)]
    if failed:
        sys.stderr.write(f"\nDid not pass: {', '.join(failed)}\n")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
