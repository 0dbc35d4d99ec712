"""`salebook start --from`: the plan of the next sale from a filled-in workbook."""

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


def proposed(file: Path, book: Path = FILLED_IN, *, today: date | None = None) -> Talk:
    talk = Talk()
    write_as_proposed(book, file, today=today, clock=CLOCK, say=talk.say)
    return talk


def asked(file: Path, *lines: str, book: Path = FILLED_IN, on_terminal: bool = True) -> Talk:
    talk = Talk(*lines)
    ask_for_next_plan(
        book, file, today=None, clock=CLOCK, ask=talk.ask, say=talk.say, on_terminal=on_terminal
    )
    return talk


def test_a_whole_weekend_becomes_the_next_plan_which_is_sound_and_priced(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "next.toml"
    assert main(["start", "--from", str(FILLED_IN), str(file), "--yes", "--today", "2027-07-01"]) == 3
    shown = capsys.readouterr()
    assert "Harbour mug, lost in the glaze firing: 4.3 %, from 2 of 39 (planned: 4 %)." in shown.out
    assert "Harbour mug at £20.00: 63.4 % sell, from 17 of 35 (planned: 89.3 %)." in shown.out
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


def test_in_the_middle_of_a_sale_nothing_is_learned_of_what_sells(tmp_path: Path) -> None:
    file = tmp_path / "next.toml"
    talk = proposed(file, today=date(2027, 6, 19))
    assert "The sale is not over yet" in talk.text
    assert load_plan(file).wares[0].demand == load_plan(SAMPLES["harbour-weekend"]).wares[0].demand


def test_an_empty_book_says_that_all_stays_as_planned(tmp_path: Path) -> None:
    book, file = tmp_path / "sale.xlsx", tmp_path / "next.toml"
    book.write_bytes(sample_book("first-sale"))
    talk = proposed(file, book)
    assert "No line of takings tells what sold" in talk.text
    assert load_plan(file).wares == load_plan(SAMPLES["first-sale"]).wares


def test_the_plan_alone_goes_to_standard_output() -> None:
    talk = proposed(Path("-"))
    assert len(talk.shown) == 1
    assert talk.shown[0].startswith("# A plan for salebook")


def test_a_plan_that_is_there_is_not_replaced_unasked(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(FileError, match="is there already"):
        proposed(file)
    with pytest.raises(FileError, match="stays as it is"):
        asked(file, "no")
    assert file.read_text(encoding="utf-8") == "mine"
    asked(file, "yes", *[""] * 14)
    assert load_plan(file).sale.title == "Harbour lamps pottery weekend"


def test_who_stops_leaves_nothing_behind(tmp_path: Path) -> None:
    with pytest.raises(SalebookError, match="Stopped: nothing was written"):
        asked(tmp_path / "plan.toml", "")
    assert list(tmp_path.iterdir()) == []


def test_without_a_terminal_it_says_what_to_do(tmp_path: Path) -> None:
    with pytest.raises(WrongUseError, match=r"start --from .*\.xlsx .*plan\.toml --yes"):
        asked(tmp_path / "plan.toml", on_terminal=False)


@pytest.mark.parametrize("write", [proposed, asked])
def test_a_place_that_cannot_be_written_is_told_before_anything_is_asked(
    write: "type[Talk]", tmp_path: Path
) -> None:
    with pytest.raises(FileError, match="no such folder"):
        write(tmp_path / "no" / "plan.toml")


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
