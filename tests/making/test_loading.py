import math
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.base.errors import FaultyPlanError
from salebook.making.loading import (
    Layer,
    Load,
    Loading,
    centres_on_shelf,
    layers_of,
    loadings_for,
    loads_of,
    per_shelf,
    rides_along,
)
from salebook.making.losses import run_of
from salebook.plan.model import Plan, Stage
from tests.support.sound_plan import GONE, Place, plan_with


def loadings_of(plan: Plan, loads: dict[Stage, int] | None = None) -> tuple[Loading, ...]:
    return loadings_for(plan, tuple(run_of(ware, plan) for ware in plan.wares), loads=loads)


def loadings_with(*changes: tuple[Place, object]) -> tuple[Loading, ...]:
    return loadings_of(plan_with(*changes))


def faults_of(*changes: tuple[Place, object]) -> list[str]:
    plan = plan_with(*changes)
    with pytest.raises(FaultyPlanError) as caught:
        loadings_of(plan)
    return [f"{fault.place}: {fault.found}; {fault.hint}" for fault in caught.value.faults]


def layer(height_mm: float, pieces: int = 5) -> Layer:
    return Layer(code="A", pieces=pieces, room_for=5, height_mm=height_mm)


LAYERS = st.lists(st.floats(20, 600).map(layer), max_size=60)


@given(layers=LAYERS, shelves=st.none() | st.integers(1, 6))
def test_every_layer_is_loaded_once_and_no_load_is_too_high(layers: list[Layer], shelves: int | None) -> None:
    loads = loads_of(layers, 600, shelves)
    loaded = [layer.height_mm for load in loads for layer in load.layers]
    assert sorted(loaded) == sorted(layer.height_mm for layer in layers)
    for load in loads:
        high_mm = sum(layer.height_mm for layer in load.layers)
        assert high_mm <= 600 + 1e-6
        assert load.height_left_mm == pytest.approx(600 - high_mm, abs=1e-6)
        assert len(load.layers) <= (shelves or 60)


@given(layers=LAYERS)
def test_no_fewer_loads_than_the_heights_need_and_never_two_half_empty(layers: list[Layer]) -> None:
    loads = loads_of(layers, 600)
    assert len(loads) >= math.ceil(sum(layer.height_mm for layer in layers) / 600 - 1e-9)
    assert sum(load.height_left_mm > 300 for load in loads) <= 1


def test_the_tallest_layers_go_first_into_the_first_load_with_room() -> None:
    loads = loads_of([layer(100), layer(350), layer(250), layer(300), layer(150)], 600)
    assert [[layer.height_mm for layer in load.layers] for load in loads] == [[350, 250], [300, 150, 100]]
    assert [load.height_left_mm for load in loads] == [0, 50]


def test_a_load_holds_no_more_layers_than_there_are_shelves() -> None:
    assert [len(load.layers) for load in loads_of([layer(50)] * 7, 600, shelves=3)] == [3, 3, 1]


@given(pieces=st.integers(0, 500), room_for=st.integers(1, 40))
def test_every_piece_stands_on_one_shelf(pieces: int, room_for: int) -> None:
    layers = list(layers_of("A", pieces, room_for, 100))
    assert sum(layer.pieces for layer in layers) == pieces
    assert all(0 < layer.pieces <= room_for for layer in layers)
    assert len(layers) == math.ceil(pieces / room_for)


def test_all_pieces_of_a_stage_are_loaded() -> None:
    biscuit, glaze = loadings_with()
    assert (biscuit.stage, sum(load.pieces for load in biscuit.loads)) == ("biscuit", 30 + 27)
    assert (glaze.stage, sum(load.pieces for load in glaze.loads)) == ("glaze", 29 + 26)


def test_a_layer_takes_its_height_in_the_kiln_the_clearance_and_the_shelf() -> None:
    biscuit, _glaze = loadings_with()
    heights = {layer.code: layer.height_mm for load in biscuit.loads for layer in load.layers}
    assert heights == pytest.approx({"VASE": 150 * 0.94 + 10 + 15, "POT": 140 * 0.94 + 10 + 15})


def test_biscuit_ware_may_touch_and_glazed_ware_may_not() -> None:
    biscuit, glaze = loadings_with()
    assert (biscuit.per_shelf, glaze.per_shelf) == ({"VASE": 28, "POT": 8}, {"VASE": 24, "POT": 8})


def test_a_person_can_say_how_many_stand_on_a_shelf() -> None:
    biscuit, glaze = loadings_with(
        (("wares", 0, "per_shelf_biscuit"), 40), (("wares", 1, "per_shelf_glaze"), 5)
    )
    assert (biscuit.per_shelf, glaze.per_shelf) == ({"VASE": 40, "POT": 8}, {"VASE": 24, "POT": 5})
    assert {layer.room_for for load in glaze.loads for layer in load.layers} == {24, 5}


def test_shelves_may_be_rectangular_and_pieces_need_not_be_round() -> None:
    shelf = {"shape": "rectangle", "width": "400 mm", "depth": "300 mm"}
    plan = plan_with((("kiln", "shelf"), shelf), (("wares", 1, "footprint"), "150 x 100 mm"))
    vase, pot = plan.wares
    assert len(centres_on_shelf(vase, plan, "biscuit")) == 20
    assert [per_shelf(pot, plan, stage) for stage in ("biscuit", "glaze")] == [8, 6]
    round_plan = plan_with((("wares", 1, "footprint"), "150 x 100 mm"))
    assert per_shelf(round_plan.wares[1], round_plan, "biscuit") == 8


def test_a_stage_that_is_not_fired_is_not_loaded() -> None:
    plan = plan_with()
    biscuit = plan.model_copy(update={"firings": plan.firings[:1]})
    assert [loading.stage for loading in loadings_of(biscuit)] == ["biscuit"]
    assert loadings_of(plan.model_copy(update={"firings": (), "kiln": None})) == ()


def test_the_number_of_loads_can_be_overruled() -> None:
    for told in (1, 5):
        biscuit, glaze = loadings_of(plan_with(), loads={"glaze": told})
        assert (len(biscuit.loads), biscuit.to_fire) == (2, 2)
        assert (len(glaze.loads), glaze.to_fire) == (2, told)


def test_no_load_at_all_is_refused() -> None:
    plan = plan_with()
    with pytest.raises(ValueError, match="glaze firing needs at least 1 load"):
        loadings_of(plan, loads={"glaze": 0})


def test_a_pot_taller_than_the_kiln_is_named() -> None:
    (fault,) = faults_of((("wares", 1, "made_height"), "600 mm"))
    assert fault == (
        "wares → POT → made_height: 564.0 mm as it stands in the kiln; "
        "Herb pot is too tall for the empty kiln"
    )


@pytest.mark.parametrize(("usable", "most"), [("560 mm", "535.0"), ("60 mm", "35.0"), ("20 mm", "0.0")])
def test_how_tall_a_pot_may_be_is_said(usable: str, most: str) -> None:
    """The usable height less 10 mm of clearance and a shelf of 15 mm."""
    plan = plan_with((("kiln", "usable_height"), usable), (("wares", 1, "made_height"), "600 mm"))
    with pytest.raises(FaultyPlanError) as caught:
        loadings_of(plan)
    expected = f"at most {most} mm, the usable height less the clearance and one shelf"
    assert {expected} == {fault.expected for fault in caught.value.faults}


def test_a_size_that_was_told_as_fired_is_named_as_such() -> None:
    tall = (("wares", 1, "made_height"), GONE), (("wares", 1, "fired_height"), "600 mm")
    wide = (("wares", 1, "made_diameter"), GONE), (("wares", 1, "fired_diameter"), "500 mm")
    places = [fault.split(":")[0] for fault in faults_of(*tall, *wide)]
    assert places == ["wares → POT → fired_height", "wares → POT → fired_diameter"]


def test_a_pot_that_just_fits_is_loaded() -> None:
    just = (Decimal(560) - 10 - 15) / Decimal("0.94")
    height = f"{just.quantize(Decimal('0.0001'), rounding='ROUND_DOWN')} mm"
    assert loadings_with((("wares", 1, "made_height"), height))[0].loads


def test_a_pot_wider_than_the_shelf_is_named() -> None:
    (fault,) = faults_of((("wares", 1, "made_diameter"), "500 mm"))
    assert fault == (
        "wares → POT → made_diameter: 470.0 mm as it stands in the kiln; "
        "Herb pot is too wide for the empty shelf"
    )


def test_the_gap_of_a_glaze_firing_can_make_a_pot_too_wide() -> None:
    (fault,) = faults_of((("wares", 0, "footprint"), "489 x 10 mm"))
    assert fault.startswith("wares → VASE → footprint: 459.7 mm")


def test_all_pieces_that_fit_no_kiln_are_named_together() -> None:
    faults = faults_of((("wares", 0, "made_height"), "2 m"), (("wares", 1, "made_diameter"), "2 m"))
    assert [fault.split(":")[0] for fault in faults] == [
        "wares → VASE → made_height",
        "wares → POT → made_diameter",
    ]


def test_what_rides_along_in_the_last_load_fills_its_shelves_and_its_height() -> None:
    plan = plan_with()
    biscuit, _glaze = loadings_of(plan)
    last = biscuit.loads[-1]
    assert [(layer.code, layer.pieces) for layer in last.layers] == [("POT", 8), ("POT", 8), ("POT", 3)]
    assert rides_along(biscuit, plan) == {"VASE": 0, "POT": 5}


def test_what_rides_along_goes_by_the_last_of_many_loads() -> None:
    """It holds one pot of eight on one shelf, and 403.4 mm are left: two shelves of 156.6 or of 166 mm."""
    plan = plan_with((("wares", 1, "wanted"), 45))
    biscuit = loadings_of(plan)[0]
    assert [len(load.layers) for load in biscuit.loads] == [3, 3, 3, 1]
    assert rides_along(biscuit, plan) == {"VASE": 2 * 28, "POT": 7 + 2 * 8}


def test_whole_shelves_ride_along_where_there_is_height_and_a_shelf() -> None:
    height = (("kiln", "usable_height"), "700 mm")
    plan = plan_with(height)
    assert rides_along(loadings_of(plan)[0], plan) == {"VASE": 2 * 28, "POT": 5 + 2 * 8}
    plan = plan_with(height, (("kiln", "shelves"), 3))
    biscuit = loadings_of(plan)[0]
    assert [len(load.layers) for load in biscuit.loads] == [3, 3]
    assert rides_along(biscuit, plan) == {"VASE": 0, "POT": 5}


def test_a_thousand_pieces_of_twelve_wares_are_loaded_whole() -> None:
    ware = plan_with().wares[0]
    plan = plan_with()
    wares = tuple(
        ware.model_copy(update={"code": f"W{number}", "wanted": 1000 // 12 + 1}) for number in range(12)
    )
    plan = plan.model_copy(update={"wares": wares})
    runs = [run_of(ware, plan) for ware in wares]
    biscuit = loadings_of(plan)[0]
    assert sum(load.pieces for load in biscuit.loads) == sum(run.to_biscuit for run in runs)
    assert biscuit.lower_bound <= len(biscuit.loads) <= biscuit.lower_bound * 11 / 9 + 1


def test_nothing_rides_along_where_nothing_is_fired() -> None:
    none = Loading(stage="biscuit", per_shelf={}, loads=(), lower_bound=0, to_fire=0)
    assert rides_along(none, plan_with()) == {}


@pytest.mark.parametrize(("left_mm", "pots"), [(313.2 - 1e-10, 16), (313.2 - 1e-4, 8), (156.0, 0)])
def test_a_shelf_that_the_height_left_takes_but_for_noise_rides_along(left_mm: float, pots: int) -> None:
    """A pot is 140 mm, 131.6 in the kiln: with 10 above it and a shelf of 15 a layer is 156.6 mm high."""
    last = Load(layers=(), height_left_mm=left_mm)
    room_for = {"VASE": 28, "POT": 8}
    loading = Loading(stage="biscuit", per_shelf=room_for, loads=(last,), lower_bound=1, to_fire=1)
    assert rides_along(loading, plan_with())["POT"] == pots


def test_a_pot_as_tall_as_the_kiln_has_room_for_is_loaded() -> None:
    """131.6 mm in the kiln, 10 above it and a shelf of 15."""
    changes = (("kiln", "usable_height"), "156.6 mm"), (("wares", 0, "made_height"), "140 mm")
    biscuit, _glaze = loadings_with(*changes)
    assert {len(load.layers) for load in biscuit.loads} == {1}


@pytest.mark.parametrize("height_mm", [100.1, 66.7, 33.3, 0.7])
def test_no_height_below_nothing_is_left_by_noise(height_mm: float) -> None:
    for count in range(1, 13):
        usable_mm = float(Decimal(str(height_mm)) * count)
        loads = loads_of([layer(height_mm)] * count, usable_mm)
        assert [0 <= load.height_left_mm < 1e-6 for load in loads] == [True]
