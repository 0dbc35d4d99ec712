"""What things really cost becomes the price of one bag, one pack or the whole."""

from decimal import Decimal

import pytest

from salebook.event.entries import UnplannedCost
from salebook.forecast.learned.costs import costs_seen, price_after, unplanned_costs
from tests.support.past_sale import past, sold


@pytest.mark.parametrize(
    ("before", "planned", "actual", "in_packs", "after"),
    [
        ("15.40", "61.60", "64.00", True, "16.00"),
        ("15.40", "61.60", "77.00", True, "15.40"),
        ("9.60", "6.91", "7.20", False, "10.00"),
        ("90", "90", "95", False, "95.00"),
        ("90", "90", "0", False, "0.00"),
        ("90", "90", "-1", False, "0.00"),
        ("4", "0", "3", True, "4"),
        ("0", "0", "3", True, "0"),
    ],
)
def test_the_price_follows_unless_only_the_number_of_packs_was_another(
    before: str, planned: str, actual: str, in_packs: bool, after: str
) -> None:
    amounts = (Decimal(before), Decimal(planned), Decimal(actual))
    assert str(price_after(*amounts, 2, in_packs=in_packs)) == after


def test_each_kind_of_cost_has_its_price() -> None:
    forecast = past(
        lines=sold("MUG-001", "MUG-002"),
        actual_costs={
            "clay: white stoneware": Decimal(60),
            "overhead: public liability cover": Decimal(40),
            "material: bag, tissue and string": Decimal("0.70"),
            "firing: biscuit": Decimal(30),
        },
    )
    seen = {
        each.met.line.name: (each.before, each.after) for each in costs_seen(forecast.plan, forecast.event)
    }
    assert seen == {
        "white stoneware": (Decimal("17.80"), Decimal("20.00")),
        "bag, tissue and string": (Decimal("14.50"), Decimal("17.50")),
        "public liability cover": (Decimal(38), Decimal("40.00")),
    }


def test_what_nobody_planned_is_a_cost_of_the_next_plan() -> None:
    forecast = past(unplanned=(UnplannedCost(name="parking", amount=Decimal(12), met_by="sale"),))
    assert [(cost.name, cost.amount, cost.met_by) for cost in unplanned_costs(forecast.event)] == [
        ("parking", Decimal(12), "sale")
    ]
    assert costs_seen(forecast.plan, forecast.event) == ()


def test_costs_with_a_name_too_long_for_a_plan_are_planned_and_money_back_is_not() -> None:
    unplanned = (
        UnplannedCost(name="a" * 300, amount=Decimal(3)),
        UnplannedCost(name="deposit back", amount=Decimal(-5)),
    )
    found = unplanned_costs(past(unplanned=unplanned).event)
    assert [(cost.name, cost.amount) for cost in found] == [("a" * 200, Decimal(3))]
