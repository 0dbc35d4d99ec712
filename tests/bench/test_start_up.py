"""Start-up: each command's help against a bare import of the library that reads its arguments."""

import resource
import subprocess
import sys
from pathlib import Path

import pytest

from salebook.cli import commands

ROOT = Path(__file__).parent.parent.parent
RUNS = 7
LIMIT = 3.0

BARE = ("-c", "import click")


@pytest.fixture(scope="module")
def bare() -> float:
    """The processor time of a bare import."""
    return least_processor_seconds(BARE)


def processor_seconds(arguments: tuple[str, ...]) -> float:
    """Return the processor time (user and system, s) of one run of Python."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *arguments], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime


def least_processor_seconds(arguments: tuple[str, ...]) -> float:
    processor_seconds(arguments)  # the first run writes the byte code
    return min(processor_seconds(arguments) for _run in range(RUNS))


@pytest.mark.parametrize("command", ["", *sorted(commands.commands)])
def test_help_takes_at_most_three_times_a_bare_import_of_click(command: str, bare: float) -> None:
    arguments = ("-m", "salebook", *command.split(), "--help")
    ratio = least_processor_seconds(arguments) / bare
    sys.stdout.write(f"\nhelp of {command or 'all'} / bare import of click: {ratio:.2f}\n")
    assert ratio <= LIMIT
