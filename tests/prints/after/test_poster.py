"""The poster after the sale."""

import re

import pytest

from salebook.prints.after.poster import poster_after_html
from tests.support.finished_sale import accounts, accounts_with
from tests.support.print_sales import made
from tests.support.small_event import line


def test_what_was_raised_and_for_whom_is_there() -> None:
    text = made(poster_after_html, accounts())
    assert "£118.15" in text
    assert re.findall(r"<td>(.*?)</td>", text) == ["£73.43", "£44.72"]
    assert "39 % of the £300.00 that we hoped for" in text


@pytest.mark.parametrize(("target", "width"), [("300", "39.4"), ("1", "100.0"), ("100000", "0.1")])
def test_the_bar_is_as_long_as_the_target_is_reached(target: str, width: str) -> None:
    text = made(poster_after_html, accounts_with(("target = 300", f"target = {target}")))
    assert f'<div style="width:{width}%">' in text


def test_without_a_target_there_is_no_bar() -> None:
    assert 'class="bar"' not in made(poster_after_html, accounts_with(("target = 300", "target = 0")))


def test_nothing_raised_is_nothing() -> None:
    text = made(poster_after_html, accounts(line(1, "raffle", amount="1")))
    assert "£0.00" in text
    assert "Nothing to share yet" in text
