"""Binomial chances against an open textbook, as chances of a takings target with pieces that bring 1 each.

Source: Introductory Statistics, sections 4.3 and 4.6, OpenStax, CC BY-NC-SA 4.0; numbers only.
https://openstax.org/books/introductory-statistics-2e/pages/4-3-binomial-distribution
"""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom

from salebook.pricing.chance import Lot, chance_of_reaching


def at_least(number: int, *, of: int, share: float) -> float:
    return chance_of_reaching([Lot(each=Decimal(1), count=of, share=share)], Decimal(number))


@pytest.mark.parametrize(
    ("number", "of", "share", "printed"),
    [
        pytest.param(12, 20, 0.41, 0.9738, id="n = 20, p = 0.41"),
        pytest.param(6, 100, 8 / 560, 0.9994, id="n = 100, p = 8/560"),
        pytest.param(8, 200, 0.015, 0.9965, id="n = 200, p = 0.015"),
        pytest.param(6, 10, 0.5, 1 - 11 / 64, id="n = 10, p = 0.5"),
        pytest.param(10, 150, 0.09, 0.1987, id="n = 150, p = 0.09"),
        pytest.param(4, 100, 0.03, 0.8179, id="n = 100, p = 0.03"),
    ],
)
def test_the_chance_of_at_most_so_many_is_the_printed_one(
    number: int, of: int, share: float, printed: float
) -> None:
    assert printed == pytest.approx(1 - at_least(number + 1, of=of, share=share), abs=5e-5)


@pytest.mark.parametrize(
    ("number", "of", "share", "printed"),
    [
        pytest.param(3, 100, 8 / 560, 0.0557, id="n = 100, p = 8/560"),
        pytest.param(25, 150, 0.09, 0.0009, id="n = 150, p = 0.09"),
        pytest.param(5, 15, 0.281, 0.2246, id="n = 15, p = 0.281"),
        # The book adds rounded terms and prints 0.0153; five tosses at 0.25 give 16/1024.
        pytest.param(3, 5, 0.25, 0.015625, id="n = 5, p = 0.25, the altered coin"),
    ],
)
def test_the_chance_of_more_than_so_many_is_the_printed_one(
    number: int, of: int, share: float, printed: float
) -> None:
    assert printed == pytest.approx(at_least(number + 1, of=of, share=share), abs=5e-5)


@pytest.mark.parametrize(
    ("number", "of", "share", "printed"),
    [
        pytest.param(2, 100, 8 / 560, 0.2466, id="n = 100, p = 8/560"),
        pytest.param(5, 200, 0.015, 0.1011, id="n = 200, p = 0.015, five"),
        pytest.param(6, 200, 0.015, 0.0500, id="n = 200, p = 0.015, six"),
        pytest.param(15, 150, 0.09, 0.0988, id="n = 150, p = 0.09"),
        pytest.param(3, 15, 0.281, 0.1927, id="n = 15, p = 0.281, three"),
        pytest.param(4, 15, 0.281, 0.2259, id="n = 15, p = 0.281, four"),
    ],
)
def test_the_chance_of_just_so_many_is_the_printed_one(
    number: int, of: int, share: float, printed: float
) -> None:
    just = at_least(number, of=of, share=share) - at_least(number + 1, of=of, share=share)

    assert printed == pytest.approx(just, abs=5.1e-5)


@given(st.integers(0, 1000), st.integers(0, 1000), st.floats(0.001, 0.999))
def test_one_kind_of_piece_agrees_with_scipy(number: int, of: int, share: float) -> None:
    assert at_least(number, of=of, share=share) == pytest.approx(
        float(binom.sf(number - 1, of, share)), abs=1e-8
    )


@given(st.integers(0, 3000), st.integers(1, 60), st.integers(1, 60), st.floats(0.01, 0.99))
def test_two_kinds_of_piece_agree_with_scipy(amount: int, mugs: int, jugs: int, share: float) -> None:
    """Mugs bring 12 and jugs 31: each number of jugs with the chance of enough mugs beside it."""
    lots = [Lot(each=Decimal(12), count=mugs, share=share), Lot(each=Decimal(31), count=jugs, share=0.8)]
    due = sum(
        float(binom.pmf(sold, jugs, 0.8) * binom.sf(-(-(amount - 31 * sold) // 12) - 1, mugs, share))
        for sold in range(jugs + 1)
    )
    assert chance_of_reaching(lots, Decimal(amount)) == pytest.approx(due, abs=1e-8)
