from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from salebook.plan.load import load_plan
from salebook.plan.model import Stage
from salebook.pricing.levers import Lever, levers_of
from salebook.reckoning import Reckoning, reckon
from tests.support.priced_sales import Keys, a_fixed_cost, a_plan, a_ware, given

WORKED = Path(__file__).parent.parent / "worked-plan.toml"


@cache
def worked() -> Reckoning:
    return reckon(load_plan(WORKED), loads={"biscuit": 2, "glaze": 2})


def levers_by_kind(**tables: Any) -> dict[str, Lever]:
    reckoning = reckon(a_plan(**tables))
    levers = levers_of(reckoning.plan, reckoning.studio, reckoning.costs)
    return {lever.kind: lever for lever in levers}


def worked_levers() -> dict[str, Lever]:
    return {lever.kind: lever for lever in levers_of(worked().plan, worked().studio, worked().costs)}


def test_more_pieces_and_a_lower_target_come_first_and_the_rest_by_what_it_adds() -> None:
    levers = list(worked_levers().values())

    assert [lever.kind for lever in levers[:2]] == ["more pieces", "lower target"]
    assert sorted((lever.more_net for lever in levers[2:]), reverse=True) == [
        lever.more_net for lever in levers[2:]
    ]


def test_each_lever_says_its_effect_as_a_difference_to_the_plan() -> None:
    now = worked().advice.target

    for lever in worked_levers().values():
        assert lever.expected_net - now.expected_net == pytest.approx(lever.more_net)
        assert lever.chance - now.chance == pytest.approx(lever.more_chance)


def test_a_sponsor_for_the_largest_cost_met_by_the_sale_adds_just_that() -> None:
    assert ("a sponsor for hall", Decimal(40)) == (
        worked_levers()["sponsor"].what,
        worked_levers()["sponsor"].more_net,
    )


def test_without_fees_the_expected_fees_stay_in_the_till() -> None:
    fees = sum((good.expected_sold * good.fee for good in worked().advice.goods), Decimal(0))

    assert float(fees) == pytest.approx(float(worked_levers()["no fees"].more_net))


def test_a_lower_target_changes_the_chance_and_not_the_takings() -> None:
    lever = worked_levers()["lower target"]

    assert ("a target of £738.00", Decimal(0)) == (lever.what, lever.more_net)
    assert lever.more_chance > 0


def test_a_load_fewer_helps_by_what_the_sale_pays_for_it() -> None:
    """Only the glaze firing is met by the sale; one load heavier than two, yet cheaper."""
    lever = worked_levers()["fewer loads"]

    assert "glaze" in lever.what
    assert 0 < lever.more_net < Decimal("7.32")


def test_ten_more_of_the_piece_that_brings_most_are_offered() -> None:
    reckoning = reckon(a_plan(wares=[a_ware("MUG"), a_ware("BOWL", price="31", sells="0.5")]))
    lever = levers_of(reckoning.plan, reckoning.studio, reckoning.costs)[0]

    # 0.9 × 20 is more than 0.5 × 31
    assert ("10 more of Mug, if as large a share of them sells", Decimal(180)) == (lever.what, lever.more_net)


def test_a_price_step_up_raises_seconds_too() -> None:
    levers = levers_by_kind(wares=[a_ware(sells="1", seconds_price="9", seconds="0.3")])
    seconds = (
        reckon(a_plan(wares=[a_ware(sells="1", seconds_price="9", seconds="0.3")])).studio.runs[0].seconds
    )

    assert seconds > 0
    assert (10 + seconds) * Decimal("0.50") == levers["price step"].more_net


@pytest.mark.parametrize(
    ("tables", "kinds"),
    [
        pytest.param(
            {"donated": [given(count=4)], "target": "125"},
            {"lower target"},
            id="nothing of one's own, no costs",
        ),
        pytest.param(
            {"donated": [given(count=4)], "target": "125", "overheads": [a_fixed_cost("40")]},
            {"lower target", "sponsor"},
            id="a hall",
        ),
        pytest.param({"donated": [given()], "target": "0"}, set(), id="nothing to change"),
    ],
)
def test_a_lever_that_changes_nothing_is_left_out(tables: Keys, kinds: set[str]) -> None:
    assert kinds == set(levers_by_kind(**tables))


@pytest.mark.parametrize(
    ("spoken_for", "sells", "other_price", "other_sells", "best"),
    [
        (8, "0.1", "10", "0.5", "Bowl"),
        (8, "0.5", "10", "0.6", "Mug"),
        (10, "0.5", "21", "0.9", "Mug"),
        (10, "0.5", "31", "0.9", "Bowl"),
    ],
)
def test_pieces_spoken_for_say_nothing_of_how_one_more_would_sell(
    spoken_for: int, sells: str, other_price: str, other_sells: str, best: str
) -> None:
    """A mug is 20.00: one more brings 2, 10, or all of it where every mug is spoken for."""
    mug = a_ware("MUG", spoken_for=spoken_for, sells=sells)
    lever = levers_by_kind(wares=[mug, a_ware("BOWL", price=other_price, sells=other_sells)])["more pieces"]

    assert f"10 more of {best}, if as large a share of them sells" == lever.what


def all_levers(reckoning: Reckoning) -> tuple[Lever, ...]:
    return levers_of(reckoning.plan, reckoning.studio, reckoning.costs)


def test_loads_that_a_person_overruled_stay_so_where_more_pieces_are_made() -> None:
    plan = load_plan(WORKED)
    loads: dict[Stage, int] = {"biscuit": 2, "glaze": 5}
    lever = all_levers(reckon(plan, loads=loads))[0]
    name = lever.what.removeprefix("10 more of ").partition(",")[0]
    wares = tuple(
        ware.model_copy(update={"wanted": ware.wanted + 10}) if ware.name == name else ware
        for ware in plan.wares
    )
    more = reckon(plan.model_copy(update={"wares": wares}), loads=loads).advice.target

    assert (more.expected_net, more.chance) == (lever.expected_net, lever.chance)


def test_a_load_fewer_of_one_stage_leaves_the_other_stage_as_a_person_overruled_it() -> None:
    """Only the glaze firing is met by the sale, so that a biscuit load fewer changes nothing."""
    levers = all_levers(reckon(load_plan(WORKED), loads={"biscuit": 3, "glaze": 5}))
    fewer = [lever for lever in levers if lever.kind == "fewer loads"]
    due = reckon(load_plan(WORKED), loads={"biscuit": 3, "glaze": 4}).advice.target

    assert [(due.expected_net, due.chance)] == [(lever.expected_net, lever.chance) for lever in fewer]


@pytest.mark.parametrize(("wanted", "is_offered"), [(9_990, True), (9_991, False)])
def test_no_more_than_ten_thousand_of_a_ware_are_offered(wanted: int, *, is_offered: bool) -> None:
    levers = levers_by_kind(wares=[a_ware(wanted=wanted, sells="1")], target="250000")

    assert ("more pieces" in levers) == is_offered


def test_of_levers_that_add_equally_much_the_likelier_one_comes_first() -> None:
    """Half of ten pieces sell: 0.50 more for each adds 2.50, as does a sponsor for 2.50.

    Of four pieces at 20.00 the target is made with the sponsor only, of five in any case.
    """
    wares = [a_ware(sells="0.5")]
    levers = list(levers_by_kind(wares=wares, target="80", overheads=[a_fixed_cost("2.50")]).values())
    others = [(lever.kind, lever.more_net) for lever in levers[2:]]

    assert others == [("sponsor", Decimal("2.50")), ("price step", Decimal("2.50"))]


def test_a_lower_target_is_a_whole_sum() -> None:
    assert (
        levers_by_kind(donated=[given(count=4)], target="125")["lower target"].what == "a target of £113.00"
    )


def test_a_single_load_cannot_be_saved() -> None:
    reckoning = reckon(load_plan(WORKED), loads={"biscuit": 1, "glaze": 1})
    kinds = {lever.kind for lever in levers_of(reckoning.plan, reckoning.studio, reckoning.costs)}

    assert "fewer loads" not in kinds
