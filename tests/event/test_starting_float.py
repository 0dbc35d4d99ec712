from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.event.denominations import denominations_for
from salebook.event.starting_float import SALES_WITHOUT_CHANGE, starting_float

POUNDS = denominations_for("GBP").values


def in_pounds(*prices: str) -> dict[str, int]:
    found = starting_float([Decimal(price) for price in prices], POUNDS)
    return {str(face): count for face, count in found.items()}


@pytest.mark.parametrize(
    ("prices", "expected"),
    [
        (["16"], {"2": 20}),  # 4 back of 20, ten times
        (["36"], {"10": 10, "2": 20}),  # 14 back of 50
        (["12.50", "3.70"], {"5": 5, "2": 5, "1": 5, "0.50": 5, "0.20": 5, "0.10": 5}),  # 7.50 and 1.30
        (["120"], {"20": 10, "10": 10}),  # three notes of 50
        (["20", "5", "0.50"], {}),
        ([], {}),
    ],
)
def test_change_is_for_ten_sales_each_price_in_turn(prices: list[str], expected: dict[str, int]) -> None:
    assert in_pounds(*prices) == expected


def test_of_many_prices_the_first_ten_are_sold() -> None:
    assert in_pounds(*["19"] * 10, "0.01") == {"1": 10}


@given(prices=st.lists(st.decimals("0.01", "400", places=2), min_size=1, max_size=12))
def test_the_first_sales_get_their_change_to_the_penny(prices: list[Decimal]) -> None:
    """What is paid is a coin, a note, or several of the largest note; less its price it is the change."""
    asked = [prices[number % len(prices)] for number in range(SALES_WITHOUT_CHANGE)]
    paid = [
        min((face for face in POUNDS if face >= price), default=(price + Decimal("49.99")) // 50 * 50)
        for price in asked
    ]
    found = starting_float(prices, POUNDS)
    assert sum(face * count for face, count in found.items()) == sum(paid) - sum(asked)
    assert list(found) == sorted(found, reverse=True)
