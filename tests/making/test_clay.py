from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.making.clay import clay_needs, fired_from, made_from, sizes_of
from salebook.making.losses import run_of
from tests.support.sound_plan import GONE, Place, plan_with

CLAY = ("clays", 0)


def needs_with(*changes: tuple[Place, object]) -> list[tuple[Decimal, int, Decimal]]:
    plan = plan_with(*changes)
    runs = tuple(run_of(ware, plan) for ware in plan.wares)
    return [(need.kg, need.packs, need.cost) for need in clay_needs(plan, runs)]


ONE_KILO_A_PIECE: list[tuple[Place, object]] = [
    (("wares", 0, "ball"), "1 kg"),
    (("wares", 1, "ball"), "0.5 kg"),
    ((*CLAY, "waste"), Decimal("0.2")),
]
"""31 pieces of 1 kg and 28 of 0.5 kg, with a fifth on top: 54 kg."""


def test_all_wares_of_a_clay_are_weighed_together_exactly() -> None:
    assert needs_with(*ONE_KILO_A_PIECE)[0][0] == Decimal(54)


@pytest.mark.parametrize(
    ("pack", "whole_packs", "packs", "cost"),
    [
        ("12.5 kg", True, 5, "77.00"),
        ("12.5 kg", False, 5, "66.53"),
        ("13.5 kg", True, 4, "61.60"),
        ("13.49 kg", True, 5, "77.00"),
    ],
)
def test_clay_is_bought_by_whole_packs_or_by_weight(
    pack: str, whole_packs: bool, packs: int, cost: str
) -> None:
    bought = ((*CLAY, "pack"), pack), ((*CLAY, "whole_packs"), whole_packs)
    assert needs_with(*ONE_KILO_A_PIECE, *bought) == [(Decimal(54), packs, Decimal(cost))]


def test_a_clay_that_no_ware_is_made_of_costs_nothing() -> None:
    other = {"name": "slip", "pack": "5 kg", "pack_price": 9, "shrinkage": Decimal("0.1")}
    clays = [{**plan_with().clays[0].model_dump(include={"name"}), **BUFF}, other]
    assert needs_with((("clays",), clays))[1] == (Decimal(0), 0, Decimal(0))


BUFF = {"pack": "12.5 kg", "pack_price": Decimal("15.40"), "shrinkage": Decimal("0.12")}


def test_sizes_shrink_from_thrown_to_fired() -> None:
    plan = plan_with()
    sizes = sizes_of(plan.wares[0], plan.clays[0])
    assert (sizes.made_height_mm, sizes.kiln_height_mm, sizes.fired_height_mm) == (
        Decimal(150),
        Decimal(141),
        Decimal(132),
    )
    assert (sizes.made_diameter_mm, sizes.kiln_diameter_mm, sizes.fired_diameter_mm) == (
        Decimal(80),
        Decimal("75.2"),
        Decimal("70.4"),
    )


def test_a_wanted_fired_size_says_how_large_to_throw() -> None:
    plan = plan_with(
        (("wares", 0, "made_height"), GONE),
        (("wares", 0, "fired_height"), "132 mm"),
    )
    sizes = sizes_of(plan.wares[0], plan.clays[0])
    assert (sizes.made_height_mm, sizes.kiln_height_mm) == (Decimal(150), Decimal(141))
    assert sizes.fired_height_mm == Decimal(132)


def test_sizes_that_the_plan_does_not_give_are_not_known() -> None:
    plan = plan_with(
        (("wares", 0, "made_height"), GONE), (("kiln",), GONE), (("firings",), GONE), (("energy",), GONE)
    )
    sizes = sizes_of(plan.wares[0], plan.clays[0])
    assert (sizes.made_height_mm, sizes.kiln_height_mm, sizes.fired_height_mm) == (None, None, None)


@given(
    length=st.decimals(1, 2000, places=2),
    shrinkage=st.decimals(0, Decimal("0.4"), places=4),
)
def test_thrown_to_the_making_size_a_pot_fires_to_the_wanted_size(
    length: Decimal, shrinkage: Decimal
) -> None:
    fired = fired_from(made_from(length, shrinkage), shrinkage)
    assert float(fired) == pytest.approx(float(length), rel=1e-15)
