"""The letter to one group."""

import re
from datetime import date
from decimal import Decimal

from salebook.event.entries import Banked, Entries, GroupPayment
from salebook.event.receipts import to_pay
from salebook.event.report import Report, report_of
from salebook.prints.after.letter import letter_html
from salebook.prints.after.statement import statement_html, told
from tests.support.finished_sale import LINES, TIDE, TODAY, accounts, accounts_with, rows
from tests.support.print_sales import made
from tests.support.small_event import FIRST, SECOND_DAY, line, sale


def letter(report: Report, number: int = 1) -> str:
    return made(letter_html, report, report.event.share_out.groups[number], today=TODAY)


def test_the_amount_and_how_it_was_reached_are_there() -> None:
    text = letter(accounts())
    assert '<p class="amount">£38.72</p>' in text
    found = rows(text)
    steps = [
        "Takings of the sale 120.75",
        "Money to share 110.15",
        "Your share 1 of 3 parts of 110.15, rounded down, and 0.01 left over 36.72",
    ]
    steps += ["Given for you by name 2.00", "In all 38.72"]
    assert steps == [row for row in found if row in steps]


def test_it_carries_the_day_as_the_locale_says_it() -> None:
    in_german = ("target = 300", 'target = 300\nlocale = "de_CH"')
    assert '<p class="whole">28 June 2027</p>' in letter(accounts())
    assert '<p class="whole">28. Juni 2027</p>' in letter(accounts_with(in_german))


def test_what_comes_off_adds_up_to_what_is_not_shared() -> None:
    account = [row for row in rows(letter(accounts())) if re.search(r"\d\.\d\d$", row)]
    takings, *off, all_off, shared, _share, _named, _total, _paid = (
        Decimal(row.split()[-1]) for row in account
    )
    assert (sum(off), takings - all_off) == (all_off, shared)


def test_a_pool_below_zero_gives_a_group_what_was_given_by_name_and_no_more() -> None:
    text = letter(accounts(line(1, "donation", amount="1", group=TIDE)))
    assert '<p class="amount">£1.00</p>' in text
    assert "Missing, so nothing to share 3.50" in rows(text)
    assert "Your share 1 of 3 parts, but there is nothing to share 0.00" in rows(text)
    assert "£3.50 is missing" in text


def test_a_group_that_gets_nothing_is_not_sent_a_sum_of_nothing() -> None:
    report = accounts(line(1, "raffle", amount="2"))
    text = letter(report)
    assert "What came in does not meet what comes off yet, so there is nothing to share." in text
    assert 'class="amount"' not in text
    assert "You owe nothing, and nothing is to pay." in text
    assert "Nothing to share yet: £1.50 is missing" in list(told(report))[1]


def test_a_refund_after_an_interim_payment_is_said_to_be_taken_off() -> None:
    paid = (GroupPayment(day=SECOND_DAY, group=TIDE, amount=Decimal(10)),)
    refund = line(8, "refund", FIRST, day=SECOND_DAY)
    report = report_of(sale(), Entries(lines=(*LINES, refund), payments=paid))
    says = "Since the first payment, on 20 June 2027, buyers were given back £28.00: that is taken off here."
    assert says in letter(report)
    assert says in made(statement_html, report, today=TODAY)
    assert says in list(told(report))
    assert "given back £" not in letter(report, 0)
    assert "given back £" not in letter(accounts())


def test_late_money_is_named_even_where_all_else_is_paid() -> None:
    paid = (GroupPayment(day=SECOND_DAY, group=TIDE, amount=Decimal("38.72")),)
    text = letter(accounts_with(payments=paid))
    assert "Nothing is left to pay." in text
    assert "your part of it follows as a second payment" in text


def test_money_that_came_late_is_a_second_payment() -> None:
    payments = (
        GroupPayment(day=SECOND_DAY, group="Tide ~ mill", amount=Decimal(30)),
        GroupPayment(day=date(2027, 7, 2), group="Tide ~ mill", amount=Decimal("8.72")),
    )
    text = letter(accounts_with(payments=payments))
    assert ["20 June 2027 30.00", "2 July 2027 8.72"] == [row for row in rows(text) if "2027" in row]
    assert "Nothing is left to pay." in text


def test_another_groups_letter_has_its_own_sums() -> None:
    text = letter(accounts(), 0)
    assert '<p class="amount">£73.43</p>' in text
    assert "Given for you by name" not in text
    assert "straight to you" not in text


def test_payments_and_what_is_still_to_pay_are_said() -> None:
    text = letter(accounts())
    assert "20 June 2027 10.00" in rows(text)
    assert "£28.72 is still to pay: to the account that you named, once the takings are in the bank" in text
    assert "your part of it follows as a second payment" in text
    assert "givers paid £6.00 straight to you" in text


def test_money_that_lies_in_the_bank_is_said_to() -> None:
    banked = (Banked(day=SECOND_DAY, what="all", arrived=Decimal(1000)),)
    assert "It lies in the bank" in letter(accounts_with(banked=banked))


def test_a_group_that_has_all_is_told_so() -> None:
    paid = (GroupPayment(day=SECOND_DAY, group=TIDE, amount=Decimal("3.50")),)
    report = report_of(sale(), Entries(lines=(line(1, "raffle", amount="14"),), payments=paid))
    assert "Nothing is left to pay." in letter(report)


def test_a_group_that_was_paid_too_much_is_told_what_should_come_back() -> None:
    paid = (GroupPayment(day=SECOND_DAY, group=TIDE, amount=Decimal("40.72")),)
    promised = accounts_with(payments=paid)
    says = "You were paid £40.72 and get £38.72: £2.00 too much. Some money is promised"
    assert says in letter(promised)
    assert "keep the £2.00 until then" in letter(promised)
    report = report_of(sale(), Entries(lines=LINES[:-1], payments=paid))
    share = report.event.share_out.groups[1]
    text = letter(report)
    assert f"£{share.overpaid} too much. Please pay the £{share.overpaid} back to us." in text
    assert "Nothing is left to pay." not in text
    told_to_all = f"Tide ~ mill was paid £40.72 and gets £{share.total}: £{share.overpaid} too much"
    statement = made(statement_html, report, today=TODAY)
    assert told_to_all in statement
    assert any(told_to_all in said for said in told(report))
    (row,) = (row for row in rows(statement) if row.startswith(TIDE))
    assert f"40.72 0.00 {share.overpaid}" in row
    assert to_pay(report.event.share_out) == report.event.share_out.groups[0].to_pay


def test_people_are_counted_and_never_named() -> None:
    text = letter(accounts())
    assert sum(stock.sold for stock in accounts().stock) == 2
    assert "<p>2 pieces were sold. Money was given 3 times.</p>" in text
    assert "<p>1 piece was sold.</p>" in letter(accounts(line(1, piece=FIRST)))
    raffle = letter(accounts(line(1, "raffle", amount="1")))
    assert ("sold." in raffle, "Money was given" in raffle) == (False, False)


def test_a_sum_that_coins_cannot_pay_is_said() -> None:
    in_francs = ("target = 300", 'target = 300\ncurrency = "CHF"')
    assert "in coins it can only be paid as CHF28.70" in letter(accounts_with(in_francs)).replace("\xa0", "")
    assert "in coins" not in letter(accounts())
