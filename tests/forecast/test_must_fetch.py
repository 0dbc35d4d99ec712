"""What each piece must fetch: the smallest price on the step that is enough, on three assumptions."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given

from salebook.forecast.figures import chance_of_target, expected_net_of
from salebook.forecast.must_fetch import (
    Assuming,
    MustFetch,
    average_price,
    between,
    change_of,
    halvings,
    highest_tried,
    must_fetch,
)
from salebook.forecast.standing import GoodCount, Standing, planned_standing, state_at
from salebook.plan.model import Plan
from salebook.pricing.ladder import prices_at
from salebook.reckoning import reckon
from tests.support.plan_strategies import plans
from tests.support.priced_sales import a_fixed_cost, a_plan, a_ware, for_each_sold
from tests.support.priced_sales import given as donated

ALL_SELL, AS_PLANNED, SURE = 0, 1, 2


def planned(**keys: Any) -> Standing:
    return planned_standing(reckon(a_plan(**keys)))


def prices_of(found: MustFetch) -> list[str]:
    return [f"{price:.2f}" for price in found.prices.firsts.values()]


def test_if_all_sell_the_target_is_shared_by_all_pieces() -> None:
    """Ten mugs, 40 for the hall, 100 for the groups, a tenth for each sold: 14.10 each, 14.50 on the step."""
    standing = planned(
        wares=[a_ware(sells="0.5")], overheads=[a_fixed_cost("40")], materials=[for_each_sold("0.10")]
    )
    all_sell, as_planned, _sure = must_fetch(standing)
    assert prices_of(all_sell) == ["14.50"]
    assert prices_of(as_planned) == ["28.50"]
    assert average_price(standing) == Decimal("14.1")


def test_fees_and_givers_parts_come_off_the_price() -> None:
    """Of ten mugs and a spoon of which half goes back 1 % goes for fees: 10 x 0.99 p + 0.49 p = 103.90."""
    ways = [{"name": "card", "percent": 1, "fixed": "0", "share": 1}]
    standing = planned(wares=[a_ware()], donated=[donated(keeps="0.5")], payments=ways, target="103.90")
    assert average_price(standing) == 10


@pytest.mark.parametrize(
    ("target", "demand", "as_planned", "guessed"),
    [
        # With 0.45 of ten at 25.00 112.50 are expected, with 0.455 of them at 24.50 only 111.475.
        pytest.param("112.50", [["20", "0.5"], ["30", "0.4"]], ["25.00"], False, id="within what is known"),
        pytest.param("110", [["20", "0.5"], ["22", "0.4"]], ["27.50"], True, id="beyond what is known"),
        pytest.param("110", [["20", "0.5"], ["22", "0"]], [], False, id="no price"),
    ],
)
def test_prices_beyond_what_the_plan_says_are_marked(
    target: str, demand: list[list[str]], as_planned: list[str], guessed: bool
) -> None:
    found = must_fetch(planned(wares=[a_ware(demand=demand)], target=target))[AS_PLANNED]
    assert prices_of(found) == as_planned
    assert (found.change is None, found.is_guessed) == (not as_planned, guessed)


def test_a_price_far_beyond_sixty_per_cent_is_found() -> None:
    """Two mugs for 1000: 500 each if both sell, 556 if 1.8 of them do."""
    all_sell, as_planned, _sure = must_fetch(planned(wares=[a_ware(wanted=2)], target="1000"))
    assert [prices_of(all_sell), prices_of(as_planned)] == [["500.00"], ["556.00"]]


def test_where_nobody_can_be_so_sure_there_is_no_price() -> None:
    """The one piece sells with a chance of 0.9; 0.95 is asked."""
    sure = must_fetch(planned(wares=[a_ware(wanted=1)], sale={"confidence": "0.95"}))[SURE]
    assert (sure.change, sure.is_guessed) == (None, False)


def test_a_price_at_which_nothing_is_left_to_sell_is_none() -> None:
    standing = planned(wares=[a_ware()])
    sold_out = Standing(
        reckoning=standing.reckoning,
        costs=standing.costs,
        counts={("MUG", "first"): GoodCount(offered=10, sold=10)},
        reached=Decimal(50),
    )
    assert [found.change for found in must_fetch(sold_out)] == [None, None, None]
    assert average_price(sold_out) is None


def test_pieces_that_are_sold_leave_the_rest_to_the_others() -> None:
    """Six are sold for 50: the other four have 50 to bring, 12.50 each."""
    standing = planned(wares=[a_ware()])
    half = Standing(
        reckoning=standing.reckoning,
        costs=standing.costs,
        counts={("MUG", "first"): GoodCount(offered=10, sold=6)},
        reached=Decimal(50),
        over=Decimal("0.5"),
    )
    assert prices_of(must_fetch(half)[ALL_SELL]) == ["12.50"]
    assert average_price(half) == Decimal("12.5")


def test_only_a_givers_pieces_have_no_price_of_the_makers_own() -> None:
    assert [one.change for one in must_fetch(planned(donated=[donated()]))] == [None, None, None]


def test_where_nobody_is_expected_to_buy_what_brings_a_loss_less_will_do_than_if_all_sell() -> None:
    """Five spoons bring nothing and cost 4 each: if they sell too, the mugs have 20 more to bring."""
    standing = planned(
        wares=[a_ware(sells="1")],
        donated=[donated(count=5, keeps="1", sells="0")],
        materials=[for_each_sold("4", "D1")],
    )
    all_sell, as_planned, sure = must_fetch(standing)
    assert [prices_of(all_sell), prices_of(as_planned), prices_of(sure)] == [["12.00"], ["10.00"], ["10.00"]]


LEAST_CHANGE = Decimal("-99.9")
"""A tenth of a per cent of the price: where that is enough, no lower one is asked."""


@given(plans())
def test_what_must_be_fetched_is_enough_and_a_thousandth_less_is_not(plan: Plan) -> None:
    """In tenths of a per cent where the plan knows what sells; far above a thousandth of the price."""
    standing = planned_standing(reckon(plan))
    sale = standing.plan.sale

    def is_enough(assuming: Assuming, change: Decimal) -> bool:
        state = state_at(standing, prices_at(standing.plan, change))
        if assuming == "sure":
            return chance_of_target(state) >= float(sale.confidence) - 0.001
        net = state.if_all_sell if assuming == "all sell" else expected_net_of(state)
        return net >= sale.target - Decimal("1e-6")

    for found in must_fetch(standing):
        if found.change is not None:
            assert is_enough(found.assuming, found.change)
            thousandth = (100 + found.change) / 1000 if found.is_guessed else Decimal(0)
            less = found.change - max(Decimal("0.1"), thousandth)
            is_least_asked = less < LEAST_CHANGE
            assert found.assuming == "sure" or is_least_asked or not is_enough(found.assuming, less)


@pytest.mark.parametrize(
    ("known", "tried"),
    [
        ("1000", (1600, 1600, 1600, 1600, 1_000_000)),
        ("2003", (1701, 1802, 1903, 2003, 1_000_000)),
        ("3000000", (751_200, 1_500_800, 2_250_400, 3_000_000, 3_000_000)),
    ],
)
def test_four_prices_are_tried_above_the_ladder_and_one_far_above(known: str, tried: tuple[int, ...]) -> None:
    assert highest_tried(Decimal(known)) == tried


def test_a_price_between_two_stands_there_by_its_ratio_to_them() -> None:
    """17 = sqrt(1 x 300), 71 = sqrt(17 x 300), 146 = sqrt(71 x 300), 102 = sqrt(71 x 146)."""
    found = list(halvings(0, 300, lambda tenths: tenths >= 100, 4))
    assert [(one.lower, one.upper, one.tenths, one.is_enough) for one in found] == [
        (0, 300, 17, False),
        (17, 300, 71, False),
        (71, 300, 146, True),
        (71, 146, 102, True),
    ]
    assert [between(one) for one in found[1:3]] == [(71, 300), (71, 146)]


@pytest.mark.parametrize(("tenths", "change"), [(999, "-0.1"), (1000, "0"), (1234, "23.4")])
def test_a_price_in_tenths_is_a_change_in_per_cent(tenths: int, change: str) -> None:
    assert change_of(tenths) == Decimal(change)


def test_a_fixed_fee_comes_off_each_piece() -> None:
    """Ten mugs for 98.00, 0.20 for each payment: 10.00 each; a single one for 9.80 too."""
    ways = [{"name": "card", "percent": 0, "fixed": "0.20", "share": 1}]
    many = planned(wares=[a_ware()], payments=ways, target="98")
    one = planned(wares=[a_ware(wanted=1)], payments=ways, target="9.80")
    assert [average_price(many), average_price(one)] == [10, 10]


def test_a_price_as_far_up_as_the_plan_knows_what_sells_is_found() -> None:
    """Nine of ten sell up to 100.00, five times the price, and none at 120.00: 810.00 takes 90.00."""
    demand = [["20", "0.9"], ["100", "0.9"], ["120", "0"]]
    found = must_fetch(planned(wares=[a_ware(price="20", demand=demand)], target="810"))[AS_PLANNED]
    assert (prices_of(found), found.is_guessed) == (["90.00"], False)
