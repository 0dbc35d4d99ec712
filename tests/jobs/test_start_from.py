"""`salebook start --from`: the plan of the next sale from a filled-in workbook."""

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import pytest

from salebook.base.errors import FileError, SalebookError, WrongUseError
from salebook.cli import main
from salebook.jobs.start_from import ask_for_next_plan, write_as_proposed
from salebook.plan.load import load_plan
from tests.support.books import ROOT, SAMPLES, sample_book
from tests.support.talk import Talk

FILLED_IN = ROOT / "sample_data" / "harbour-weekend-filled-in.xlsx"
CLOCK = datetime(2027, 7, 1, 12)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Write the smallest sample's workbook after a day of takings."""
    path = tmp_path_factory.mktemp("sale") / "sale.xlsx"
    path.write_bytes(sample_book("first-sale", filled_in=True))
    return path


def proposed(file: Path, book: Path, *, today: date | None = None) -> Talk:
    talk = Talk()
    write_as_proposed(book, file, today=today, clock=CLOCK, say=talk.say)
    return talk


def asked(file: Path, book: Path, *lines: str, on_terminal: bool = True) -> Talk:
    talk = Talk(*lines)
    ask_for_next_plan(
        book, file, today=None, clock=CLOCK, ask=talk.ask, say=talk.say, on_terminal=on_terminal
    )
    return talk


@pytest.mark.slow
def test_a_whole_weekend_becomes_the_next_plan_which_is_sound_and_priced(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "next.toml"
    assert main(["start", "--from", str(FILLED_IN), str(file), "--yes", "--today", "2027-07-01"]) == 3
    shown = capsys.readouterr()
    assert "Harbour mug, lost in the glaze firing: 4.3 %, from 2 of 39 (planned: 4 %)." in shown.out
    assert "Harbour mug at £20.00: 75.4 % sell, from 17 of 35, which on such a day count as 26" in shown.out
    assert "to look at: Takings, row 30: the amount is not a number" in shown.err
    assert main(["check", str(file)]) == 0
    assert main(["price", str(file)]) == 0
    shown = capsys.readouterr()
    assert f"{file}: sound" in shown.out
    assert "At the prices in the plan you can expect about £" in shown.out
    before, after = load_plan(SAMPLES["harbour-weekend"]), load_plan(file)
    assert after.sale.days == (date(2028, 6, 17), date(2028, 6, 18))
    assert [len(left.numbers) for left in after.carried] == [15, 13, 1, 8]
    assert (after.clays, after.work, after.payments) == (before.clays, before.work, before.payments)


def test_before_a_sale_is_over_nothing_is_learned_of_what_sells(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "next.toml"
    talk = proposed(file, book, today=date(2027, 4, 23))
    assert "The sale is not over yet" in talk.text
    assert load_plan(file).wares[0].sells == load_plan(SAMPLES["first-sale"]).wares[0].sells


def test_what_is_proposed_is_learned_from_the_book_as_it_stands(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "next.toml"
    talk = proposed(file, book)
    after = load_plan(file)
    assert "Mug at £16.00: " in talk.text
    assert after.wares[0].sells != load_plan(SAMPLES["first-sale"]).wares[0].sells
    assert after.sale.days == (date(2028, 4, 22),)
    assert after.carried


def test_an_empty_book_says_that_all_stays_as_planned(tmp_path: Path) -> None:
    book, file = tmp_path / "sale.xlsx", tmp_path / "next.toml"
    book.write_bytes(sample_book("first-sale"))
    talk = proposed(file, book)
    assert "No line of takings tells what sold" in talk.text
    assert load_plan(file).wares == load_plan(SAMPLES["first-sale"]).wares


def test_the_plan_alone_goes_to_standard_output(book: Path) -> None:
    talk = proposed(Path("-"), book)
    assert len(talk.shown) == 1
    assert talk.shown[0].startswith("# A plan for salebook")


def test_a_plan_that_is_there_is_not_replaced_unasked(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(FileError, match="is there already"):
        proposed(file, book)
    with pytest.raises(FileError, match="stays as it is"):
        asked(file, book, "no")
    assert file.read_text(encoding="utf-8") == "mine"
    asked(file, book, "yes", *[""] * 6)
    assert load_plan(file).sale.title == "Spring shed sale"


def test_a_plan_that_came_meanwhile_is_not_written_over_unasked(book: Path, tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    talk = Talk(*[""] * 6, "no")

    def ask(prompt: str) -> str:
        file.write_text("somebody else's", encoding="utf-8")
        return talk.ask(prompt)

    with pytest.raises(FileError, match="stays as it is"):
        ask_for_next_plan(book, file, today=None, clock=CLOCK, ask=ask, say=talk.say, on_terminal=True)
    assert file.read_text(encoding="utf-8") == "somebody else's"


def test_who_stops_leaves_nothing_behind(book: Path, tmp_path: Path) -> None:
    with pytest.raises(SalebookError, match="Stopped: nothing was written"):
        asked(tmp_path / "plan.toml", book, "")
    assert list(tmp_path.iterdir()) == []


def test_without_a_terminal_it_says_what_to_do(book: Path, tmp_path: Path) -> None:
    with pytest.raises(WrongUseError, match=r"start --from .*\.xlsx .*plan\.toml --yes"):
        asked(tmp_path / "plan.toml", book, on_terminal=False)


@pytest.mark.parametrize("write", [proposed, asked])
def test_a_place_that_cannot_be_written_is_told_before_anything_is_asked(
    write: Callable[..., Talk], book: Path, tmp_path: Path
) -> None:
    with pytest.raises(FileError, match="no such folder"):
        write(tmp_path / "no" / "plan.toml", book)


@pytest.mark.parametrize(
    ("name", "content", "says"),
    [
        ("plan.toml", b"format = 1", "--from takes the filled-in workbook of a sale"),
        ("missing.xlsx", None, "there is no such file"),
        ("broken.xlsx", b"PK\x03\x04", "broken.xlsx"),
    ],
)
def test_what_is_no_book_is_told(
    name: str, content: bytes | None, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book = tmp_path / name
    if content is not None:
        book.write_bytes(content)
    assert main(["start", "--from", str(book), str(tmp_path / "next.toml"), "--yes"]) in {1, 2}
    assert says in capsys.readouterr().err
    assert not (tmp_path / "next.toml").exists()


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["--from", "sale.xlsx", "--blank"], "leave out --blank and --all"),
        (["--from", "sale.xlsx", "--all"], "leave out --blank and --all"),
        (["--yes"], "--yes takes what --from BOOK proposes"),
        (["--from", ""], "is empty"),
        (["--from", "sale.xlsx", "--today", "soon"], "expected a date"),
    ],
)
def test_what_does_not_go_together_is_refused(
    arguments: list[str], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["start", *arguments]) == 2
    assert says in capsys.readouterr().err
