"""What all tests share."""

import os

import pytest
from hypothesis import settings

# A busy machine is no fault: how long an example takes is the business of the speed checks.
settings.register_profile("salebook", deadline=None)
settings.load_profile("salebook")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave the long versions out unless they are asked for: `-m long`, or SALEBOOK_LONG=1 for all tests."""
    if "long" in config.option.markexpr or os.environ.get("SALEBOOK_LONG", "") not in {"", "0"}:
        return
    left_out = [item for item in items if item.get_closest_marker("long")]
    items[:] = [item for item in items if item not in left_out]
    config.hook.pytest_deselected(items=left_out)
