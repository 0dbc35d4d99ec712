import re

import pytest

from salebook.making.loading import Layer, Load, Loading, rides_along
from salebook.making.studio import plan_studio
from salebook.say.kiln import load_sentence, load_sentences
from tests.support.sound_plan import plan_with


def loading(*loads: tuple[str, ...], lower_bound: int = 1, to_fire: int = 0) -> Loading:
    """Return loads of layers of 5 pieces, 6 to a shelf."""
    return Loading(
        stage="biscuit",
        per_shelf={"POT": 6, "VASE": 6},
        loads=tuple(
            Load(
                layers=tuple(Layer(code=code, pieces=5, room_for=6, height_mm=200) for code in load),
                height_left_mm=0.0,
            )
            for load in loads
        ),
        lower_bound=lower_bound,
        to_fire=to_fire or len(loads),
    )


@pytest.mark.parametrize(
    ("found", "said"),
    [
        (loading(("POT",)), "Kiln loads: 1, and fewer cannot do."),
        (
            loading(("POT",), ("POT",)),
            "Kiln loads: 2; by the height of the shelves alone 1 might do.",
        ),
        (loading(("POT",), to_fire=3), "Kiln loads: 3, as you say; 1 were found."),
    ],
)
def test_the_loads_stand_beside_the_least_that_might_do(found: Loading, said: str) -> None:
    assert load_sentences(found, plan_with())[0] == said


def test_mixed_loads_are_named() -> None:
    mixed = loading(("POT",), ("POT", "VASE"), ("VASE", "POT"))
    assert "Several wares share load 2, 3." in load_sentences(mixed, plan_with())


def test_what_would_ride_along_is_pointed_out() -> None:
    plan = plan_with()
    for found in plan_studio(plan).loadings:
        more = {code: count for code, count in rides_along(found, plan).items() if count}
        assert more
        said = load_sentences(found, plan)[-1]
        assert re.findall(r"([0-9]+) ([A-Z0-9]+)", said) == [(str(n), code) for code, n in more.items()]
        assert said.endswith("more would ride along for nothing.")


def test_a_full_last_load_has_room_for_nothing() -> None:
    layer = Layer(code="POT", pieces=6, room_for=6, height_mm=590)
    full = Loading(
        stage="biscuit",
        per_shelf=loading(("POT",)).per_shelf,
        loads=(Load(layers=(layer,), height_left_mm=1.0),),
        lower_bound=1,
        to_fire=1,
    )
    assert load_sentences(full, plan_with()) == ("Kiln loads: 1, and fewer cannot do.",)


def test_a_load_is_said_shelf_by_shelf() -> None:
    assert load_sentence(loading(("POT", "VASE")).loads[0]) == "5 POT · 5 VASE"
