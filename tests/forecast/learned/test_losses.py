"""The studio tally says how many went into each stage, and how many of them were lost."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pytest

from salebook.forecast.learned.losses import (
    LossSeen,
    loads_for,
    losses_seen,
    pieces_in_loads,
    seen_after,
    worth_of_firing,
)
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import Seen, SeenLoss, Ware
from tests.support.past_sale import harbour, past

MUG, BOWL, _JUG = harbour().plan.wares


def seen_by(**counts: Any) -> tuple[LossSeen, ...]:
    forecast = past(studio={"MUG": StudioCount(**counts)})
    return losses_seen(forecast.reckoning, forecast.event)


def ends(**counts: Any) -> Mapping[str, tuple[int, int]]:
    return {seen.stage: (seen.lost, seen.entered) for seen in seen_by(**counts)}


@pytest.mark.parametrize(
    ("pieces", "loads", "counts"), [(40, 2, "13.79"), (40, 40, "40.00"), (20, 1, "6.90"), (3, 5, "3.00")]
)
def test_pieces_that_share_a_firing_count_for_fewer(pieces: int, loads: int, counts: str) -> None:
    assert f"{worth_of_firing(pieces, loads):.2f}" == counts


@pytest.mark.parametrize(
    ("pieces", "in_loads", "loads"),
    [
        *((40, (20, 20, 4), 2), (41, (20, 20, 4), 3), (60, (20, 20, 4), 3)),
        *((1, (20, 20), 1), (5, (), 1), (0, (), 1)),
    ],
)
def test_loads_are_filled_as_planned_one_after_the_other(
    pieces: int, in_loads: tuple[int, ...], loads: int
) -> None:
    assert loads_for(pieces, in_loads) == loads


def test_the_loads_of_a_ware_are_those_in_which_it_lies() -> None:
    loading = harbour().studio.loadings[0]
    in_loads = pieces_in_loads(loading)
    assert {code: sum(pieces) for code, pieces in in_loads.items()} == {
        run.ware.code: run.to_biscuit for run in harbour().studio.runs
    }
    assert all(0 < len(pieces) <= len(loading.loads) for pieces in in_loads.values())


@pytest.mark.parametrize(
    ("counts", "expected"),
    [
        (
            {"thrown": 44, "dry": 42, "biscuit": 41, "good": 36, "seconds": 1, "broken": 5},
            {"drying": (2, 44), "biscuit": (1, 42), "glaze": (2, 39), "seconds": (1, 37)},
        ),
        (
            {"thrown": 44, "dry": 42, "biscuit": 41, "good": 36, "seconds": 1},
            {"drying": (2, 44), "biscuit": (1, 42), "glaze": (4, 41), "seconds": (1, 37)},
        ),
        ({"thrown": 44, "biscuit": 41, "good": 36}, {"glaze": (5, 41)}),
        ({"good": 30, "seconds": 0}, {"seconds": (0, 30)}),
        ({"thrown": 20, "dry": 0, "broken": 20}, {"drying": (20, 20)}),
        ({"thrown": 0, "dry": 0, "biscuit": 0, "good": 0, "seconds": 0}, {}),
        ({}, {}),
    ],
)
def test_a_stage_is_known_where_both_its_ends_were_counted(
    counts: dict[str, int], expected: Mapping[str, tuple[int, int]]
) -> None:
    assert ends(**counts) == expected


def test_only_what_is_fired_counts_for_fewer() -> None:
    seen = {each.stage: each for each in seen_by(thrown=44, dry=42, biscuit=41, good=36, seconds=1)}
    assert [stage for stage, each in seen.items() if each.is_discounted] == ["biscuit", "glaze"]
    glaze = seen["glaze"].as_key
    assert float(glaze.lost / glaze.entered) == pytest.approx(4 / 41, abs=1e-4)


def test_five_of_forty_lost_move_four_per_cent_that_are_worth_twenty() -> None:
    seen = LossSeen(ware=MUG, stage="glaze", lost=5, entered=40, counts_as=Decimal(40))
    assert seen.before == Decimal("0.04")
    assert round(seen.after, 7) == Decimal("0.0966667")


def test_what_was_counted_before_is_added_to() -> None:
    before = Seen.model_validate({"drying": [1, 46], "throwing": [0, 47]})
    ware = MUG.model_copy(update={"seen": before})
    seen = LossSeen(ware=ware, stage="drying", lost=2, entered=44, counts_as=Decimal(44))
    after = seen_after(ware, (seen,))
    assert after.drying == SeenLoss(lost=Decimal(3), entered=Decimal(90))
    assert after.throwing == before.throwing
    assert seen_after(BOWL, (seen,)) == BOWL.seen


@pytest.mark.parametrize("ware", harbour().plan.wares, ids=lambda ware: ware.code)
def test_a_ware_that_nobody_tallied_says_nothing(ware: Ware) -> None:
    assert seen_after(ware, ()) == Seen()


def test_counts_beyond_what_a_plan_takes_keep_their_share() -> None:
    drying = seen_by(thrown=400_000, dry=300_000)
    after = seen_after(MUG, drying).drying
    assert after == SeenLoss(lost=Decimal(25_000), entered=Decimal(100_000))
    again = seen_after(MUG.model_copy(update={"seen": Seen(drying=after)}), drying).drying
    assert again == after
