"""The statement for all groups."""

import re
from dataclasses import replace
from decimal import Decimal

import pytest

from salebook.event.entries import Banked, DayCount
from salebook.event.report import Report
from salebook.prints.after.statement import statement_html, told
from salebook.prints.after.statement_csv import statement_csv
from tests.support.finished_sale import LETTER_PAPER, TODAY, accounts, accounts_with, rows
from tests.support.print_sales import made
from tests.support.small_event import FIRST, FIRST_DAY, SECOND, SECOND_DAY, line


def statement(report: Report, *, with_hours: bool = False) -> str:
    return made(statement_html, report, today=TODAY, with_hours=with_hours)


def test_every_line_of_the_account_is_there() -> None:
    found = rows(statement(accounts()))
    for row in (
        "Pieces sold 42.50",
        "Gifts on top of a price 2.00",
        "Deposits 5.00",
        "Raffle 71.25",
        "Takings 120.75",
        "cash 106.25 0.00 -0.50 105.75 0.00 -105.75 open",
        "card 14.50 0.30 0.00 14.20 0.00 -14.20 open",
        "not known 0.00 0.00 0.00 0.00 60.00 +60.00 open",
        "All ways 120.75 0.30 -0.50 119.95 60.00 -59.95",
        "Given for Tide ~ mill 2.00",
        "Fees for card 1.75 % of 14.50, and 0.05 for 1 payment 0.30",
        "bags 0.333 for each of 2 pieces sold 0.67",
        "hall as paid 4.00",
        "Giver's part for A neighbour 25 % of 14.50 3.63",
        "Comes off in all 10.60",
        "Money to share 110.15",
        "Clay: buff maker 12.00",
        "In all, not from the takings 12.00",
        "Sat 19 Jun 20.00 35.00 55.00 54.50 -0.50 Ivy Marsh Otto Reed",
        "Sun 20 Jun 0.00 71.25 71.25 not counted",
        "All days 106.25 -0.50",
        "Tide ~ mill 1 of 3 parts of 110.15, rounded down, and 0.01 left over "
        "36.72 2.00 38.72 10.00 28.72 6.00",
        "All groups 110.15 2.00 112.15 10.00 102.15 6.00",
        "Mug 5 0 0 4 1 1 at 28.00 28.00",
        "Carved spoon 2 0 0 1 1 1 at 14.50 14.50",
        "Part paid, not sold yet 5.00",
        "In the takings for pieces 37 0 0 35 2 47.50",
    ):
        assert row in [each.replace("Sat, ", "Sat ") for each in found]


def test_the_account_adds_up_as_it_is_printed() -> None:
    found = rows(statement(accounts()))
    first = next(index for index, row in enumerate(found) if row.startswith("Given for "))
    last = next(index for index, row in enumerate(found) if row.startswith("Money to share"))
    *off, all_off, shared = (Decimal(row.split()[-1]) for row in found[first : last + 1])
    takings = next(row for row in found if row.startswith("Takings"))
    assert sum(off) == all_off
    assert all_off + shared == Decimal(takings.split()[-1])


def test_the_day_is_said_as_the_locale_does() -> None:
    in_german = ("target = 300", 'target = 300\nlocale = "de_CH"')
    assert "drawn up on 28 June 2027" in statement(accounts())
    assert "drawn up on 28. Juni 2027" in statement(accounts_with(in_german))


def test_cash_paid_out_has_a_column_only_where_there_was_any() -> None:
    text = statement(accounts())
    assert "Paid out" not in text
    box = replace(accounts().event.entries.cash[0], paid_out=Decimal("3.20"))
    found = rows(statement(accounts_with(cash=(box,))))
    assert "Day Float Cash taken Paid out Should be in it Counted Difference Counted by Checked by" in found
    assert any(row.endswith("20.00 35.00 3.20 51.80 54.50 +2.70 Ivy Marsh Otto Reed") for row in found)
    assert "All days 106.25 3.20 +2.70" in found
    assert "cash 106.25 0.00 3.20 +2.70 105.75 0.00 -105.75 open" in found


def test_what_others_met_is_as_planned_unless_it_was_filled_in() -> None:
    actual = {"clay: buff": Decimal("13.40")}
    assert "Clay: buff maker, as paid 13.40" in rows(statement(accounts_with(actual_costs=actual)))


def test_several_tills_stand_in_a_column_of_their_own() -> None:
    found = rows(statement(accounts(line(1, piece=FIRST), line(1, piece=SECOND, till="2"))))
    assert "Sat 19 Jun 2 0.00 18.00 18.00 not counted" in [each.replace("Sat, ", "Sat ") for each in found]


def test_tills_that_nobody_used_stand_nowhere() -> None:
    found = rows(statement(accounts(line(1, piece=FIRST), line(2, piece=SECOND, till="2"))))
    boxes = [row for row in found if "not counted" in row]
    assert [row.replace("Sat, ", "Sat ")[:12] for row in boxes] == ["Sat 19 Jun 1", "Sat 19 Jun 2"]


def test_a_till_without_a_line_stands_nowhere_unless_its_count_differs() -> None:
    def boxes(*counts: DayCount) -> list[str]:
        report = accounts_with(cash=(*accounts().event.entries.cash, *counts))
        assert ("till 2" in statement_csv(report)) == any(count.total != count.float_ for count in counts)
        return [row for row in rows(statement(report)) if re.match(r"S(at|un)", row)]

    opened = DayCount(day=FIRST_DAY, till="2", float_=Decimal(20), counts={Decimal(10): 2})
    assert boxes(opened) == boxes()
    short = replace(opened, counts={Decimal(10): 1})
    assert [row for row in boxes(short) if "-10.00" in row] != []


def test_two_lines_for_names_stand_below_each_days_cash() -> None:
    found = rows(statement(accounts()))
    (first, second) = (index for index, row in enumerate(found) if row == "Counted: name Checked: name")
    assert found[first - 1].startswith("Sat")
    assert found[second - 1].startswith("Sun")


def test_money_in_the_bank_stands_beside_what_was_taken_explained_or_open() -> None:
    banked = (
        Banked(day=SECOND_DAY, what="cash", arrived=Decimal("107.75")),
        Banked(day=SECOND_DAY, what="card", arrived=Decimal("14.20")),
    )
    open_, explained = (
        rows(statement(accounts_with(banked=banked, bank_reasons=reasons)))
        for reasons in ({}, {"cash": "float paid in too"})
    )
    assert "cash 106.25 0.00 -0.50 105.75 107.75 +2.00 open" in open_
    assert "cash 106.25 0.00 -0.50 105.75 107.75 +2.00 explained: float paid in too" in explained
    assert "card 14.50 0.30 0.00 14.20 14.20" in open_
    says = "cash: £2.00 more arrived in the bank than should, and nobody says why (Cash-up)."
    assert says in told(accounts_with(banked=banked))
    assert says not in told(accounts_with(banked=banked, bank_reasons={"cash": "miscounted"}))


def test_money_that_came_by_no_way_is_set_against_all_that_should_arrive() -> None:
    banked = (Banked(day=SECOND_DAY, what="all of it", arrived=Decimal("121.95")),)
    says = (
        "£121.95 arrived in the bank by no way to pay that is named (Cash-up). "
        "In all £121.95 arrived, and £119.95 should."
    )
    assert says in told(accounts_with(banked=banked))


def test_pieces_that_nobody_counted_are_said_to_be_as_planned() -> None:
    assert "Made as planned, since nobody counted them: Mug and Thimble dot." in statement(accounts())
    counted = accounts_with(made={"MAY": 5, "DOT": 30})
    assert "Made as planned" not in statement(counted)


def test_the_fee_on_a_statement_is_said_to_be_one() -> None:
    report = accounts_with(actual_fees={"card": accounts().plan.sale.target})
    assert "Fees for card by the statement 300.00" in rows(statement(report))


def test_hours_are_there_only_where_they_are_asked_for() -> None:
    work = ("[[overheads]]", '[[work]]\nname = "throwing"\nper = "sale"\nminutes = 120\n[[overheads]]')
    report = accounts_with(work)
    assert "work" not in statement(report)
    assert "The maker gave 2 hours of work besides: given, not paid." in statement(report, with_hours=True)


def test_columns_that_nobody_needs_are_left_out() -> None:
    text = statement(accounts(line(1, piece=FIRST)))
    assert "Straight from givers" not in text
    assert "Given by name" not in text


def test_money_not_yet_arrived_and_still_to_pay_is_said() -> None:
    text = statement(accounts())
    assert "£9.00 is promised and has not arrived" in text
    assert "Still to pay: £102.15; of it in the bank: £50.00." in text


@pytest.mark.parametrize(("currency", "is_said"), [("GBP", False), ("CHF", True)])
def test_cash_is_said_to_be_rounded_only_where_it_is(currency: str, is_said: bool) -> None:
    report = accounts_with(("target = 300", f'target = 300\ncurrency = "{currency}"'))
    assert is_said == ("Cash is rounded" in statement(report))


def test_rules_defer_to_the_group_and_local_rules() -> None:
    text = statement(accounts())
    for words in ("not a gift for tax", "raffles and collections have local rules", "not related count"):
        assert words in text


def test_on_letter_paper_dollars_are_written_as_there() -> None:
    text = statement(accounts_with(*LETTER_PAPER))
    assert re.search(r"size: 215\.9mm 279\.4mm", text)
    assert "$120.75 came in." in text
