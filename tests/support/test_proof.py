"""The proof must be able to fail: each kind of wrong result in a workbook is found."""

from pathlib import Path
from typing import Any

import pytest

from tests.support import proof
from tests.support.cells import Place, SheetError, Value, file_of, without_stored_results
from tests.support.engines import by_formualizer, by_gnumeric, by_ironcalc
from tests.support.programs import needs_gnumeric, needs_libreoffice
from tests.support.proof import (
    NotRecalculatedError,
    differences,
    recalculated_by_libreoffice,
    same,
    values_of,
)
from tests.support.small_books import book_of

CELLS: dict[str, Value] = {
    "A1": 3,
    "A2": "pot",
    "B1": "=A1*2",
    "B2": '=A2&"s"',
    "B3": '=IF(A1>2,"","few")',
    "B4": "=A1/7",
    "B5": "=A1>2",
    "B6": "=SUMPRODUCT((A1:A4=3)*1)",
}
RIGHT: dict[str, Any] = {"B1": 6, "B2": "pots", "B3": "", "B4": 3 / 7, "B5": True, "B6": 1}
WRONG: dict[str, Any] = {"B1": 6.01, "B2": "pot", "B3": "few", "B4": 3 / 7 + 1e-6, "B5": False, "B6": 0}


def by_libreoffice(book: bytes) -> dict[Place, Value]:
    return values_of(recalculated_by_libreoffice({"book": book})["book"])


PROGRAMS = pytest.mark.parametrize(
    "recalculated",
    [
        pytest.param(by_libreoffice, marks=needs_libreoffice),
        pytest.param(by_gnumeric, marks=needs_gnumeric),
        by_ironcalc,
        by_formualizer,
    ],
)


@PROGRAMS
def test_a_right_book_has_no_difference(recalculated: Any) -> None:
    book = book_of(CELLS, RIGHT)
    assert differences(book, recalculated(book)) == []


@PROGRAMS
def test_every_wrong_stored_result_is_found(recalculated: Any) -> None:
    book = book_of(CELLS, WRONG)
    found = differences(book, recalculated(book))
    assert [line[:15] for line in found] == [f"Costs & fees!{place}" for place in WRONG]
    assert found[0] == "Costs & fees!B1 =A1*2: stored 6.01, recalculated 6.0"


@PROGRAMS
@pytest.mark.parametrize(("formula", "error"), [("=A1/0", "#DIV/0!"), ("=NOSUCH(A1)", "#NAME?")])
def test_an_error_is_found_whatever_is_stored(recalculated: Any, formula: str, error: str) -> None:
    book = book_of({"A1": 3, "B1": formula}, {"B1": error})
    stored = f"Costs & fees!B1 {formula}: stored {error!r}, recalculated error {error}"
    assert differences(book, recalculated(book)) == [stored]


@PROGRAMS
def test_a_formula_without_a_stored_result_is_found(recalculated: Any) -> None:
    book = without_stored_results(book_of({"A1": 3, "B1": "=A1"}, {"B1": 3}))
    assert differences(book, recalculated(book)) == ["Costs & fees!B1 =A1: no stored result"]


def test_a_cell_that_is_missing_after_recalculation_is_found() -> None:
    book = book_of({"A1": 3, "B1": "=A1", "B2": '=""'}, {"B1": 3, "B2": ""})
    assert differences(book, {("Costs & fees", "B1"): 3.0}) == [
        "Costs & fees!B2 =\"\": stored '', missing after recalculation"
    ]


@pytest.mark.parametrize(
    ("stored", "found", "is_same"),
    [
        (6, 6.0, True),
        (0.1 + 0.2, 0.3, True),
        (1000.0, 1000.0000009, True),
        (1234567.89, 1234567.8900001, True),
        (1234567.89, 1234567.890002, False),
        (1e9, 1e9 + 1e-5, False),
        (0.0, 1e-6, False),
        (10.0, 10.000001, False),
        ("", 0.0, False),
        (0.0, "", False),
        ("6", 6.0, False),
        (True, 1.0, False),
        (0, False, False),
        ("Pot", "pot", False),
        ("pot ", "pot", False),
        (float("nan"), 1.0, False),
        ("#N/A", SheetError("#N/A"), False),
        (SheetError("#N/A"), SheetError("#N/A"), False),
    ],
)
def test_only_floating_point_noise_is_forgiven(stored: Value, found: Value, is_same: bool) -> None:
    assert same(stored, found) is is_same


@needs_libreoffice
def test_many_books_are_recalculated_in_one_run_each_for_itself() -> None:
    books = {f"book-{n}": book_of({"A1": n, "B1": "=A1*A1"}, {"B1": n * n}) for n in range(12)}
    results = recalculated_by_libreoffice(books)
    assert [differences(book, values_of(results[title])) for title, book in books.items()] == [[]] * 12


@needs_libreoffice
def test_what_libreoffice_cannot_read_is_named() -> None:
    # The file must be one that can be taken apart, or it fails before LibreOffice sees it.
    with pytest.raises(NotRecalculatedError, match="LibreOffice made no broken"):
        recalculated_by_libreoffice({"broken": _without_its_workbook(), "sound": book_of({"A1": 1}, {})})


def _without_its_workbook() -> bytes:
    return file_of({"xl/_rels/workbook.xml.rels": b"<Relationships/>", "xl/workbook.xml": b"<workbook/>"})


def test_a_libreoffice_that_hangs_or_fails_is_said_so(monkeypatch: pytest.MonkeyPatch) -> None:
    book = book_of({"A1": 1}, {})

    def hangs(_profile: Path, *_arguments: str) -> list[str]:
        return ["sh", "-c", "sleep 9 & wait"]

    def fails(_profile: Path, *_arguments: str) -> list[str]:
        return ["false"]

    monkeypatch.setattr(proof, "SECONDS_TO_START", 0)
    monkeypatch.setattr(proof, "SECONDS_PER_BOOK", 0.1)
    monkeypatch.setattr(proof, "libreoffice_command", hangs)
    with pytest.raises(NotRecalculatedError, match=r"took more than 0\.1 s for 1 books"):
        recalculated_by_libreoffice({"book": book})
    monkeypatch.setattr(proof, "SECONDS_PER_BOOK", 5)
    monkeypatch.setattr(proof, "libreoffice_command", fails)
    with pytest.raises(NotRecalculatedError, match="ended with 1"):
        recalculated_by_libreoffice({"book": book})


@pytest.mark.parametrize(
    "recalculated", [pytest.param(by_gnumeric, marks=needs_gnumeric), by_ironcalc, by_formualizer]
)
def test_an_engine_leaves_no_file_behind_and_says_nothing(
    recalculated: Any, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    recalculated(book_of({"A1": 3, "B1": "=A1", "B2": '=""'}, {"B1": 3, "B2": ""}))
    assert (list(tmp_path.iterdir()), capfd.readouterr()) == ([], ("", ""))
