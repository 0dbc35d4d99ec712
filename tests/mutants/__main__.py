"""Would the tests notice? `python -m tests.mutants salebook/plan/money.py -- tests/plan/test_money.py`."""

import sys
from pathlib import Path

import pytest

from tests.mutants.notice import Trial

QUIET = (
    "-q",
    "--no-header",
    "-p",
    "no:cacheprovider",
    "-p",
    "no:xdist",
    "-W",
    "ignore::pytest.PytestAssertRewriteWarning",
)


def main() -> int:
    """Try the mutants of the modules before "--" on the tests after it."""
    cut = sys.argv.index("--")
    modules, tests = sys.argv[1:cut], sys.argv[cut + 1 :]
    return pytest.main([*QUIET, *tests], plugins=[Trial([Path(module) for module in modules])])


if __name__ == "__main__":
    sys.exit(main())
