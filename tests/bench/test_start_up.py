"""Start-up: the help of salebook against a bare import of the library that reads its arguments."""

import resource
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
RUNS = 7
LIMIT = 3.0

HELP = ("-m", "salebook", "--help")
BARE = ("-c", "import click")


def processor_seconds(arguments: tuple[str, ...]) -> float:
    """Return the processor time (user and system, s) of one run of Python."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *arguments], cwd=ROOT, check=True, stdout=subprocess.DEVNULL)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime - before.ru_utime + after.ru_stime - before.ru_stime


def test_the_help_takes_at_most_three_times_a_bare_import_of_click() -> None:
    for arguments in (HELP, BARE):
        processor_seconds(arguments)  # the first run writes the byte code
    times = [(processor_seconds(HELP), processor_seconds(BARE)) for _ in range(RUNS)]
    ratio = min(of_help for of_help, _ in times) / min(bare for _, bare in times)
    sys.stdout.write(f"\nhelp / bare import of click: {ratio:.2f}\n")
    assert ratio <= LIMIT
