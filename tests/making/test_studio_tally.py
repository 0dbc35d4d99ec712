import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.making.losses import Run, chance_of_enough, run_of
from salebook.making.studio_tally import (
    StudioCount,
    shares_ahead,
    still_to_throw,
    studio_state_of,
    studio_states,
)
from tests.support.sound_plan import plan_with
from tests.support.strategies import at_most

CONFIDENCE = 0.9
LOSSES = {
    "throwing": Decimal("0.1"),
    "drying": Decimal("0.2"),
    "biscuit": Decimal("0.5"),
    "glaze": Decimal("0.25"),
}


def run(wanted: int = 20, **losses: str) -> Run:
    """Return a run with losses that are easy to reckon by hand."""
    given_losses = LOSSES | {stage: Decimal(loss) for stage, loss in losses.items()}
    plan = plan_with(
        (("wares", 0, "wanted"), wanted),
        (("wares", 0, "losses"), given_losses),
        (("wares", 0, "seconds"), Decimal(0)),
    )
    return run_of(plan.wares[0], plan)


def test_losses_that_lie_behind_no_longer_count() -> None:
    assert shares_ahead(run()) == pytest.approx((0.8 * 0.5 * 0.75, 0.5 * 0.75, 0.75))


def test_pieces_stand_where_they_were_last_counted() -> None:
    """40 thrown, 30 of them dry, 18 of those fired, 8 of those done, 2 broken: taken from the wet ones."""
    count = StudioCount(thrown=40, dry=30, biscuit=18, good=6, seconds=2, broken=2)
    found = studio_state_of(run(), count, CONFIDENCE)
    assert (found.wet, found.dry, found.biscuit, found.on_the_way) == (8, 12, 10, 30)
    assert found.likely == pytest.approx(6 + 8 * 0.3 + 12 * 0.375 + 10 * 0.75)
    assert found.spread == pytest.approx(8 * 0.3 * 0.7 + 12 * 0.375 * 0.625 + 10 * 0.75 * 0.25)
    assert found.short == pytest.approx(20 - 20.4 - 0.5)


def test_a_count_that_was_left_out_adds_nothing_to_what_is_likely() -> None:
    assert studio_state_of(run(), StudioCount(thrown=10), CONFIDENCE).likely == pytest.approx(3)


def test_seconds_are_no_firsts() -> None:
    plan = plan_with((("wares", 0, "losses"), LOSSES), (("wares", 0, "seconds"), Decimal("0.2")))
    assert shares_ahead(run_of(plan.wares[0], plan)) == pytest.approx((0.24, 0.3, 0.6))


@pytest.mark.parametrize(
    ("missing", "spread", "expected"),
    [("10.5", "100", 52), ("10.5", "4", 31), ("0.5", "0", 0), ("10.5", "0", 28)],
)
def test_the_normal_curve_says_how_many_more(missing: str, spread: str, expected: int) -> None:
    """At one and a half standard deviations, half the pieces good: m/2 - 10 = 1.5 × √(spread + m/4).

    So m = (10.5625 + √(10.5625² - 100 + 2.25 × spread)) × 2: 51.9, 30.2 and 27.9 where ten are wanting.
    """
    at_one_and_a_half = 0.9331927987311419
    assert still_to_throw(float(missing), float(spread), 0.5, at_one_and_a_half) == expected


@pytest.mark.parametrize(
    ("count", "expected"),
    [
        (StudioCount(thrown=10, broken=3), (7, 0, 0)),
        (StudioCount(thrown=10, dry=9, broken=3), (0, 7, 0)),
        (StudioCount(thrown=10, dry=9, biscuit=9, broken=4), (0, 0, 6)),
        (StudioCount(thrown=10, biscuit=4), (6, 0, 4)),
        (StudioCount(biscuit=4), (0, 0, 4)),
        (StudioCount(good=4, seconds=1), (0, 0, 0)),
        (StudioCount(thrown=10, broken=30), (0, 0, 0)),
        (StudioCount(), (0, 0, 0)),
    ],
)
def test_broken_pieces_come_from_those_least_far_on(
    count: StudioCount, expected: tuple[int, int, int]
) -> None:
    found = studio_state_of(run(), count, CONFIDENCE)
    assert (found.wet, found.dry, found.biscuit) == expected


def test_before_anything_is_counted_the_plan_says_how_many() -> None:
    assert studio_state_of(run(), StudioCount(), CONFIDENCE).to_throw == run().started


def test_when_enough_are_out_nothing_more_is_thrown() -> None:
    assert studio_state_of(run(20), StudioCount(good=20), CONFIDENCE).to_throw == 0
    assert studio_state_of(run(20), StudioCount(good=19), CONFIDENCE).to_throw > 0


def test_a_bad_kiln_asks_for_more_than_a_good_one() -> None:
    good = studio_state_of(run(), StudioCount(thrown=60, dry=50, biscuit=40), CONFIDENCE)
    bad = studio_state_of(run(), StudioCount(thrown=60, dry=50, biscuit=10, broken=30), CONFIDENCE)
    assert good.to_throw == 0
    assert bad.to_throw > 20


def test_wares_stand_in_plan_order() -> None:
    plan = plan_with()
    runs = tuple(run_of(ware, plan) for ware in plan.wares)
    last = runs[-1].ware.code
    found = studio_states(runs, {last: StudioCount(good=3)}, CONFIDENCE)
    assert [one.run.ware.code for one in found] == [ware.code for ware in plan.wares]
    assert [one.count.good for one in found] == [None] * (len(runs) - 1) + [3]


def exact_to_throw(wanted: int, count: StudioCount) -> int:
    """Return the smallest number by adding up every number of pieces that may come through."""
    made = run(wanted, drying="0.05", biscuit="0.05", glaze="0.05")
    found = studio_state_of(made, count, CONFIDENCE)
    chances = [1.0]
    stages = zip((found.wet, found.dry, found.biscuit), shares_ahead(made), strict=True)
    for pieces, share in stages:
        chances = convolved(chances, binomial(pieces, share))
    for more in range(500):
        enough = math.fsum(
            chance * chance_of_enough(more, wanted - (count.good or 0) - good, float(made.good_share))
            for good, chance in enumerate(chances)
        )
        if enough >= CONFIDENCE:
            return more
    raise AssertionError("no number is enough")


def binomial(pieces: int, share: float) -> list[float]:
    return [
        math.comb(pieces, good) * share**good * (1 - share) ** (pieces - good) for good in range(pieces + 1)
    ]


def convolved(one: list[float], two: list[float]) -> list[float]:
    sums = [0.0] * (len(one) + len(two) - 1)
    for first, chance in enumerate(one):
        for second, other in enumerate(two):
            sums[first + second] += chance * other
    return sums


@at_most(80)
@given(st.integers(1, 60), st.integers(0, 40), st.integers(0, 40), st.integers(0, 40), st.integers(0, 40))
def test_how_many_more_is_within_two_pieces_of_exact(
    wanted: int, wet: int, dry: int, fired: int, good: int
) -> None:
    count = StudioCount(
        thrown=1 + wet + dry + fired + good, dry=dry + fired + good, biscuit=fired + good, good=good
    )
    made = run(wanted, drying="0.05", biscuit="0.05", glaze="0.05")
    found = studio_state_of(made, count, CONFIDENCE)
    assert abs(found.to_throw - exact_to_throw(wanted, count)) <= 2


@given(st.integers(0, 30), st.integers(0, 30), st.integers(0, 30))
def test_one_more_good_piece_never_asks_for_more(thrown: int, fired: int, good: int) -> None:
    made = run(25)
    counts = [StudioCount(thrown=thrown + 40, biscuit=fired, good=number) for number in (good, good + 1)]
    fewer, more = (studio_state_of(made, count, CONFIDENCE) for count in counts)
    assert more.to_throw <= fewer.to_throw
    assert more.on_the_way + more.count.done == fewer.on_the_way + fewer.count.done


PLANNED = 0.9 * 0.8 * 0.5 * 0.75


@pytest.mark.parametrize(
    ("count", "expected"),
    [
        (StudioCount(), None),
        (StudioCount(thrown=30, dry=25, broken=9), None),
        (StudioCount(thrown=20, good=0, broken=20), None),
        (StudioCount(thrown=20, good=8, seconds=2, broken=10), 0.9 * 8 / 20),
        (StudioCount(good=10), 0.9),
        (StudioCount(thrown=30, dry=18, broken=12), 0.9 * 18 * 0.375 / 30),
        (StudioCount(thrown=12, good=10, broken=20), 0.9 * 10 / 30),
    ],
)
def test_losses_seen_count_once_ten_ends_are_known(count: StudioCount, expected: float | None) -> None:
    """Throwing loses one in ten by the plan and is counted by nobody; of the dry ones 37.5 % come through."""
    found = studio_state_of(run(), count, CONFIDENCE)
    assert found.seen_share == (None if expected is None else pytest.approx(expected))
    assert found.good_share == pytest.approx(PLANNED if expected is None else expected)


def test_what_is_still_to_throw_follows_the_losses_seen_and_says_what_the_plan_would() -> None:
    """8 of 20 came through where the plan has 6: of 20 wanted 12 are missing."""
    found = studio_state_of(run(), StudioCount(thrown=20, good=8, broken=12), CONFIDENCE)
    assert found.to_throw == still_to_throw(12, 0, 0.9 * 0.4, CONFIDENCE)
    assert found.to_throw_as_planned == still_to_throw(12, 0, PLANNED, CONFIDENCE)
    assert found.to_throw < found.to_throw_as_planned
    assert found.differs


def test_losses_seen_change_nothing_once_enough_is_there() -> None:
    found = studio_state_of(run(), StudioCount(thrown=40, good=22, broken=18), CONFIDENCE)
    assert (found.to_throw, found.to_throw_as_planned, found.differs) == (0, 0, False)


@given(good=st.integers(1, 15), broken=st.integers(9, 30))
def test_a_piece_more_that_broke_never_makes_fewer_to_throw(good: int, broken: int) -> None:
    def more(lost: int) -> int:
        count = StudioCount(thrown=good + lost, good=good, broken=lost)
        return studio_state_of(run(), count, CONFIDENCE).to_throw

    assert more(broken + 1) >= more(broken) or broken + good < 11
