import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.making.packing.corner_placement import (
    Preference,
    by_columns,
    by_rows,
    corner_placements,
    from_corner,
    outwards,
    place_by,
)
from salebook.making.packing.rectangle import Rectangle
from tests.support.centres import stand_on_oblong
from tests.support.strategies import at_most

PREFERENCES = [by_columns, by_rows, from_corner, outwards]


def is_full(rectangle: Rectangle, centres: list[complex]) -> bool:
    """Whether no point of a fine net over the ground, its edges included, is free for one more."""
    net = np.linspace(-0.5, 0.5, 41)
    places = np.add.outer(net * rectangle.width, 1j * net * rectangle.depth)
    return bool((abs(np.subtract.outer(places, np.array(centres))).min(axis=-1) <= 1 + 1e-6).all())


@at_most(25)
@given(width=st.floats(0, 4), depth=st.floats(0.5, 4))
def test_pieces_nestled_in_truly_stand_and_leave_no_room_for_another(width: float, depth: float) -> None:
    rectangle = Rectangle(width=width, depth=depth)
    for centres in corner_placements(rectangle):
        assert stand_on_oblong(centres, width, depth)
        assert is_full(rectangle, centres)


@pytest.mark.parametrize("preference", PREFERENCES)
def test_three_stand_where_a_triangle_fits(preference: Preference) -> None:
    """Two in the front corners, 1 apart; the third 0.866 behind them in the middle."""
    rectangle = Rectangle(width=1.0, depth=math.sqrt(3) / 2)
    found = place_by(rectangle, rectangle.corners[::2], preference)
    height = math.sqrt(3) / 4
    assert [-0.5 - height * 1j, 0.5 - height * 1j, height * 1j] == pytest.approx(found)


@pytest.mark.parametrize("preference", PREFERENCES)
def test_starting_places_that_are_too_close_or_off_the_ground_are_passed_over(preference: Preference) -> None:
    line = Rectangle(width=1.9, depth=0.0)
    assert [-0.95 + 0j, 0.05 + 0j] == pytest.approx(
        place_by(line, [-2 + 0j, -0.95 + 0j, 0j], preference), abs=1e-9
    )


def test_by_rows_the_front_row_is_filled_before_the_next() -> None:
    """Rows of 3, 2 and 3 half a piece aside and 0.866 behind each other, from the left."""
    rectangle = Rectangle(width=2.0, depth=math.sqrt(3))
    found = place_by(rectangle, (rectangle.corners[0],), by_rows)
    behind = math.sqrt(3) / 2
    due = [complex(x, -behind) for x in (-1, 0, 1)]
    due += [-0.5 + 0j, 0.5 + 0j]
    due += [complex(x, behind) for x in (-1, 0, 1)]
    assert due == pytest.approx(found, abs=1e-9)


@pytest.mark.parametrize(
    ("preference", "place", "due"),
    [
        (by_rows, 3 - 4j, (-4, 3)),
        (by_columns, 3 - 4j, (3, -4)),
        (from_corner, 3 - 4j, (-1, 3)),
        (outwards, 3 - 4j, (-5, math.atan2(-4, 3))),
    ],
)
def test_each_preference_has_its_order(
    preference: Preference, place: complex, due: tuple[float, float]
) -> None:
    assert due == pytest.approx(preference(place), abs=1e-8)


@pytest.mark.parametrize("preference", PREFERENCES)
def test_noise_does_not_upset_an_order(preference: Preference) -> None:
    assert preference(0.3 + 0.6j) == preference(0.1 + 0.2 + (0.6 + 1e-12) * 1j)
