"""The README is true: its commands run, and it leaves out no command and no key."""

import os
import re
import shlex
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from salebook.cli import commands
from tests.support.readme_keys import table_of_keys, written_table

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w+)\n(.*?)^```$", README, flags=re.MULTILINE | re.DOTALL)
SHELL_LINES = [line for language, text in BLOCKS if language == "sh" for line in text.splitlines()]
TEST_COMMAND = next(line for line in SHELL_LINES if "-m tests" in line)


@pytest.mark.slow
def test_the_commands_of_the_readme_do_what_it_says(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "sample_data", tmp_path / "sample_data")
    # The installing is tried by the test of the built package.
    lines = [
        line.rpartition(".venv/bin/")[2]
        for line in SHELL_LINES
        if " salebook" in f" {line}" or "/salebook " in line
    ]
    assert len(lines) >= 5
    outputs = [run_line(line, tmp_path) for line in lines]
    assert [output for output in outputs if not output] == []
    book = tmp_path / "pack" / "sale.xlsx"
    assert book.read_bytes()[:2] == b"PK"


def run_line(line: str, folder: Path) -> str:
    """Run one line of the README in a shell, with this Python's salebook; return what it prints."""
    python = shlex.quote(sys.executable)
    run = subprocess.run(
        ["bash", "-c", f'salebook() {{ {python} -m salebook "$@"; }}; {line}'],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert (run.returncode, run.stderr) == (0, ""), line
    return run.stdout


@pytest.mark.parametrize("name", sorted(commands.commands))
def test_every_command_is_in_the_table_of_commands(name: str) -> None:
    assert re.search(rf"^\| `salebook {name}\b", README, flags=re.MULTILINE)


def test_no_command_is_promised_that_is_not_there() -> None:
    promised = set(re.findall(r"^\| `salebook (\w+)", README, flags=re.MULTILINE))
    assert promised == set(commands.commands)


def test_the_plan_that_is_explained_is_the_first_sample() -> None:
    shown = next(text for language, text in BLOCKS if language == "toml")
    assert shown == (ROOT / "sample_data" / "first-sale.toml").read_text(encoding="utf-8")


def test_the_table_of_keys_says_what_the_plans_records_say() -> None:
    assert table_of_keys() == written_table(README)


def test_every_picture_is_there() -> None:
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    assert pictures != []
    assert [picture for picture in pictures if not (ROOT / picture).is_file()] == []


def test_the_pictures_are_small() -> None:
    sizes = {path.name: path.stat().st_size for path in (ROOT / ".github" / "pictures").iterdir()}
    assert {name: size for name, size in sizes.items() if size > 150_000} == {}


def test_continuous_integration_runs_the_readmes_own_test_command() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert script.splitlines()[-1] == TEST_COMMAND
    assert "export SALEBOOK_ALL=1\n" in script


def test_every_dependency_is_accounted_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed = [*project["dependencies"], *project["optional-dependencies"]["dev"]]
    names = {re.split(r"[<>=\[]", each)[0].removeprefix("pytest-").removesuffix("-stubs") for each in needed}
    table = DEVELOPERS[DEVELOPERS.index("## Why each dependency") :].split("\n## ")[0]
    assert [name for name in sorted(names) if name.removeprefix("types-") not in table] == []


def test_nothing_else_stands_at_the_top() -> None:
    allowed = {
        "README.md",
        "DEVELOPERS.md",
        "pyproject.toml",
        "salebook",
        "templates",
        "tests",
        "sample_data",
    }
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode != 0 or not listed.stdout:
        pytest.skip("not a checkout")
    top = {Path(name).parts[0] for name in listed.stdout.splitlines()}
    assert {name for name in top if not name.startswith(".")} == allowed
