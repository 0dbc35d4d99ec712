"""A workbook that another program opened and saved says the same: its check, its accounts, its prices."""

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from salebook.cli import main
from tests.filled_sample import filled_book
from tests.support.books import sample_book
from tests.support.engines import converted_by_gnumeric
from tests.support.programs import needs_gnumeric, needs_libreoffice
from tests.support.proof import converted_by_libreoffice

pytestmark = pytest.mark.slow

BOOKS: dict[str, Callable[[], bytes]] = {
    "the filled-in sample": cache(filled_book),
    "bergmarkt": lambda: sample_book("bergmarkt", filled_in=True),
}
ANSWERS: dict[str, list[tuple[int, str, str]]] = {}
"""What salebook says of each book as it was."""
QUESTIONS = (
    ["check", "sale.xlsx", "--json"],
    ["report", "sale.xlsx", "--json"],
    ["price", "sale.xlsx", "--json"],
)


def by_gnumeric(book: bytes) -> bytes:
    return converted_by_gnumeric(book)


def by_gnumeric_as_ods(book: bytes) -> bytes:
    return converted_by_gnumeric(converted_by_gnumeric(book, kinds=("xlsx", "ods")), kinds=("ods", "xlsx"))


def by_libreoffice(book: bytes, kinds: tuple[str, str] = ("xlsx", "xlsx")) -> bytes:
    return converted_by_libreoffice({"sale": book}, kinds=kinds)["sale"]


def by_libreoffice_as_ods(book: bytes) -> bytes:
    return by_libreoffice(by_libreoffice(book, ("xlsx", "ods")), ("ods", "xlsx"))


def answers(
    book: bytes, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> list[tuple[int, str, str]]:
    """Return what salebook answers on a workbook: the exit code and both streams."""
    folder.mkdir()
    (folder / "sale.xlsx").write_bytes(book)
    monkeypatch.chdir(folder)
    return [(main(question), *capsys.readouterr()) for question in QUESTIONS]


@pytest.mark.parametrize("name", BOOKS)
@pytest.mark.parametrize(
    "saved",
    [
        pytest.param(by_gnumeric, marks=needs_gnumeric),
        pytest.param(by_gnumeric_as_ods, marks=needs_gnumeric),
        pytest.param(by_libreoffice, marks=needs_libreoffice),
        pytest.param(by_libreoffice_as_ods, marks=needs_libreoffice),
    ],
)
def test_a_book_saved_by_another_program_says_the_same(
    name: str,
    saved: Callable[[bytes], bytes],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    book = BOOKS[name]()
    if name not in ANSWERS:
        ANSWERS[name] = answers(book, tmp_path / "before", monkeypatch, capsys)
    assert [len(out) > 100 for _code, out, _err in ANSWERS[name]] == [True, True, True]
    assert answers(saved(book), tmp_path / "after", monkeypatch, capsys) == ANSWERS[name]
