"""What all tests share."""

import gc
import os

import pytest
from hypothesis import settings

# A busy machine is no fault: how long an example takes is the business of the speed checks.
settings.register_profile("the same each time", deadline=None, derandomize=True)
settings.register_profile("fresh", deadline=None, print_blob=True)

# A workbook is many small objects that live long; to look through them at the usual pace takes up to a third
# of the time.
gc.set_threshold(20_000, 20, 20)

WITHOUT_LONG = "not long"


def pytest_configure(config: pytest.Config) -> None:
    """Draw the same examples in each run, so that it can be repeated; fresh ones in a long run.

    The long versions are left out unless they are asked for: `-m long`, or SALEBOOK_LONG=1 for all tests.
    """
    if os.environ.get("SALEBOOK_LONG", "") not in {"", "0"} and config.option.markexpr == WITHOUT_LONG:
        config.option.markexpr = ""
    settings.load_profile("the same each time" if config.option.markexpr == WITHOUT_LONG else "fresh")


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say how much was compared with what other programs work out."""
    passed = terminalreporter.stats.get("passed", [])
    cells = [
        count for test in passed for what, count in test.user_properties if what == "formula cells compared"
    ]
    if cells:
        terminalreporter.write_line(f"{sum(cells):,} formula cells of sales by chance worked out twice")
