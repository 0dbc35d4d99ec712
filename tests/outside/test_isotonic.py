"""Isotonic regression, beside a published example and another library."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression

from salebook.forecast.learned.isotonic import falling, rising

WEIGHED = st.lists(st.tuples(st.integers(0, 50), st.integers(1, 50)), min_size=1, max_size=12)


def test_the_example_of_isoreg_comes_out() -> None:
    # R, package stats, isoreg: the first example of its help page.
    values = [Decimal(value) for value in (1, 0, 4, 3, 3, 5, 4, 2, 0)]
    half, three = Decimal("0.5"), Decimal(3)
    assert rising(values, [Decimal(1)] * 9) == (half, half, *[three] * 7)


@given(WEIGHED)
def test_scipy_finds_the_same(weighed: list[tuple[int, int]]) -> None:
    values, weights = ([Decimal(part) for part in parts] for parts in zip(*weighed, strict=True))
    others = isotonic_regression([float(v) for v in values], weights=[float(w) for w in weights])
    assert [float(v) for v in rising(values, weights)] == pytest.approx(list(others.x), abs=1e-12)
    down = isotonic_regression(
        [float(v) for v in values], weights=[float(w) for w in weights], increasing=False
    )
    assert [float(v) for v in falling(values, weights)] == pytest.approx(list(down.x), abs=1e-12)
