"""Numbers in words become digits, and nothing else changes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.base.errors import UnfitError
from salebook.start.spoken_numbers import SMALL, in_digits, number_in


@pytest.mark.parametrize(
    ("text", "digits"),
    [
        ("ten ounces", "10 ounces"),
        ("twenty-five", "25"),
        ("a hundred", "100"),
        ("a dozen", "12"),
        ("three dozen", "36"),
        ("4 thousand euros", "4000 euros"),
        ("one thousand two hundred", "1200"),
        ("two thousand four hundred and fifty", "2450"),
        ("five hundred thousand", "500000"),
        ("100ish", "100"),
        ("thirty-ish", "30"),
        ("about a hundred or so", "100"),
        ("~28p", "28p"),
        ("one and two", "1 and 2"),
        ("two fifty", "2 50"),
        ("1.5 thousand", "1.5 thousand"),
        ("weight 9 oz", "weight 9 oz"),
        ("stoneware", "stoneware"),
    ],
)
def test_numbers_in_words_become_digits(text: str, digits: str) -> None:
    assert digits == in_digits(text)


@given(st.sampled_from(sorted(SMALL)), st.sampled_from(sorted(SMALL)))
def test_thousands_and_what_follows_add_up(thousands: str, rest: str) -> None:
    assert in_digits(f"{thousands} thousand and {rest}") == str(1000 * SMALL[thousands] + SMALL[rest])


def test_a_number_has_a_range() -> None:
    assert number_in("a hundred or so", 1, 100) == 100
    with pytest.raises(UnfitError, match="a whole number from 1 to 99"):
        number_in("a hundred", 1, 99)
