"""The filled-in sample is what its script makes, is read whole, and shows what is wrong on purpose."""

from pathlib import Path

import pytest

from salebook.book.read import read_book
from salebook.cli import main
from salebook.plan.load import load_plan
from salebook.samples import FILLED, FULL, own_samples
from tests.filled_sample import filled_book

WRONG = (
    *("line 15: sold twice", "line 18: no such piece", "line 21: how was it paid?"),
    *("the time is not one", "the amount is not a number", "there is no such kind of line"),
    "line 43: no such group",
)


def test_the_sample_is_what_its_script_makes(tmp_path: Path) -> None:
    fresh = tmp_path / "fresh.xlsx"
    fresh.write_bytes(filled_book())
    sample, made = read_book(own_samples() / FILLED), read_book(fresh)
    assert (made.plan, made.entries, made.stored) == (sample.plan, sample.entries, sample.stored)


def test_the_sample_has_sixty_lines_on_the_full_samples_plan() -> None:
    sample = read_book(own_samples() / FILLED)
    assert (60, load_plan(own_samples() / FULL)) == (len(sample.entries.lines), sample.plan)


def test_all_that_is_wrong_on_purpose_is_told_and_nothing_else(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(own_samples() / FILLED)]) == 3
    told = [line for line in capsys.readouterr().out.splitlines() if "to look at" in line]
    assert [False] * len(WRONG) == [not any(says in line for line in told) for says in WRONG]
    assert len(told) == len(WRONG)


def test_the_demo_shows_the_weekend_and_its_accounts(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["demo", str(tmp_path)]) == 0
    assert FILLED in capsys.readouterr().out
    assert (tmp_path / FILLED).read_bytes() == (own_samples() / FILLED).read_bytes()
    assert list((tmp_path / "accounts").glob("statement*"))
