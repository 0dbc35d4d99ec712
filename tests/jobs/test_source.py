"""Where a plan comes from, and whose faults it has."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import pytest

from salebook.cli import main
from tests.support.bent_book import bent
from tests.support.books import book_of_plan
from tests.support.sound_plan import plan_with

Spoil = Callable[[Any], None]


def low_kiln(workbook: Any) -> None:
    """Type a kiln that is lower than the pieces."""
    _row(workbook, "kiln.usable_height")[2].value = 40


def unreachable(workbook: Any) -> None:
    """Ask how many to make for a target that no number reaches."""
    keys = _row(workbook, "[wares]")
    (wanted,) = (cell.column for cell in keys if cell.value == "wanted")
    workbook["Plan"].cell(keys[0].row + 2, wanted).value = None
    _row(workbook, "sale.target")[2].value = 90_000_000


def _row(workbook: Any, mark: str) -> Any:
    return next(row for row in workbook["Plan"].iter_rows() if row[0].value == mark)


SPOILT: Mapping[Spoil, str] = {
    low_kiln: "is too tall for the empty kiln",
    unreachable: "none up to 5072 makes the target",
}


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> Mapping[Spoil, Path]:
    """Workbooks whose plan cannot be worked out."""
    sound = book_of_plan(plan_with())
    folder = tmp_path_factory.mktemp("spoilt")
    paths: dict[Spoil, Path] = {spoil: folder / f"{spoil.__name__}.xlsx" for spoil in SPOILT}
    for spoil, path in paths.items():
        path.write_bytes(bent(spoil, sound))
    return paths


@pytest.fixture
def somewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Run the commands in an empty folder."""
    monkeypatch.chdir(tmp_path)


@pytest.mark.usefixtures("somewhere")
@pytest.mark.parametrize("spoil", SPOILT)
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
def test_every_command_says_in_which_workbook_the_plan_does_not_work_out(
    arguments: tuple[str, ...],
    spoil: Spoil,
    books: Mapping[Spoil, Path],
    capsys: pytest.CaptureFixture[str],
) -> None:
    given = [str(books[spoil]) if argument == "BOOK" else argument for argument in arguments]
    assert main(given) == 2
    written = "".join(capsys.readouterr())
    assert SPOILT[spoil] in written
    assert {str(books[spoil])} == {line.split(": ")[0] for line in written.splitlines()}
