import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.making.losses import (
    Run,
    chance_of_enough,
    good_share,
    one_loss,
    run_of,
    started_for,
    surviving_share,
)
from tests.support.sound_plan import GONE, Place, plan_with

SHARES = st.floats(min_value=0.02, max_value=1)
CONFIDENCES = st.floats(min_value=0.5, max_value=0.999)


def run_with(*changes: tuple[Place, object]) -> Run:
    plan = plan_with(*changes)
    return run_of(plan.wares[0], plan)


def with_losses(**losses: str) -> tuple[Place, object]:
    return ("wares", 0, "losses"), {stage: Decimal(loss) for stage, loss in losses.items()}


def exact_chance(started: int, wanted: int, share: float) -> float:
    terms = (
        math.comb(started, good) * share**good * (1 - share) ** (started - good)
        for good in range(wanted, started + 1)
    )
    return math.fsum(terms)


@given(started=st.integers(0, 60), wanted=st.integers(0, 62), share=SHARES)
def test_the_chance_is_the_sum_of_its_terms(started: int, wanted: int, share: float) -> None:
    assert chance_of_enough(started, wanted, share) == pytest.approx(
        exact_chance(started, wanted, share), abs=1e-12
    )


@given(wanted=st.integers(1, 400), share=SHARES, confidence=CONFIDENCES)
def test_the_number_started_is_the_smallest_that_is_enough(
    wanted: int, share: float, confidence: float
) -> None:
    started = started_for(wanted, share, confidence)
    assert chance_of_enough(started, wanted, share) >= confidence - 1e-9
    assert started == wanted or chance_of_enough(started - 1, wanted, share) < confidence


@pytest.mark.parametrize(
    ("wanted", "share", "confidence", "expected"),
    [(1, 0.5, 0.75, 2), (1, 0.5, 0.875, 3), (1, 0.5, 0.9375, 4), (2, 0.5, 0.5, 3), (3, 1.0, 0.999, 3)],
)
def test_a_chance_that_is_just_enough_is_enough(
    wanted: int, share: float, confidence: float, expected: int
) -> None:
    assert started_for(wanted, share, confidence) == expected


@given(
    wanted=st.integers(1, 300),
    shares=st.tuples(SHARES, SHARES),
    confidence=CONFIDENCES,
)
def test_more_loss_never_means_fewer_started(
    wanted: int, shares: tuple[float, float], confidence: float
) -> None:
    worse, better = sorted(shares)
    assert started_for(wanted, worse, confidence) >= started_for(wanted, better, confidence)


@given(started=st.integers(0, 300), wanted=st.integers(0, 300), share=SHARES)
def test_one_more_started_never_lowers_the_chance(started: int, wanted: int, share: float) -> None:
    fewer, more = (chance_of_enough(number, wanted, share) for number in (started, started + 1))
    assert 0 <= fewer <= more + 1e-14 <= 1 + 1e-13


@pytest.mark.parametrize("share", [0.02, 0.5, 0.97])
def test_ten_thousand_wanted_are_reckoned_as_well(share: float) -> None:
    started = started_for(10_000, share, 0.999)
    chances = [chance_of_enough(number, 10_000, share) for number in (started - 1, started)]
    assert chances[0] < 0.999 <= chances[1]


@pytest.mark.parametrize(("share", "confidence"), [(0.0, 0.9), (0.5, 1.0), (0.5, 0.0)])
def test_what_no_number_can_reach_is_refused(share: float, confidence: float) -> None:
    with pytest.raises(ValueError, match="good share must be above 0"):
        started_for(1, share, confidence)


def test_shares_multiply_from_stage_to_stage() -> None:
    ware = plan_with(with_losses(throwing="0.1", drying="0.2", biscuit="0.25", glaze="0.5")).wares[0]
    assert surviving_share(ware) == Decimal("0.27")
    assert good_share(ware) == Decimal("0.2565")


def test_each_stage_counts_from_the_number_started() -> None:
    run = run_with(with_losses(throwing="0.5", drying="0.5", biscuit="0.5"), (("wares", 0, "wanted"), 10))
    assert run.to_biscuit == math.ceil(run.started / 4)
    assert run.to_glaze == math.ceil(run.started / 8)


def test_without_losses_exactly_what_is_wanted_is_started() -> None:
    run = run_with(with_losses(), (("wares", 0, "seconds"), Decimal(0)))
    assert (run.started, run.to_biscuit, run.to_glaze, run.for_sale) == (24, 24, 24, 24)
    assert run.chance_of_enough == 1


def test_losses_that_the_plan_leaves_out_are_the_usual_ones() -> None:
    run = run_with((("wares", 0, "losses"), GONE), (("wares", 0, "seconds"), Decimal(0)))
    assert run.good_share == Decimal("0.97") ** 2 * Decimal("0.98") * Decimal("0.96")


@pytest.mark.parametrize(("price", "for_sale"), [((), 24), ((9,), 24 + 4)])
def test_seconds_are_for_sale_where_they_have_a_price(price: tuple[int, ...], for_sale: int) -> None:
    """36 started, 89 % of them survive and 15 % of those are seconds: 4.8."""
    prices = [(("wares", 0, "seconds_price"), amount) for amount in price]
    run = run_with((("wares", 0, "seconds"), Decimal("0.15")), *prices)
    assert (run.started, run.seconds, run.for_sale) == (36, 4, for_sale)
    assert run.seconds_for_sale == for_sale - 24


@pytest.mark.parametrize(("batch", "expected"), [(31, 1), (30, 2), (10, 4)])
def test_the_last_batch_may_be_a_small_one(batch: int, expected: int) -> None:
    assert run_with((("making",), {"batch": batch})).batches == expected


def test_the_chance_lies_between_those_with_one_piece_lost_and_one_saved() -> None:
    run = run_with()
    certain = one_loss(run)
    assert certain.more < run.chance_of_enough < certain.fewer
    share = float(run.good_share)
    mixed = share * certain.fewer + (1 - share) * certain.more
    assert mixed == pytest.approx(run.chance_of_enough, abs=1e-12)
