from pathlib import Path

import pytest

from salebook.prints.before.price_list import price_list_html
from tests.support.browser import printed
from tests.support.finished_sale import rows
from tests.support.print_sales import labels_table, made, sale
from tests.support.programs import needs_chromium, needs_poppler


def test_wares_seconds_and_donated_pieces_stand_with_sizes_and_prices() -> None:
    assert rows(made(price_list_html, sale())) == [
        "Made by Millrace studio Height × width, about Price",
        "Lantern Wash by hand 14 × 7 cm £28.00",
        "Lantern seconds, with a small flaw 14 × 7 cm £12.00",
        "Piece Price",
        "Carved spoon given by A neighbour part of the price goes back to the giver £14.00",
    ]


def test_the_groups_shares_are_said_in_words() -> None:
    text = made(price_list_html, sale())
    assert "Village library</strong>: 2 of 3 parts" in text
    assert "Towpath rangers</strong>: 1 of 3 parts" in text
    assert "What comes in, less what goes back to givers, goes to:" in text


@pytest.mark.parametrize(
    ("more", "says"),
    [
        (
            '[[overheads]]\nname = "hall"\namount = 20\nmet_by = "sale"\n',
            "less the costs of the sale and what",
        ),
        ('[[overheads]]\nname = "hall"\namount = 20\nmet_by = "sponsor"\n', "less what goes back to givers"),
        ('[[payments]]\nname = "card"\npercent = 2\nshare = 1\n', "less fees for paying and what"),
    ],
)
def test_only_what_comes_off_in_this_plan_is_said_to_come_off(more: str, says: str) -> None:
    assert says in made(price_list_html, sale(more=more))


def test_a_way_to_pay_that_goes_straight_to_a_group_says_so() -> None:
    more = """
[[payments]]
name = "cash"
share = 0.5
cash = true

[[payments]]
name = "tin"
share = 0.5
paid_to = "Village library"
"""
    assert "cash · tin (straight to Village library)" in made(price_list_html, sale(more=more))


def test_the_list_says_that_a_price_is_no_gift_and_whom_to_ask() -> None:
    text = made(price_list_html, sale())
    assert "not a gift for tax purposes" in text
    assert "ask each group whether its name may stand here, and check local rules" in text


def test_the_number_that_promises_rest_on_is_named() -> None:
    asked = sale(labels=labels_table(promise=True))
    half = asked.advice.target.for_sale // 2
    assert f"once {half} pieces are sold" in made(price_list_html, asked)
    assert "once" not in made(price_list_html, sale())


@needs_chromium
@needs_poppler
def test_what_is_for_the_maker_alone_is_shown_on_the_screen_and_not_printed(tmp_path: Path) -> None:
    text = made(price_list_html, sale())
    found = " ".join(word.text for word in printed(text, tmp_path).words)
    assert "Village library" in found
    assert "ask each group" not in found
