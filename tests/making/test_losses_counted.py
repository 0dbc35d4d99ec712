"""Losses that were counted on earlier sales: what is reckoned with, and how many to start."""

from decimal import Decimal

import pytest

from salebook.making.losses import chance_of, doubt_of, one_loss, run_of
from salebook.making.studio_tally import StudioCount, still_to_throw, studio_state_of
from salebook.plan.model import Losses, Plan, Ware
from tests.support.counted_plan import LOSSES, SEEN, counted_vase
from tests.support.sound_plan import GONE, plan_with


def plan(**seen: object) -> Plan:
    return plan_with(*counted_vase(**seen))


def ware(**seen: object) -> Ware:
    return plan(**seen).wares[0]


def test_counts_move_the_losses_that_the_plan_believes() -> None:
    counted = ware()
    assert counted.losses.throwing == Decimal("0.6") / 67
    assert counted.losses.glaze == Decimal("5.8") / 64
    assert counted.seconds == Decimal(5) / 59
    assert counted.losses_believed == Losses(**LOSSES)


def test_a_stage_that_nobody_counted_is_as_believed() -> None:
    assert ware(glaze=[5, 44]).losses.drying == LOSSES["drying"]


def test_losses_that_were_only_assumed_give_way_sooner() -> None:
    assumed = plan_with(
        (("wares", 0, "losses"), GONE), (("wares", 0, "seconds"), GONE), (("wares", 0, "seen"), SEEN)
    ).wares[0]
    assert assumed.losses.glaze == (Decimal("0.4") + 5) / 54
    assert assumed.seconds == Decimal(4) / 49


def test_counts_are_weighed_with_how_sure_they_are() -> None:
    # A planned worked example: the means alone would say 50, which is only 84.61 % sure.
    counted = plan()
    run = run_of(counted.wares[0], counted)
    assert (run.started, round(run.chance_of_enough, 4)) == (52, 0.9116)
    assert round(chance_of(run.ware, 50, 36), 4) == 0.8461


def test_one_loss_is_weighed_in_the_same_way() -> None:
    counted = plan()
    run = run_of(counted.wares[0], counted)
    certain = one_loss(run)
    assert certain.more == pytest.approx(chance_of(run.ware, 51, 36))
    assert certain.more < run.chance_of_enough < certain.fewer


def test_counts_that_bear_out_the_plan_make_it_surer() -> None:
    few, many = (ware(glaze=[Decimal("0.04") * n, n]) for n in (50, 5000))
    assert few.losses.glaze == many.losses.glaze == LOSSES["glaze"]
    assert chance_of(few, 44, 36) < chance_of(many, 44, 36)


def test_the_tally_goes_on_with_as_many_as_the_plan_started() -> None:
    counted = plan()
    run = run_of(counted.wares[0], counted)
    for thrown in range(1, 53):
        state = studio_state_of(run, StudioCount(thrown=thrown), 0.9)
        assert abs(thrown + state.to_throw - run.started) <= 1


def test_a_doubtful_share_asks_for_more_than_a_sure_one() -> None:
    sure, doubtful = (still_to_throw(30, 0, 0.8, 0.9, doubt=doubt) for doubt in (0, 0.01))
    assert doubtful > sure
    assert doubt_of(plan_with().wares[0]) == 0
    assert doubt_of(ware(glaze=[0, 0])) > doubt_of(ware(glaze=[40, 1000])) > 0
