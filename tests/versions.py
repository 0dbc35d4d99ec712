"""The versions that tests run with: known good ones, written down, and both ends of what may be used.

    python -m tests known-good     look up the newest versions, for each Python, and write .ci/known-good.txt
    python -m tests versions       try the oldest and the newest versions, and say what differs

Only Python's own library is used, since both run before anything is installed.
"""

import json
import os
import re
import signal
import subprocess
import sys
import tempfile
import tomllib
import venv
from collections.abc import Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).parent.parent
KNOWN_GOOD = ROOT / ".ci" / "known-good.txt"
PYTHONS = ("3.11", "3.12", "3.13", "3.14")
"""The Pythons for which known good versions are written down."""

LIMIT_S = 900
"""How long one try may take, so that a program that hangs does not hold up the rest."""

HEAD = f"""\
# Known good versions, with wheels for Python {PYTHONS[0]} to {PYTHONS[-1]}.
# Made by `python -m tests known-good`; to be committed once all tests pass with them.
"""


def requirements() -> list[str]:
    """Return what pyproject.toml asks for, to run salebook and to work on it."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return [*project["dependencies"], *project["optional-dependencies"]["dev"]]


def oldest(requirements: Iterable[str]) -> list[str]:
    """Return the lower bounds as constraints: "babel>=2.14" is babel==2.14; what has no bound is left out."""
    return [each.replace(">=", "==") for each in requirements if ">=" in each]


def merged(by_python: Mapping[str, Mapping[str, str]]) -> list[str]:
    """Return one constraint for each package, or one for each Python where their versions differ."""
    names = sorted({name for versions in by_python.values() for name in versions})
    return [line for name in names for line in _constraints(name, by_python)]


def _constraints(name: str, by_python: Mapping[str, Mapping[str, str]]) -> list[str]:
    found = {python: versions[name] for python, versions in by_python.items() if name in versions}
    if len(set(found.values())) == 1:
        return [f"{name}=={next(iter(found.values()))}"]
    return [f'{name}=={version} ; python_version == "{python}"' for python, version in found.items()]


def write_known_good() -> int:
    """Write the newest versions that have wheels, for each Python, to .ci/known-good.txt."""
    with ThreadPoolExecutor() as pool:
        found = dict(zip(PYTHONS, pool.map(newest_for, PYTHONS), strict=True))
    KNOWN_GOOD.write_text(HEAD + "\n".join(merged(found)) + "\n")
    return 0


def newest_for(python: str) -> dict[str, str]:
    """Return the newest versions that go together, by package, as pip finds them for a Python."""
    # An older pip looks up another Python's versions only where it is given a --target, also in a dry run.
    look_up = ["--dry-run", "--ignore-installed", "--report", "-", "--target", tempfile.gettempdir()]
    which = ["--only-binary=:all:", "--python-version", python]
    run = subprocess.run(
        [sys.executable, "-m", "pip", "install", "--quiet", *look_up, *which, *requirements()],
        capture_output=True,
        text=True,
        check=True,
    )
    found = [each["metadata"] for each in json.loads(run.stdout)["install"]]
    return {re.sub(r"[-_.]+", "-", each["name"]).lower(): each["version"] for each in found}


def try_both_ends() -> int:
    """Run the quick tests with the oldest and the newest versions and say what differs; always 0.

    A release elsewhere is news and no fault of a change here, so it must not turn a run red.
    """
    ends = {"oldest": oldest(requirements()), "newest": []}
    for name, constraints in ends.items():
        # What a run that was cut off still writes must not turn the cleaning up into a failure.
        with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as folder:
            sys.stdout.write(f"== {name} versions: {tried(Path(folder), constraints)}\n")
            sys.stdout.flush()
    return 0


def tried(folder: Path, constraints: list[str]) -> str:
    """Return what came of the quick tests in a fresh environment, in a line or with the tests that failed."""
    venv.create(folder / "venv", with_pip=True)
    python = str(folder / "venv" / "bin" / "python")
    (folder / "constraints.txt").write_text("\n".join(constraints))
    # Wheels only: to build numpy from its source takes longer than all tests.
    install = ["install", "--quiet", "--only-binary=:all:", "--constraint", str(folder / "constraints.txt")]
    try:
        installed = _run([python, "-m", "pip", *install, "--upgrade", "--editable", ".[dev]"])
        if installed.returncode:
            return f"cannot be installed with Python {sys.version.split()[0]}\n{installed.stderr.strip()}"
        quick = ["pytest", "-n", "2", "--dist", "loadfile", "-q", "-p", "no:cacheprovider", "-m", "not slow"]
        return summary(_run([python, "-m", *quick]).stdout)
    except subprocess.TimeoutExpired:
        return f"no answer within {LIMIT_S} seconds"


def _run(command: list[str]) -> subprocess.CompletedProcess[str]:
    """Run a program and all that it starts, which ends with it when the time is up."""
    pipe = subprocess.PIPE
    with subprocess.Popen(
        command, cwd=ROOT, stdout=pipe, stderr=pipe, text=True, start_new_session=True
    ) as program:
        try:
            output, errors = program.communicate(timeout=LIMIT_S)
        except subprocess.TimeoutExpired:
            os.killpg(program.pid, signal.SIGKILL)
            raise
    return subprocess.CompletedProcess(command, program.returncode, output, errors)


def summary(output: str) -> str:
    """Return the failures of a run of pytest, and how many tests failed and passed."""
    failures = [line for line in output.splitlines() if line.startswith(("FAILED", "ERROR"))]
    counted = re.findall(r"(\d+ (?:failed|passed|errors?))\b", (output.splitlines() or [""])[-1])
    return "\n   ".join([", ".join(counted) or "the tests could not run", *failures])
