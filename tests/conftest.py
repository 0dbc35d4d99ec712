"""What all tests share."""

import gc
import os

import pytest
from hypothesis import settings

from tests.support.programs import marks_for

# A busy machine is no fault: how long an example takes is the business of the speed checks.
settings.register_profile("the same each time", deadline=None, derandomize=True)
settings.register_profile("quick", deadline=None, derandomize=True, max_examples=10)
settings.register_profile("fresh", deadline=None, print_blob=True)

# A workbook is many small objects that live long; to look through them at the usual pace takes up to a third
# of the time.
gc.set_threshold(100_000, 20, 50)

PROFILES = {"not long": "the same each time", "not slow": "quick"}
"""How examples are drawn, by what is left out."""


def pytest_configure(config: pytest.Config) -> None:
    """Draw the same examples in each run, so that it can be repeated; fresh ones in a long run.

    With `-m "not slow"` few examples are drawn.

    The long versions are left out unless they are asked for: `-m long`, or SALEBOOK_LONG=1 for all tests.
    """
    if os.environ.get("SALEBOOK_LONG", "") not in {"", "0"} and config.option.markexpr == "not long":
        config.option.markexpr = ""
    settings.load_profile(PROFILES.get(config.option.markexpr, "fresh"))


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark tests by the programs that they need; before `-m` chooses among them.

    A long test is slow as well: an `-m "not slow"` takes the place of the `-m "not long"` of pyproject.toml.
    In slow tests no lines are counted: that takes as long as the work, and the others cover them.
    """
    for item in items:
        needed = [program for mark in item.iter_markers("needs") for program in mark.args]
        if item.get_closest_marker("long"):
            item.add_marker(pytest.mark.slow)
        for mark in marks_for(*needed):
            item.add_marker(mark)
        if item.get_closest_marker("slow"):
            item.add_marker(pytest.mark.no_cover)


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say how much was compared with what other programs work out."""
    passed = terminalreporter.stats.get("passed", [])
    cells = [
        count for test in passed for what, count in test.user_properties if what == "formula cells compared"
    ]
    if cells:
        terminalreporter.write_line(f"{sum(cells):,} formula cells of sales by chance worked out twice")
