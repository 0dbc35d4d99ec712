"""Binomial chances against an open textbook, as chances of a takings target with pieces that bring 1 each.

Source: Introductory Statistics, sections 4.2, 4.3 and 4.6, OpenStax, CC BY-NC-SA 4.0; numbers only.
https://openstax.org/books/introductory-statistics-2e/pages/4-3-binomial-distribution
"""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.signal import fftconvolve
from scipy.stats import binom

from salebook.plan.model import Plan
from salebook.pricing.chance import Lot, chance_of_reaching
from salebook.pricing.outcome import chance_over
from tests.support.priced_sales import a_plan, a_ware, costed
from tests.support.strategies import at_most


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


def test_the_pieces_expected_are_the_books_mean_over_its_days() -> None:
    """Section 4.2: no, one or two days with chances 0.2, 0.5 and 0.3 are 1.1 in the long run.

    Ten pieces of which 0.1 sell for each day: 1.1 are expected to sell.
    """
    days = [(0, "0.2"), (1, "0.5"), (2, "0.3")]
    outlooks = [{"name": f"{count}", "weight": weight, "factor": count} for count, weight in days]
    goods, _costs = costed(a_plan(wares=[a_ware(wanted=10, sells="0.1")], outlooks=outlooks))
    assert [Decimal("1.1")] == [good.expected_sold for good in goods]


KINDS_OF_DAY = ((0.25, 0.6), (0.5, 1.0), (0.25, 1.2))
"""Weight, and factor on what sells."""

Table = list[tuple[int, int]]
"""Of each kind of piece the price in pence, and how many."""


def a_mixed_table(table: Table, sells: float) -> Plan:
    wares = [
        a_ware(f"W{number}", wanted=count, price=str(Decimal(pence) / 100), sells=str(sells))
        for number, (pence, count) in enumerate(table)
    ]
    outlooks = [
        {"name": f"{factor}", "weight": str(weight), "factor": str(factor)} for weight, factor in KINDS_OF_DAY
    ]
    return a_plan(wares=wares, outlooks=outlooks)


def chances_of_takings(table: Table, share: float) -> NDArray[np.float64]:
    """Return the chance of each sum in pence: scipy's binomials spread out, and its convolution."""
    sums = np.ones(1)
    for pence, count in table:
        spread = np.zeros(pence * count + 1)
        spread[::pence] = binom.pmf(np.arange(count + 1), count, share)
        sums = fftconvolve(sums, spread)
    return sums


def chance_by_scipy(table: Table, sells: float, pence: int) -> float:
    days = ((weight, min(1.0, sells * factor)) for weight, factor in KINDS_OF_DAY)
    return sum(weight * float(chances_of_takings(table, share)[pence:].sum()) for weight, share in days)


@given(
    table=st.lists(st.tuples(st.integers(1, 900), st.integers(1, 30)), min_size=2, max_size=4),
    sells=st.sampled_from([0.2, 0.5, 0.8]),
    part=st.floats(0.2, 0.9),
)
@at_most(30)
def test_a_mixed_table_over_all_kinds_of_day_agrees_with_scipy(
    table: Table, sells: float, part: float
) -> None:
    plan = a_mixed_table(table, sells)
    pence = round(part * sum(price * count for price, count in table))
    found = chance_over(costed(plan)[0], plan.outlooks, Decimal(pence) / 100)
    assert found == pytest.approx(chance_by_scipy(table, sells, pence), abs=1e-8)


@pytest.mark.parametrize("part", [0.35, 0.5, 0.6])
def test_a_table_with_more_sums_than_can_be_kept_is_right_to_a_thousandth(part: float) -> None:
    """Some 36 million numbers of pieces of each kind: a grid stands in for the sums."""
    table = [(317, 75), (451, 75), (563, 75), (709, 80)]
    plan = a_mixed_table(table, 0.5)
    pence = round(part * sum(price * count for price, count in table))
    found = chance_over(costed(plan)[0], plan.outlooks, Decimal(pence) / 100)
    assert found == pytest.approx(chance_by_scipy(table, 0.5, pence), abs=0.001)
