from decimal import Decimal
from itertools import pairwise
from typing import Any

import pytest

from salebook.pricing.ladder import (
    CHANGES,
    Rung,
    as_good_as_best,
    best_change,
    lowest_change,
    price_changed,
    prices_at,
    sure_change,
)
from tests.support.priced_sales import a_plan, a_studio, a_ware, advice_on, given

DEMAND = [["10", "0.9"], ["40", "0.3"]]


def a_rung(change: int, net: str, chance: float = 0.5) -> Rung:
    return Rung(
        change=change,
        prices={},
        seconds_prices={},
        expected_sold=Decimal(1),
        expected_net=Decimal(net),
        chance=chance,
    )


@pytest.mark.parametrize(
    ("price", "change", "step", "expected"),
    [
        ("18", 0, "0.50", "18.00"),
        ("18", 5, "0.50", "19.00"),
        ("18", -5, "0.50", "17.50"),
        ("18.20", 0, "0.50", "18.50"),
        ("0.10", -30, "0.50", "0.50"),
        ("3000", 10, "50", "3300"),
        ("3010", 0, "50", "3050"),
        ("20", 15, "1", "23"),
        ("1.10", 10, "0.11", "1.21"),
    ],
)
def test_a_changed_price_is_rounded_up_to_a_whole_number_of_steps(
    price: str, change: int, step: str, expected: str
) -> None:
    assert Decimal(expected) == price_changed(Decimal(price), change, Decimal(step))


def test_the_rungs_go_from_30_per_cent_off_to_60_on_in_steps_of_5() -> None:
    assert (19, -30, 60, {5}) == (
        len(CHANGES),
        CHANGES[0],
        CHANGES[-1],
        {high - low for low, high in pairwise(CHANGES)},
    )


def test_seconds_are_changed_too_and_donated_prices_stand() -> None:
    plan = a_plan(wares=[a_ware("POT", price="26", seconds_price="15")], donated=[given("SPN", price="14")])
    prices = prices_at(plan, 10)

    assert ({"POT": Decimal("29.00")}, {"POT": Decimal("16.50")}) == (prices.firsts, prices.seconds)


def test_where_rounding_changes_nothing_the_rung_of_no_change_is_the_plan_itself() -> None:
    plan = a_plan(target="150", wares=[a_ware(demand=DEMAND, seconds_price="9")], donated=[given()])
    advice = advice_on(plan, a_studio(plan, seconds={"MUG": 2}))
    rung = next(rung for rung in advice.ladder if rung.change == 0)

    assert (advice.target.expected_sold, advice.target.expected_net, advice.target.chance) == (
        rung.expected_sold,
        rung.expected_net,
        rung.chance,
    )


def test_the_lowest_rung_that_reaches_the_target_and_the_lowest_that_is_sure_are_named() -> None:
    ladder = [a_rung(-5, "99.99", 0.3), a_rung(0, "99.9999995", 0.9), a_rung(5, "140", 0.95)]

    assert (lowest_change(ladder, Decimal(100)), sure_change(ladder, Decimal("0.9"))) == (0, 0)


def test_where_no_rung_does_none_is_named() -> None:
    ladder = [a_rung(0, "99", 0.3)]

    assert (lowest_change(ladder, Decimal(100)), sure_change(ladder, Decimal("0.9"))) == (None, None)


def test_of_two_equal_rungs_the_lower_is_best() -> None:
    plan = a_plan(wares=[a_ware(demand=DEMAND)])

    assert best_change([a_rung(0, "1"), a_rung(5, "2"), a_rung(10, "2")], plan) == 5


@pytest.mark.parametrize(
    "tables",
    [
        pytest.param({"wares": [a_ware("MUG", demand=DEMAND), a_ware("BOWL")]}, id="a ware without points"),
        pytest.param({"donated": [given()]}, id="no wares of one's own"),
    ],
)
def test_there_is_no_best_rung_where_prices_change_no_sales(tables: dict[str, Any]) -> None:
    assert best_change([a_rung(0, "1"), a_rung(5, "2")], a_plan(**tables)) is None


def test_neighbours_within_a_hundredth_of_the_best_are_as_good() -> None:
    nets = {-10: "99.5", -5: "98", 0: "99.2", 5: "100", 10: "99.0", 15: "98.9"}
    ladder = [a_rung(change, net) for change, net in nets.items()]

    assert [rung.change for rung in as_good_as_best(ladder)] == [0, 5, 10]


def test_a_loss_on_every_rung_still_has_a_best_one() -> None:
    ladder = [a_rung(0, "-10"), a_rung(5, "-10.05"), a_rung(10, "-12")]

    assert [rung.change for rung in as_good_as_best(ladder)] == [0, 5]


@pytest.mark.parametrize(
    ("nets", "expected"),
    [
        (["100", "99", "98.9"], [0, 5]),
        (["98.9", "99", "100"], [5, 10]),
        (["99.5", "100", "99.5"], [0, 5, 10]),
        (["100"], [0]),
    ],
)
def test_rungs_within_a_hundredth_of_the_best_are_as_good_to_either_end(
    nets: list[str], expected: list[int]
) -> None:
    ladder = [a_rung(5 * place, net) for place, net in enumerate(nets)]

    assert [rung.change for rung in as_good_as_best(ladder)] == expected
