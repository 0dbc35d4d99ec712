"""A page on a folder of its own, asked without a browser or a network."""

from pathlib import Path

import pytest
from flask.testing import FlaskClient

from salebook.page.app import make_app
from tests.support.books import few_lines, read_once
from tests.support.paged import KEY, Page

__all__ = ["few_lines", "read_once"]


@pytest.fixture
def ended() -> list[bool]:
    """Holds as many values as the button to end was pressed."""
    return []


@pytest.fixture
def stranger(tmp_path: Path, ended: list[bool]) -> FlaskClient:
    """Return somebody without the key."""
    folder = tmp_path / "sales"
    folder.mkdir()
    return make_app(folder.resolve(), key=KEY, end=lambda: ended.append(True)).test_client()


@pytest.fixture
def page(stranger: FlaskClient, tmp_path: Path) -> Page:
    """Return the page as its own person meets it."""
    opened = Page(client=stranger, folder=(tmp_path / "sales").resolve())
    opened.enter()
    return opened
