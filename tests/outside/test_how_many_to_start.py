"""How many to start: binomials and yields against textbooks and a reference library."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import binom, norm

from salebook.making.losses import chance_of_enough, run_of, started_for, surviving_share
from salebook.making.studio_tally import curve_at, still_to_throw
from salebook.plan.model import Making
from tests.support.sound_plan import plan_with

HALF_OF_THE_LAST = 5.1e-5
"""The book prints four digits."""


def chance_of_at_most(good: int, started: int, share: float) -> float:
    return 1 - chance_of_enough(started, good + 1, share)


def chance_of_exactly(good: int, started: int, share: float) -> float:
    return chance_of_enough(started, good, share) - chance_of_enough(started, good + 1, share)


# OpenStax, Introductory Statistics, chapter 4.3, CC BY-NC-SA 4.0; numbers only.
# https://openstax.org/books/introductory-statistics-2e/pages/4-3-binomial-distribution
AT_MOST = [
    (12, 20, 0.41, 0.9738),
    (6, 100, 8 / 560, 0.9994),
    (8, 200, 0.015, 0.9965),
    (10, 150, 0.09, 0.1987),
    (4, 100, 0.03, 0.8179),
]
MORE_THAN = [(3, 100, 8 / 560, 0.0557), (25, 150, 0.09, 0.0009), (5, 15, 0.281, 0.2246)]
EXACTLY = [
    (2, 100, 8 / 560, 0.2466),
    (5, 200, 0.015, 0.1011),
    (6, 200, 0.015, 0.0500),
    (15, 150, 0.09, 0.0988),
    (3, 15, 0.281, 0.1927),
    (4, 15, 0.281, 0.2259),
]


@pytest.mark.parametrize(("good", "started", "share", "printed"), AT_MOST)
def test_at_most_so_many(good: int, started: int, share: float, printed: float) -> None:
    assert chance_of_at_most(good, started, share) == pytest.approx(printed, abs=HALF_OF_THE_LAST)


@pytest.mark.parametrize(("good", "started", "share", "printed"), MORE_THAN)
def test_more_than_so_many(good: int, started: int, share: float, printed: float) -> None:
    assert chance_of_enough(started, good + 1, share) == pytest.approx(printed, abs=HALF_OF_THE_LAST)


@pytest.mark.parametrize(("good", "started", "share", "printed"), EXACTLY)
def test_exactly_so_many(good: int, started: int, share: float, printed: float) -> None:
    assert chance_of_exactly(good, started, share) == pytest.approx(printed, abs=HALF_OF_THE_LAST)


def test_seven_heads_of_ten() -> None:
    """The same book: exactly 11/64."""
    assert chance_of_enough(10, 7, 0.5) == pytest.approx(11 / 64, abs=1e-15)


def test_a_print_that_added_rounded_terms_is_put_right() -> None:
    """The same book prints 0.0153 for more than 3 of 5 at 0.25; the terms unrounded add up to 0.015625."""
    assert chance_of_enough(5, 4, 0.25) == pytest.approx(0.015625, abs=1e-15)


# Worked from the binomial distribution, as scipy has it: the smallest number, its chance, the chance of one
# fewer.
STARTS = [
    (20, 0.90, 0.90, (24, 0.91493, 0.80727)),
    (20, 0.90, 0.95, (25, 0.96660, 0.91493)),
    (20, 0.85, 0.90, (26, 0.91667, 0.83848)),
    (20, 0.85, 0.95, (27, 0.96024, 0.91667)),
    (1, 0.50, 0.95, (5, 0.96875, 0.93750)),
    (10, 0.80, 0.95, (16, 0.97334, 0.93895)),
    (12, 0.95, 0.95, (14, 0.96995, 0.86458)),
    (50, 0.90, 0.95, (60, 0.96579, 0.93341)),
    (100, 0.90, 0.90, (116, 0.92978, 0.88999)),
]


@pytest.mark.parametrize(("wanted", "share", "confidence", "expected"), STARTS)
def test_the_smallest_number_that_is_enough(
    wanted: int, share: float, confidence: float, expected: tuple[int, float, float]
) -> None:
    started, chance, one_fewer = expected
    assert started_for(wanted, share, confidence) == started
    assert chance_of_enough(started, wanted, share) == pytest.approx(chance, abs=6e-6)
    assert chance_of_enough(started - 1, wanted, share) == pytest.approx(one_fewer, abs=6e-6)


@given(started=st.integers(0, 5000), wanted=st.integers(1, 5000), share=st.floats(0.02, 0.999))
def test_chances_agree_with_scipy(started: int, wanted: int, share: float) -> None:
    assert chance_of_enough(started, wanted, share) == pytest.approx(
        float(binom.sf(wanted - 1, started, share)), abs=1e-12
    )


@given(wanted=st.integers(1, 10_000), share=st.floats(0.02, 0.98), confidence=st.floats(0.5, 0.999))
def test_the_number_to_start_agrees_with_scipy(wanted: int, share: float, confidence: float) -> None:
    started = started_for(wanted, share, confidence)
    assert binom.sf(wanted - 1, started, share) >= confidence - 2e-9
    assert started == wanted or binom.sf(wanted - 1, started - 1, share) < confidence


@pytest.mark.parametrize("confidence", [0.5, 0.8, 0.9, 0.95, 0.99, 0.999])
def test_the_curve_of_the_studio_tally_is_the_normal_one_of_scipy(confidence: float) -> None:
    assert curve_at(confidence) == pytest.approx(float(norm.ppf(confidence)), abs=1e-12)


@given(wanted=st.integers(1, 300), share=st.floats(0.4, 0.98), confidence=st.floats(0.5, 0.99))
def test_the_tallys_number_to_throw_is_within_two_pieces_of_the_exact_one(
    wanted: int, share: float, confidence: float
) -> None:
    """Two more are enough by scipy's binomials, and three fewer are not."""
    number = still_to_throw(wanted, 0.0, share, confidence)
    assert binom.sf(wanted - 1, number + 2, share) >= confidence
    assert number - 3 < wanted or binom.sf(wanted - 1, number - 3, share) < confidence


@pytest.mark.parametrize("lot", range(1, 7))
@pytest.mark.parametrize("share", [1 / 2, 2 / 3])
def test_a_lot_has_no_good_piece_as_often_as_a_reject_allowance_takes_it_to(share: float, lot: int) -> None:
    """Introduction to Operations Research, McGraw-Hill, "Determining reject allowances".

    A lot of L has none with (1/2)^L where each is good with 1/2, and with (1/3)^L where it is with 2/3.
    """
    assert 1 - chance_of_enough(lot, 1, share) == pytest.approx((1 - share) ** lot, abs=1e-15)


def test_what_must_come_through_four_stages_is_good_as_often_as_the_textbook_says() -> None:
    """Four meals, each good with 0.9044, are all good with 0.6690.

    Introduction to Statistical Quality Control, Wiley, chapter 1 (from memory).
    """
    losses = dict.fromkeys(("throwing", "drying", "biscuit", "glaze"), 1 - Decimal("0.9044"))
    ware = plan_with((("wares", 0, "losses"), losses)).wares[0]
    assert float(surviving_share(ware)) == pytest.approx(0.6690, abs=5e-5)


def test_yields_of_the_stages_multiply() -> None:
    """Rolled throughput yield: 0.95 x 0.84 x 0.88 = 0.70, printed to 0.01 (Minitab support documentation).

    No standard or textbook with the same was found. Of 1000 labels 950, 800 and 700 came through: the page's
    shares are rounded and multiply to 0.70224.
    """
    losses = {"throwing": Decimal("0.05"), "drying": Decimal("0.16"), "biscuit": Decimal("0.12")}
    ware = plan_with((("wares", 0, "losses"), losses)).wares[0]
    assert float(surviving_share(ware)) == pytest.approx(0.70, abs=0.005)


def test_a_batch_is_what_is_thrown_in_a_row() -> None:
    """20 to 25 pieces are thrown in a row (common practice, no source)."""
    assert 20 <= Making().batch <= 25


def test_a_small_jug_takes_a_ball_of_ten_ounces() -> None:
    """10 oz, 283.5 g: common practice, no source. Ounce: 28.349523125 g, NIST Handbook 44, Appendix C."""
    plan = plan_with((("wares", 0, "ball"), "10 oz"))
    ball = run_of(plan.wares[0], plan).ware.ball
    assert float(ball.g) == pytest.approx(283.5, abs=0.05)
