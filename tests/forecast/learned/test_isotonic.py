"""Numbers that shall not fall, or not rise, are pooled where they do."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.forecast.learned.isotonic import falling, rising

VALUES = st.lists(st.integers(0, 20).map(Decimal), min_size=1, max_size=8)


def alike(values: list[Decimal]) -> list[Decimal]:
    return [Decimal(1)] * len(values)


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ("2 1 5 3", "1.5 1.5 4 4"),
        ("1 2 3", "1 2 3"),
        ("3 2 1", "2 2 2"),
        ("7", "7"),
    ],
)
def test_neighbours_that_fall_become_their_mean(values: str, expected: str) -> None:
    numbers = [Decimal(value) for value in values.split()]
    assert rising(numbers, alike(numbers)) == tuple(Decimal(value) for value in expected.split())


def test_a_heavier_value_draws_the_mean_to_itself() -> None:
    assert rising([Decimal(4), Decimal(1)], [Decimal(2), Decimal(1)]) == (Decimal(3), Decimal(3))


@given(VALUES)
def test_what_falls_is_what_rises_read_backwards(values: list[Decimal]) -> None:
    assert falling(values, alike(values)) == rising(values[::-1], alike(values))[::-1]


@given(VALUES)
def test_the_result_never_falls_and_keeps_the_sum(values: list[Decimal]) -> None:
    found = rising(values, alike(values))
    assert list(found) == sorted(found)
    assert float(sum(found)) == pytest.approx(float(sum(values)))
