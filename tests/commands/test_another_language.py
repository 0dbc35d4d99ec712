"""The commands in a language whose texts are longer by two fifths, with an accent on every letter."""

import re
from pathlib import Path

import pytest

from salebook.cli import main
from tests.support.books import few_free_lines
from tests.support.command_line import FIRST, ROOT, Capture
from tests.support.pseudo import in_pseudo

pytestmark = pytest.mark.slow

FULL = ROOT / "sample_data" / "harbour-weekend.toml"
FILLED = ROOT / "sample_data" / "harbour-weekend-filled-in.xlsx"


def run(*arguments: str | Path) -> int:
    """Run a command in that language."""
    with in_pseudo(), few_free_lines():
        return main([str(argument) for argument in arguments])


def english_in(said: str, *sources: Path) -> list[str]:
    """Return the words of four letters or more in English, but for the plan's, keys and paths."""
    plans = " ".join(source.read_text(encoding="utf-8") for source in sources)
    known = set(re.findall(r"\w+", plans)) | {"June"}
    without_paths_and_keys = re.sub(r"\S*[/._]\S+", "", said)
    words = re.findall(r"[^\W\d_]{4,}", without_paths_and_keys)
    return [word for word in words if re.fullmatch("[A-Za-z]+", word) and word not in known]


def test_price_says_nothing_in_english_and_leaves_every_first_column_its_room(capsys: Capture) -> None:
    assert run("price", FULL) == 0
    said = capsys.readouterr().out
    assert english_in(said, FULL) == []
    assert "\nbiscuit " in said
    assert max(map(len, said.splitlines())) <= 80


def test_check_says_nothing_in_english(capsys: Capture) -> None:
    assert run("check", FULL) == 0
    assert english_in(capsys.readouterr().out, FULL) == []


def test_a_filled_in_book_goes_through_every_command(capsys: Capture, tmp_path: Path) -> None:
    """The sample's book is English; the renewed one is not, and either reads as the other does."""
    book = tmp_path / "sale.xlsx"
    book.write_bytes(FILLED.read_bytes())
    assert run("renew", book) == 3
    renewed = tmp_path / "sale-renewed.xlsx"
    assert run("report", renewed, "-o", tmp_path / "accounts") == 3
    assert run("labels", renewed, "-o", tmp_path / "labels.html") == 0
    assert main(["report", str(renewed), "-o", str(tmp_path / "english")]) == 3
    assert main(["report", str(book), "-o", str(tmp_path / "before")]) == 3
    capsys.readouterr()
    assert (tmp_path / "english" / "statement.csv").read_bytes() == (
        tmp_path / "before" / "statement.csv"
    ).read_bytes()
    assert run("check", renewed) == 3
    there = capsys.readouterr().out
    assert main(["check", str(renewed)]) == 3
    assert len(capsys.readouterr().out.splitlines()) == len(there.splitlines())


def test_the_books_of_several_tables_are_joined_in_either_language(tmp_path: Path) -> None:
    pack = tmp_path / "pack"
    assert run("make", FIRST, "-o", pack, "--tills", "2") == 0
    books = [str(pack / name) for name in ("sale.xlsx", "sale-till-1.xlsx", "sale-till-2.xlsx")]
    assert run("join", *books, "-o", tmp_path / "joined.xlsx") == 0
    with few_free_lines():
        assert main(["join", *books, "-o", str(tmp_path / "english.xlsx")]) == 0
        assert main(["make", str(FIRST), "-o", str(pack), "--tills", "2"]) == 0


@pytest.mark.slow
def test_demo_makes_all_of_it(capsys: Capture, tmp_path: Path) -> None:
    assert run("demo", tmp_path / "demo") == 0
    assert "Määđéé" in capsys.readouterr().out
    assert len(list((tmp_path / "demo").glob("*.html"))) > 8
