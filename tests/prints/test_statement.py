"""The statement for all groups."""

import re

import pytest

from salebook.prints.statement import statement_html
from tests.event.table import FIRST, line
from tests.prints.accounts import LETTER_PAPER, accounts, accounts_with, rows


def test_every_line_of_the_account_is_there() -> None:
    found = rows(statement_html(accounts()))
    for row in (
        "Pieces sold 44.50",
        "Deposits 5.00",
        "Raffle 71.25",
        "Takings 120.75",
        "cash 106.25",
        "card 14.50",
        "Given for Tide ~ mill 2.00",
        "Fees for card 1.75 % + 1 × £0.05 0.30",
        "bags for each piece sold 0.67",
        "hall as paid 4.00",
        "Giver's part for A neighbour 3.63",
        "Money to share 110.15",
        "buff maker, as planned 12.00",
        "Sat 19 Jun 20.00 55.00 54.50 -0.50 Ivy Marsh Otto Reed",
        "Tide ~ mill 1 36.72 2.00 38.72 10.00 28.72 6.00",
        "All groups 3 110.15 2.00 112.15 10.00 102.15 6.00",
    ):
        assert row in [each.replace("Sat, ", "Sat ") for each in found]


def test_the_account_adds_up_as_it_is_printed() -> None:
    found = rows(statement_html(accounts()))
    first = next(index for index, row in enumerate(found) if row.startswith("Given for "))
    last = next(index for index, row in enumerate(found) if row.startswith("Money to share"))
    pence = [round(float(row.split()[-1]) * 100) for row in found[first : last + 1]]
    takings = next(row for row in found if row.startswith("Takings"))
    assert sum(pence) == round(float(takings.split()[-1]) * 100)


def test_the_fee_on_a_statement_is_said_to_be_one() -> None:
    report = accounts_with(actual_fees={"card": accounts().plan.sale.target})
    assert "Fees for card by the statement 300.00" in rows(statement_html(report))


def test_hours_are_there_only_where_they_are_asked_for() -> None:
    work = ("[[overheads]]", '[[work]]\nname = "throwing"\nper = "sale"\nminutes = 120\n[[overheads]]')
    report = accounts_with(work)
    assert "work" not in statement_html(report)
    assert "The maker's work given, not paid 2 h" in rows(statement_html(report, with_hours=True))


def test_columns_that_nobody_needs_are_left_out() -> None:
    text = statement_html(accounts(line(1, piece=FIRST)))
    assert "Received itself" not in text
    assert "Given by name" not in text


def test_money_not_yet_arrived_and_still_to_pay_is_said() -> None:
    text = statement_html(accounts())
    assert "£9.00 is promised and has not arrived" in text
    assert "Still to pay: £102.15; of it in the bank: £50.00." in text


@pytest.mark.parametrize(("currency", "is_said"), [("GBP", False), ("CHF", True)])
def test_cash_is_said_to_be_rounded_only_where_it_is(currency: str, is_said: bool) -> None:
    report = accounts_with(("target = 300", f'target = 300\ncurrency = "{currency}"'))
    assert is_said == ("Cash is rounded" in statement_html(report))


def test_rules_defer_to_the_group_and_local_rules() -> None:
    text = statement_html(accounts())
    for words in ("not a gift for tax", "raffles and collections have local rules", "not related count"):
        assert words in text


def test_on_letter_paper_dollars_are_written_as_there() -> None:
    text = statement_html(accounts_with(*LETTER_PAPER))
    assert re.search(r"size: 215\.9mm 279\.4mm", text)
    assert "$120.75 came in." in text
