"""Inputs are found by section and key, wherever they stand."""

import pytest

from tests.support.inputs import input_place
from tests.support.small_books import TITLE, book_of

BOOK = book_of(
    {
        "A2": "[sale]",
        "B2": "label",
        "C2": "value",
        "A4": "sale.target",
        "C4": 820,
        "A7": "[wares]",
        "B7": "code",
        "D7": "price",
        "A9": "wares",
        "B9": "MUG",
        "D9": 22,
        "A10": "wares",
        "B10": "JUG",
        "D10": 38,
        "A13": "[wares]",
        "B13": "of.code",
        "C13": "seconds",
        "A15": "wares",
        "B15": "=B9",
        "C15": 0.05,
        "B17": "MUG",
        "D17": 99,
    },
    {"B15": "MUG"},
)


def test_an_entry_is_found_by_its_section_and_key() -> None:
    assert input_place(BOOK, TITLE, "sale", "target") == (TITLE, "C4")


def test_a_row_is_found_by_what_it_shows() -> None:
    assert input_place(BOOK, TITLE, "wares", "price", {"code": "MUG"}) == (TITLE, "D9")
    assert input_place(BOOK, TITLE, "wares", "price", {"code": "JUG", "price": 38}) == (TITLE, "D10")


def test_a_row_is_found_in_the_part_of_the_table_that_has_the_key() -> None:
    assert input_place(BOOK, TITLE, "wares", "seconds", {"code": "MUG"}) == (TITLE, "C15")


@pytest.mark.parametrize("code", ["POT", "mug"])
def test_an_input_that_is_not_there_is_not_guessed(code: str) -> None:
    with pytest.raises(LookupError, match="0 inputs are wares"):
        input_place(BOOK, TITLE, "wares", "price", {"code": code})


def test_an_input_that_could_be_two_is_not_guessed() -> None:
    twice = book_of(
        {"A1": "[wares]", "B1": "code", "A3": "wares", "B3": "MUG", "A4": "wares", "B4": "MUG"}, {}
    )
    with pytest.raises(LookupError, match="2 inputs are wares"):
        input_place(twice, TITLE, "wares", "code", {"code": "MUG"})
