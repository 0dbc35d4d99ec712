"""Pieces that go through stages, each with a share lost that is only believed: how likely is enough?"""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import betabinom

from salebook.base.beta import Beta
from salebook.base.stages import chances_by_stage, fewest_to_start

BELIEVED = ("0.03", "0.03", "0.02", "0.04", "0.05")
COUNTED = ((0, 47), (1, 46), (1, 45), (5, 44), (4, 39))
LOSSES = tuple(
    Beta.believed(Decimal(share), worth=20).updated(lost, of)
    for share, (lost, of) in zip(BELIEVED, COUNTED, strict=True)
)

weights = st.decimals("0.05", "300", places=2)
losses = st.lists(st.builds(Beta, weights, weights), min_size=1, max_size=5).map(tuple)


def chance_by_scipy(losses: tuple[Beta, ...], started: int, wanted: int) -> float:
    """Follow the pieces forwards: how many may be left after each stage, and how likely each number is."""
    left = np.zeros(started + 1)
    left[started] = 1
    numbers = np.arange(started + 1)
    for loss in losses:
        survive = [betabinom.pmf(numbers, n, float(loss.without), float(loss.with_it)) for n in numbers]
        left = left @ np.array(survive)
    return float(left[wanted:].sum())


@given(losses=losses, started=st.integers(1, 40), wanted=st.integers(0, 40))
def test_the_chance_of_enough_is_that_of_scipys_beta_binomials(
    losses: tuple[Beta, ...], started: int, wanted: int
) -> None:
    chances = chances_by_stage(losses, wanted, started)
    assert chances[0][started] == pytest.approx(chance_by_scipy(losses, started, wanted), abs=1e-10)
    assert chances[-1][started] == pytest.approx(chance_by_scipy(losses[-1:], started, wanted), abs=1e-10)


@given(losses=losses, wanted=st.integers(1, 20), confidence=st.floats(0.5, 0.99))
def test_the_number_to_start_is_the_smallest_that_is_sure_enough(
    losses: tuple[Beta, ...], wanted: int, confidence: float
) -> None:
    most = 80
    started = fewest_to_start(losses, wanted, confidence, most)
    chances = chances_by_stage(losses, wanted, most)[0]
    assert all(chance < confidence for chance in chances[:started])
    assert started > most or chances[started] >= confidence - 1e-9


def test_the_mean_alone_would_start_too_few() -> None:
    # A planned worked example: 36 wanted, as sure as 0.9.
    chances = chances_by_stage(LOSSES, 36, 60)[0]
    assert [round(chances[started], 4) for started in (50, 52)] == [0.8461, 0.9116]
    assert chances[51] < 0.9
    assert fewest_to_start(LOSSES, 36, 0.9, 6000) == 52


def test_a_loss_that_is_surely_none_takes_nothing() -> None:
    surely_none = Beta(Decimal(0), Decimal(30))
    assert fewest_to_start((surely_none,), 36, 0.999, 6000) == 36
    assert chances_by_stage((surely_none, *LOSSES), 36, 52)[0] == pytest.approx(
        chances_by_stage(LOSSES, 36, 52)[0]
    )


def test_no_number_that_a_sale_can_hold_may_be_enough() -> None:
    assert fewest_to_start((Beta(Decimal(19), Decimal(1)),), 36, 0.999, 500) == 501


def test_nothing_is_wanted_of_a_ware_that_leaves_it_to_the_target() -> None:
    assert fewest_to_start(LOSSES, 0, 0.9, 6000) == 0
