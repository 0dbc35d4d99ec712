"""A plan to be spoilt, and workbooks that are quick to write and to read."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.support.books import few_lines, read_once
from tests.support.command_line import SOUND

__all__ = ["few_lines", "plan", "read_once"]


@pytest.fixture
def plan(tmp_path: Path) -> Callable[..., Path]:
    """Return a function that writes the first sample with some of its text replaced."""

    def write(replaced: str = "", by: str = "") -> Path:
        assert replaced in SOUND
        path = tmp_path / "plan.toml"
        path.write_text(SOUND.replace(replaced, by, 1) if replaced else SOUND, encoding="utf-8")
        return path

    return write
