"""The table for a bookkeeper."""

import csv
import io
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings

from salebook.event.entries import Banked, Line
from salebook.prints.after.statement_csv import statement_csv
from tests.support.finished_sale import accounts, accounts_with
from tests.support.small_event import SECOND_DAY, line, messy_lines

BALANCED = ("received", "fee", "cost", "giver's part", "given by name", "share", "missing")


def table(text: str) -> list[list[str]]:
    assert text.startswith("\ufeff")
    return list(csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline="")))


def test_a_row_for_each_day_kind_and_way_and_each_cost() -> None:
    found = table(statement_csv(accounts()))
    assert found[0] == ["part", "day", "kind", "way to pay", "name", "note", "amount in GBP"]
    for row in (
        ["received", "2027-06-19", "Pieces sold", "cash", "", "", "28.00"],
        ["received", "2027-06-19", "Gifts on top of a price", "cash", "", "", "2.00"],
        ["received", "2027-06-20", "Raffle", "cash", "", "", "71.25"],
        ["fee", "", "", "card", "", "by the plan", "-0.30"],
        ["cost", "", "other cost", "", "hall", "as paid", "-4.00"],
        ["share", "", "", "", "Tide ~ mill", "", "-36.72"],
        ["paid to group", "2027-06-20", "", "", "Tide ~ mill", "", "10.00"],
        ["arrived in the bank", "2027-06-20", "", "", "", "", "60.00"],
        ["cash difference", "2027-06-19", "", "", "till 1", "", "-0.50"],
        ["given in kind", "", "clay", "", "buff", "maker, as planned", "12.00"],
    ):
        assert row in found


def test_money_without_a_way_to_pay_is_said_to_be_not_known() -> None:
    found = table(statement_csv(accounts(line(1, "raffle", amount="2", way=""))))
    assert ["received", "2027-06-19", "Raffle", "not known", "", "", "2.00"] in found


def test_what_should_be_in_the_bank_and_what_arrived_stand_by_way_to_pay() -> None:
    banked = (Banked(day=SECOND_DAY, what=" Card", arrived=Decimal("16.20")),)
    found = table(statement_csv(accounts_with(banked=banked)))
    for row in (
        ["arrived in the bank", "2027-06-20", "", "card", "", "", "16.20"],
        ["should be in the bank", "", "", "card", "", "", "14.20"],
        ["bank difference", "", "", "card", "", "open", "2.00"],
    ):
        assert row in found


def test_cash_paid_out_makes_up_for_what_is_expected() -> None:
    box = replace(accounts().event.entries.cash[0], paid_out=Decimal("3.20"))
    found = table(statement_csv(accounts_with(cash=(box,))))
    cash = {row[0]: row[-1] for row in reversed(found) if row[1] == "2027-06-19" and row[4] == "till 1"}
    assert cash == {
        "paid out of the cash box": "-3.20",
        "cash expected": "31.80",
        "cash counted": "34.50",
        "cash difference": "2.70",
    }


@given(messy_lines())
@settings(deadline=None)
def test_what_came_in_and_where_it_went_add_up_to_nothing(lines: tuple[Line, ...]) -> None:
    rows = table(statement_csv(accounts(*(lines or (line(1),)))))
    assert sum(Decimal(row[-1]) for row in rows if row[0] in BALANCED) == 0


@pytest.mark.parametrize("begins", ["=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠"])
def test_a_text_that_a_spreadsheet_program_would_run_is_escaped(begins: str) -> None:
    report = accounts()
    hostile = report.plan.donated[0].model_copy(update={"maker": f"{begins}1+1"})
    plan = report.plan.model_copy(update={"donated": (hostile,)})
    changed = replace(report, reckoning=replace(report.reckoning, plan=plan))
    names = [row[4] for row in table(statement_csv(changed)) if row[0] == "giver's part"]
    assert names == [f"'{begins}1+1"]


def test_numbers_are_not_escaped() -> None:
    text = statement_csv(accounts())
    assert ",-4.00\r\n" in text
    assert "'-" not in text


def test_lines_end_as_the_standard_says() -> None:
    text = statement_csv(accounts())
    assert text.count("\r\n") == text.count("\n")


def test_a_delimiter_of_another_locale_does_not_split_a_text() -> None:
    text = statement_csv(accounts_with(('name = "hall"', 'name = "hall; =1+1"')))
    assert '"hall; =1+1"' in text
