"""Amounts that were not typed follow from the other lines of the same piece."""

from dataclasses import fields
from decimal import Decimal

from salebook.event.posted_line import PostedLine
from tests.support.small_event import FIRST, UNNUMBERED, after, amounts_of, line, remarks_of


def test_a_piece_that_came_back_once_is_sold_once_more_and_no_further() -> None:
    event = after(
        line(1, piece=FIRST), line(2, "refund", FIRST, "28"), line(3, piece=FIRST), line(4, piece=FIRST)
    )
    assert [28, -28, 28, 0] == amounts_of(event)
    assert remarks_of(event) == ["", "", "", "sold twice"]


def test_a_piece_is_not_sold_again_while_a_part_of_its_price_was_kept() -> None:
    event = after(line(1, piece=FIRST), line(2, "refund", FIRST, "27.50"), line(3, piece=FIRST))
    assert [28, Decimal("-27.50"), 0] == amounts_of(event)


def test_what_was_typed_for_a_sale_is_reckoned_against_what_was_given_back() -> None:
    event = after(line(1, piece=FIRST, amount="20"), line(2, "refund", FIRST, "20"), line(3, piece=FIRST))
    assert [20, -20, 28] == amounts_of(event)


def test_the_first_line_on_a_numbered_piece_is_known_as_such() -> None:
    event = after(line(3, piece=FIRST), line(1, "deposit", FIRST, "5"), line(2, piece=UNNUMBERED))
    assert [True, False, False] == [counted.is_first for counted in event.state.lines]


def test_what_was_left_to_pay_is_asked_for_where_some_was_given_back() -> None:
    """Given back before the balance or after it? The lines cannot say, so nothing is taken as final."""
    event = after(line(1, "deposit", FIRST, "10"), line(2, "balance", FIRST), line(3, "refund", FIRST, "20"))
    assert remarks_of(event) == ["", "how much?", ""]
    typed = after(
        line(1, "deposit", FIRST, "10"), line(2, "balance", FIRST, "18"), line(3, "refund", FIRST, "20")
    )
    assert remarks_of(typed) == ["", "", ""]
    assert [10, 18, -20] == amounts_of(typed)


def test_a_line_that_counts_says_all_that_each_stage_found_out() -> None:
    event = after(line(1, piece=FIRST), line(2, piece=UNNUMBERED), line(3, "donation", amount="5"))
    said = {field.name for field in fields(PostedLine)}
    assert [said] * 3 == [said & set(dir(counted)) for counted in event.state.lines]
