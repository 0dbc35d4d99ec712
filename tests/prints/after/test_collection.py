"""The list and the slips of what is still to hand over."""

from salebook.event.report import Report
from salebook.prints.after.collection import collection_html
from tests.support.finished_sale import TODAY, accounts, accounts_with, rows
from tests.support.print_sales import made
from tests.support.small_event import FIRST, line


def collection(report: Report) -> str:
    return made(collection_html, report, today=TODAY)


def test_every_claim_has_a_row_and_a_slip() -> None:
    text = collection(accounts())
    assert rows(text)[1:] == [
        "C1 Ada Quill 01632 960123 the blue one MAY-005 Mug to fetch 5.00 13.00",
        "C2 Ben Oss 4 Mill Row ordered: 4 × Thimble dot to send 0.00 6.00",
    ]
    assert text.count('<section class="slip">') == 2
    assert "To pay: £13.00" in text


def test_it_says_on_which_day_it_stood_so() -> None:
    assert "as it stood on 28 June 2027" in collection(accounts())


def test_nothing_to_hand_over_is_said_and_leaves_no_empty_slips() -> None:
    text = collection(accounts(line(1, piece=FIRST)))
    assert "Everything is handed over." in text
    assert 'class="slips"' not in text


def test_what_to_pay_in_coins_is_said_where_coins_differ() -> None:
    in_francs = ("target = 300", 'target = 300\ncurrency = "CHF"')
    odd = ("seconds_price = 18", "seconds_price = 18.02")
    text = collection(accounts_with(in_francs, odd)).replace("\xa0", "")
    assert "CHF13.02 (in coins CHF13.00)" in text


def test_the_maker_is_told_to_delete_it() -> None:
    assert "delete this file" in collection(accounts())
