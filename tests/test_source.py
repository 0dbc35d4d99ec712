"""Where a plan comes from, and whose faults it has."""

from pathlib import Path
from typing import Any

import pytest

from salebook.cli import main
from tests.book.reading.sheets import bent
from tests.books import book_of_plan, few_free_lines
from tests.plan.plans import plan_with


@pytest.fixture(scope="module")
def low_kiln(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A sale's workbook in which somebody has typed a kiln that is lower than the pieces."""

    def type_height(workbook: Any) -> None:
        row = next(row for row in workbook["Plan"].iter_rows() if row[0].value == "kiln.usable_height")
        row[2].value = 40

    with few_free_lines():
        book = book_of_plan(plan_with())
    path = tmp_path_factory.mktemp("low") / "low-kiln.xlsx"
    path.write_bytes(bent(type_height, book))
    return path


@pytest.mark.parametrize(
    "arguments",
    [
        ("check", "BOOK"),
        ("price", "BOOK"),
        ("labels", "BOOK", "-o", "labels.html"),
        ("renew", "BOOK"),
        ("join", "BOOK", "-o", "all.xlsx"),
        ("report", "BOOK", "-o", "accounts"),
    ],
    ids=lambda arguments: arguments[0],
)
def test_every_command_says_in_which_workbook_a_piece_is_too_tall(
    arguments: tuple[str, ...],
    low_kiln: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    given = [str(low_kiln) if argument == "BOOK" else argument for argument in arguments]
    assert main(given) == 2
    written = "".join(capsys.readouterr())
    assert "is too tall for the empty kiln" in written
    assert {str(low_kiln)} == {line.split(": ")[0] for line in written.splitlines()}
