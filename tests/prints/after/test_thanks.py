"""Thanks to those who gave pieces."""

from salebook.event.report import Report
from salebook.prints.after.letter import thanks_html
from tests.support.finished_sale import TODAY, accounts, accounts_with, rows
from tests.support.print_sales import made
from tests.support.small_event import FIRST, line


def thanks(report: Report) -> str:
    return made(thanks_html, report, report.givers[0], today=TODAY)


def test_a_giver_reads_what_the_pieces_raised() -> None:
    text = thanks(accounts())
    assert '<p class="amount">£10.87</p>' in text
    assert "Carved spoon 1 of 2 14.50 3.63 (25 %) 10.87" in rows(text)
    assert "Your own part of it, £3.63" in text
    assert "What was not sold is yours again" in text


def test_it_carries_the_day() -> None:
    assert '<p class="whole">28 June 2027</p>' in thanks(accounts())


def test_a_giver_who_keeps_nothing_reads_of_no_part() -> None:
    text = thanks(accounts_with(("keeps = 0.25", "")))
    assert '<p class="amount">£14.50</p>' in text
    assert "part" not in text[text.index("<main>") :]


def test_pieces_that_were_not_sold_are_thanked_for_too() -> None:
    text = thanks(accounts(line(1, piece=FIRST)))
    assert "Thank you for what you gave" in text
    assert 'class="amount"' not in text
