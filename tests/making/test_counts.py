import pytest

from salebook.making.counts import count_for
from salebook.making.loading import loadings_for
from salebook.making.losses import run_of
from salebook.plan.model import Per
from tests.support.sound_plan import plan_with


def count(per: Per, *wares: str) -> int:
    plan = plan_with()
    runs = tuple(run_of(ware, plan) for ware in plan.wares)
    loadings = loadings_for(plan, runs, loads={"biscuit": 2, "glaze": 3})
    return count_for(per, wares, plan, runs, loadings)


@pytest.mark.parametrize(
    ("per", "all_wares", "vases"),
    [
        ("piece started", 31 + 28, 31),
        ("piece glazed", 29 + 26, 29),
        ("piece finished", 24 + 22, 24),
        ("piece sold", 24 + 22 + 5, 24),
        ("batch", 2 + 2, 2),
        ("load", 2 + 3, 2 + 3),
        ("sale", 1, 1),
    ],
)
def test_each_count_is_of_all_wares_or_of_those_named(per: Per, all_wares: int, vases: int) -> None:
    assert (count(per), count(per, "VASE")) == (all_wares, vases)


def test_everything_that_was_given_is_sold_too() -> None:
    (given,) = plan_with().donated
    gifts = [
        {"code": code, "name": code, "maker": "A neighbour", "price": 3, "count": 4}
        for code in ("BOX", "HAT")
    ]
    plan = plan_with((("donated",), gifts))
    runs = tuple(run_of(ware, plan) for ware in plan.wares)
    assert count_for("piece sold", (), plan, runs, ()) == count("piece sold") - given.count + 4 + 4


@pytest.mark.parametrize("per", ["piece started", "piece glazed", "piece finished", "batch"])
def test_the_counts_of_the_wares_add_up_to_that_of_all(per: Per) -> None:
    assert count(per) == count(per, "VASE") + count(per, "POT") == count(per, "POT", "VASE")
