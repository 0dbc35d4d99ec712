"""What is given to a command and does not do is told in plain words."""

import pytest

from salebook.base.terminal import printable
from salebook.cli import main
from tests.support.command_line import FIRST


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (("price", FIRST, "--today", "tomorrow"), "'--today' is tomorrow: expected a date as year-month-day"),
        (("price", FIRST, "--today", "20270301"), "'--today' is 20270301: expected a date"),
        (
            ("report", "a.xlsx", "-o", "x", "--up-to", "2027-02-30"),
            "'--up-to' is 2027-02-30: expected a date",
        ),
        (
            ("make", FIRST, "-o", "x", "--tills", "51"),
            "'--tills' is 51: expected a whole number from 0 to 50",
        ),
        (("make", FIRST, "-o", "x", "--tills", "two"), "'--tills' is two: expected a whole number"),
        (("labels", FIRST, "--skip", "-1"), "'--skip' is -1: expected a whole number from 0"),
        (("price", ""), "'PLAN' is empty: name a file or folder"),
        (("report", "a.xlsx", "-o", "-"), "'--out' is standard output, which cannot hold several files"),
        (("renew", "-"), "'BOOK' is standard input, which cannot hold a workbook"),
        (("join", "a.xlsx", "-o", "b.txt"), "is b.txt, which is no name for a workbook"),
    ],
)
def test_an_argument_that_does_not_do_is_named_with_what_was_expected(
    arguments: tuple[object, ...], says: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([str(argument) for argument in arguments]) == 2
    written = capsys.readouterr().err
    assert says in written
    assert "Invalid" not in written


def test_a_day_is_read_as_year_month_and_day(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["price", str(FIRST), "--today", "2027-03-01", "--json"]) == 0
    assert '"today": "2027-03-01"' in capsys.readouterr().out


def test_the_spaces_in_an_amount_are_shown_as_spaces() -> None:
    written = "1\N{NARROW NO-BREAK SPACE}234,50\N{NO-BREAK SPACE}€"
    assert printable(written) == "1 234,50 €"
