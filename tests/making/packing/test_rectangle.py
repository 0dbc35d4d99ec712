import pytest

from salebook.making.packing.rectangle import Rectangle, is_clear

GROUND = Rectangle(width=4.0, depth=2.0)


def test_the_corners_lie_half_a_side_from_the_middle() -> None:
    assert {-2 - 1j, 2 - 1j, -2 + 1j, 2 + 1j} == set(GROUND.corners)


def test_turned_ground_is_as_wide_as_it_was_deep() -> None:
    assert Rectangle(width=2.0, depth=4.0) == GROUND.turned


@pytest.mark.parametrize(
    ("centre", "is_held"),
    [
        pytest.param(2 + 1j, True, id="a corner"),
        pytest.param(-2 - 1j, True, id="the other corner"),
        pytest.param(2 + 5e-10, True, id="over the edge by noise"),
        pytest.param((1 + 5e-10) * 1j, True, id="behind the edge by noise"),
        pytest.param(2 + 2e-9, False, id="beside it"),
        pytest.param((-1 - 2e-9) * 1j, False, id="before it"),
        pytest.param(-2.5 + 0.5j, False, id="to the left of it"),
        pytest.param(1.5 + 1.5j, False, id="behind it"),
    ],
)
def test_ground_holds_what_stands_on_it_or_on_its_edge(centre: complex, *, is_held: bool) -> None:
    assert GROUND.holds(centre) is is_held


@pytest.mark.parametrize(
    ("centre", "places"),
    [
        # 0.6 from the right edge, 1 from the front and back edge: 0.6² + 0.8² = 1.
        (1.4 + 0j, {2 + 0.8j, 2 - 0.8j, 1.4 + 1j, 1.4 - 1j}),
        (-1.4 + 0j, {-2 + 0.8j, -2 - 0.8j, -1.4 + 1j, -1.4 - 1j}),
        # In a corner: a step along each side, on the ground and off it.
        (2 - 1j, {2 + 0j, 2 - 2j, 1 - 1j, 3 - 1j}),
        # 0.6 from the back edge, 1.4 from the front edge.
        (0.4j, {0.8 + 1j, -0.8 + 1j}),
    ],
)
def test_places_on_the_edge_are_1_away(centre: complex, places: set[complex]) -> None:
    found = {complex(round(place.real, 9), round(place.imag, 9)) for place in GROUND.on_edge_near(centre)}
    assert places == found


@pytest.mark.parametrize(
    ("placed", "clear"),
    [
        ([], True),
        ([1 + 0j, -1j], True),
        ([1 - 5e-10 + 0j], True),
        ([1 - 2e-9 + 0j], False),
        ([1 + 0j, 0.6 + 0.7j], False),
        ([0j], False),
    ],
)
def test_a_centre_is_clear_at_a_distance_of_1_from_each(placed: list[complex], *, clear: bool) -> None:
    assert is_clear(0j, placed) is clear
