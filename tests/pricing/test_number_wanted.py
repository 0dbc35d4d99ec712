"""A number of pieces that the plan leaves out is the smallest that makes the target."""

from collections.abc import Mapping
from contextlib import suppress
from decimal import Decimal
from time import process_time
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from salebook.base.errors import FaultyPlanError
from salebook.making.studio import plan_studio
from salebook.plan.load import plan_from_mapping
from salebook.plan.model import LEFT_TO_THE_TARGET, Plan
from salebook.pricing.number_wanted import with_number_wanted
from salebook.pricing.outcome import outcome_of
from salebook.reckoning import Reckoning, reckon
from tests.support.priced_sales import Keys, a_fixed_cost, a_plan, a_ware, costed, for_each_sold
from tests.support.priced_sales import given as a_gift
from tests.support.sound_plan import GONE, changed, faults_with, plan_with
from tests.support.strategies import at_most

BY_CHANCE = at_most(25, suppress_health_check=[HealthCheck.too_slow])


def left_out(**keys: Any) -> Keys:
    return {key: value for key, value in a_ware(**keys).items() if key != "wanted"}


def saying(plan: Plan, number: int) -> Plan:
    """Return the plan with a number said in the place of the one that was left out."""
    wares = tuple(
        ware.model_copy(update={"wanted": number}) if ware.wanted == LEFT_TO_THE_TARGET else ware
        for ware in plan.wares
    )
    return Plan.model_construct(
        **{name: getattr(plan, name) for name in Plan.model_fields} | {"wares": wares}
    )


def number_in(reckoning: Reckoning) -> int:
    return next(ware.wanted for ware in reckoning.plan.wares if "wanted" not in ware.model_fields_set)


def assert_smallest(plan: Plan) -> None:
    """Every smaller number misses the confidence asked for; this one reaches it."""
    number = number_in(reckon(plan))
    assert reckon(saying(plan, number)).advice.target.chance >= float(plan.sale.confidence) - 1e-9
    assert numbers_that_do(plan, number - 1) == []


def numbers_that_do(plan: Plan, most: int) -> list[int]:
    """Return every number up to one that reaches the confidence asked for; each is tried."""
    enough = float(plan.sale.confidence) - 1e-9
    least = next(max(1, ware.spoken_for) for ware in plan.wares if ware.wanted == LEFT_TO_THE_TARGET)
    return [number for number in range(least, most + 1) if chance_of(saying(plan, number)) >= enough]


def chance_of(plan: Plan) -> float:
    goods, costs = costed(plan, plan_studio(plan))
    return outcome_of(goods, plan, costs).chance


def test_the_number_is_the_smallest_whose_chance_reaches_the_confidence() -> None:
    """18 of 21 at 0.9 do with a chance of 0.848, 18 of 22 with 0.938: 240 and 24 take 16.5 pieces of 16."""
    plan = a_plan(target="240", wares=[left_out(price="16")], overheads=[a_fixed_cost("24")])
    assert number_in(reckon(plan)) == 21
    assert_smallest(plan)


def test_the_worked_plan_with_a_number_left_out_asks_for_more_pots() -> None:
    plan = plan_with((("wares", 0, "wanted"), GONE))
    assert number_in(reckon(plan)) > 24
    assert_smallest(plan)


@pytest.mark.slow
@BY_CHANCE
@given(
    target=st.integers(0, 200),
    price=st.integers(2, 40),
    fixed=st.integers(0, 80),
    pack=st.integers(0, 60),
    confidence=st.sampled_from(["0.5", "0.8", "0.9", "0.99"]),
    spoken_for=st.integers(0, 6),
    second=st.sampled_from(["0.01", "3", "12"]),
    factors=st.sampled_from([[], ["0.5", "1"], ["0", "1", "1.2"]]),
)
def test_no_smaller_number_would_do(
    *,
    target: int,
    price: int,
    fixed: int,
    pack: int,
    confidence: str,
    spoken_for: int,
    second: str,
    factors: list[str],
) -> None:
    plan = a_plan(
        target=str(target),
        sale={"confidence": confidence},
        clays=[{"name": "clay", "pack": "10 kg", "pack_price": pack, "shrinkage": "0.1", "met_by": "sale"}],
        wares=[
            a_ware("POT", wanted=4),
            left_out(price=str(price), spoken_for=spoken_for, seconds="0.1", seconds_price=second),
        ],
        materials=[for_each_sold("0.50")],
        overheads=[a_fixed_cost(str(fixed))],
        outlooks=[{"name": factor, "factor": factor} for factor in factors],
        donated=[a_gift(f"D{n}", count=985, sells="0") for n in range(6)],
    )
    try:
        with_number_wanted(plan)
    except FaultyPlanError as told:
        looked_at = int(told.faults[0].expected.split("none up to ")[1].split()[0])
        assert looked_at > 40
        assert numbers_that_do(plan, looked_at) == []
    else:
        assert_smallest(plan)


@pytest.mark.parametrize("factors", [["0.3", "1", "1.5"], [str(each / 10) for each in range(1, 13)]])
@pytest.mark.parametrize(("target", "price"), [("0.01", "16"), ("6000", "999"), ("1000000", "999")])
def test_a_search_among_many_wares_and_kinds_of_day_is_bounded(
    target: str, price: str, factors: list[str]
) -> None:
    """About a second of the processor's time, found or not; six here, for coverage on a busy machine."""
    wares = [a_ware(f"W{n}", wanted=60, price=f"{11 + n}.{n:02}", sells="0.7") for n in range(30)]
    plan = a_plan(
        target=target,
        sale={"confidence": "0.999"},
        wares=[*wares, left_out(price=price, sells="0.5", seconds="0.1", seconds_price="0.01")],
        outlooks=[{"name": factor, "factor": factor} for factor in factors],
        materials=[for_each_sold("0.50")],
        overheads=[a_fixed_cost("300")],
    )
    began = process_time()
    with suppress(FaultyPlanError):
        with_number_wanted(plan)
    assert process_time() - began < 6


def test_a_plan_that_says_every_number_stays_as_it_is() -> None:
    plan = plan_with()
    assert with_number_wanted(plan) is plan


def test_pieces_that_are_spoken_for_are_made_in_any_case() -> None:
    assert number_in(reckon(a_plan(target="0", wares=[left_out(spoken_for=7)]))) == 7


@pytest.mark.parametrize(("target", "number"), [("0", 1), ("15", 1), ("20", 1), ("21", 2)])
def test_at_least_one_piece_is_made(target: str, number: int) -> None:
    assert number_in(reckon(a_plan(target=target, wares=[left_out(price="20", sells="1")]))) == number


@pytest.mark.parametrize(("target", "price", "number"), [("4", "0.80", 5), ("100000", "20", 5_000)])
def test_cheap_pieces_and_very_many_do_as_well(target: str, price: str, number: int) -> None:
    assert number_in(reckon(a_plan(target=target, wares=[left_out(price=price, sells="1")]))) == number


def test_a_piece_that_is_sold_at_a_loss_is_made_up_for() -> None:
    """Five at 19.50 make 97.50, of which the given piece, kept by its giver in full, takes its fee."""
    plan = a_plan(
        target="97.50",
        wares=[left_out(price="20", sells="1")],
        donated=[a_gift(keeps="1", sells="1")],
        payments=[{"name": "card", "fixed": "0.50"}],
    )
    assert number_in(reckon(plan)) == 6


def test_the_answer_says_what_was_taken() -> None:
    reckoning = reckon(a_plan(target="240", wares=[left_out(price="16")], overheads=[a_fixed_cost("24")]))
    assert reckoning.advice.warnings[0] == (
        "How many of Mug to offer is not said: 21 is taken, the smallest number that makes the target with a "
        "chance of 90 % or more."
    )


def test_nothing_is_said_where_the_plan_says_the_number() -> None:
    assert [
        text for text in reckon(plan_with()).advice.warnings if "is not said: " in text and "offer" in text
    ] == []


@pytest.mark.parametrize(
    "keys", [{"price": "0.01"}, {"price": "5", "sells": "0"}], ids=["too cheap", "nothing sells"]
)
def test_where_no_number_does_it_is_a_fault_with_its_place(keys: Mapping[str, str]) -> None:
    plan = a_plan(target="1000", wares=[left_out(**keys)])
    with pytest.raises(FaultyPlanError) as told:
        reckon(plan)
    (fault,) = told.value.faults
    assert fault.place == "wares → MUG → wanted"
    assert fault.expected == (
        "the number of pieces to offer, as none up to 5311 makes the target with a chance of 90 %"
    )


def test_no_more_are_tried_than_a_sale_can_hold_beside_all_other_pieces() -> None:
    """A sale holds 6 000 pieces; 10 are left beside 5 000 of another ware and 990 that are given."""
    nothing_lost = {"losses": {"throwing": 0}}
    others = [a_ware("WARE", wanted=5_000, sells="0", **nothing_lost)]
    gifts = [a_gift(count=990, sells="0")]
    plan = a_plan(target="1000", donated=gifts, wares=[*others, left_out(price="5", **nothing_lost)])
    with pytest.raises(FaultyPlanError) as told:
        reckon(plan)
    assert "as none up to 10 makes the target" in told.value.faults[0].expected


def test_a_chance_that_is_just_the_confidence_is_enough() -> None:
    plan = a_plan(target="20", sale={"confidence": "0.5"}, wares=[left_out(price="20", sells="0.5")])
    assert number_in(reckon(plan)) == 1


def test_only_one_ware_may_leave_its_number_out() -> None:
    places: tuple[tuple[str | int, ...], ...] = (("wares", 0, "wanted"), ("wares", 1, "wanted"))
    (fault,) = faults_with(*((place, GONE) for place in places))
    assert fault.startswith("wares → POT → wanted: found nothing, expected a number of pieces: only one ware")


def test_spoken_for_may_stand_without_a_number() -> None:
    tables = changed((("wares", 0, "wanted"), GONE), (("wares", 0, "spoken_for"), 3))
    assert plan_from_mapping(tables, file="plan.toml").wares[0].spoken_for == 3


def test_a_number_that_is_left_out_does_not_change_the_others() -> None:
    plan = plan_with((("wares", 0, "wanted"), GONE))
    before, after = plan_with().wares[1:], reckon(plan).plan.wares[1:]
    assert before == after


def test_twelve_wares_of_which_one_is_left_out_are_reckoned_with_their_grid() -> None:
    wares = [a_ware(f"W{n}", wanted=30, price=f"{11 + n}.{n:02}", sells="0.7") for n in range(11)]
    plan = a_plan(target="6000", wares=[*wares, left_out(price="23.17")])
    reckoning = reckon(plan)
    assert reckoning.advice.target.chance >= 0.9
    assert reckon(saying(plan, number_in(reckoning) - 1)).advice.target.chance < 0.9
    assert reckoning.plan.wares[-1].price == Decimal("23.17")
