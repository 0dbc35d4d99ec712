import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from salebook.making.packing.rectangle import Rectangle
from salebook.making.packing.row_packing import fitting, rows_on_disc, rows_on_rectangle
from tests.support.centres import stand_on_disc, stand_on_oblong

# Rounded: that noise of 1e-9 is forgiven is another test's.
SIDES = st.floats(0, 7).map(lambda side: round(side, 6))
HALF_ROOT_3 = math.sqrt(3) / 2


@pytest.mark.parametrize(
    ("length", "spacing", "expected"),
    [
        (0, 1, 1),
        (2, 1, 3),
        (2.9, 1, 3),
        (2, 0.5, 5),
        (3, 1.5, 3),
        pytest.param(2 - 5e-10, 1, 3, id="short by noise"),
        pytest.param(2 - 2e-9, 1, 2, id="too short"),
        pytest.param(-5e-10, 1, 1, id="none but noise"),
        (-0.1, 1, 0),
        (-7, 1, 0),
    ],
)
def test_so_many_stand_on_a_length_with_both_ends(length: float, spacing: float, expected: int) -> None:
    assert fitting(length, spacing) == expected


def most_one_way(width: float, depth: float) -> int:
    """Count every way of laying rows along the width, from how circles touch.

    Straight rows; rows of k, every second one aside by half of their spacing width/(k - 1/2); a straight
    rows of k and behind them rows of k - 1 and k by turns, spaced width/(k - 1). Rows that are aside lie
    √(1 - spacing²/4) behind each other, but a row is 1 from the next but one.
    """
    counts = [(math.floor(width) + 1) * (math.floor(depth) + 1)]
    for k in range(1, math.floor(width) + 2):
        if width >= k - 0.5:
            counts.append(k * (whole(depth / behind(width / (k - 0.5))) + 1))
        if k > 1:
            pitch = behind(width / (k - 1))
            for straight in range(math.floor(depth) + 1):
                aside = whole((depth - straight) / pitch)
                counts.append((straight + 1 + aside) * k - (aside + 1) // 2)
    return max(counts)


def whole(rows: float) -> int:
    """Return how many whole rows; 2.4 / 0.6 is four, not a hair less."""
    return math.floor(rows + 1e-9)


def behind(spacing: float) -> float:
    return max(0.5, math.sqrt(max(0.0, 1 - spacing**2 / 4)))


@given(width=SIDES, depth=SIDES)
@example(width=2.45, depth=3.95)
@example(width=4.35, depth=2.15)
@example(width=2.0, depth=4.75)
@example(width=4.75, depth=2.0)
@example(width=6.85, depth=8.25)
@example(width=2.4, depth=2.4)
def test_rows_on_a_rectangle_are_the_most_of_every_way_to_lay_them(width: float, depth: float) -> None:
    centres = rows_on_rectangle(Rectangle(width=width, depth=depth))
    assert stand_on_oblong(centres, width, depth)
    assert len(centres) == max(most_one_way(width, depth), most_one_way(depth, width))


@pytest.mark.parametrize(
    ("width", "depth", "expected"),
    [
        pytest.param(2, 2 * HALF_ROOT_3, 8, id="3, 2 and 3"),
        pytest.param(2.5, 2 * HALF_ROOT_3, 9, id="3, 3 and 3"),
        pytest.param(2.5, HALF_ROOT_3, 6, id="3 and 3"),
        pytest.param(4.5, 3 * HALF_ROOT_3, 20, id="four rows of 5"),
        pytest.param(1.6, 0.85, 4, id="2 and 2, spaced 1.067 and 0.846 behind each other"),
        pytest.param(2.4, 2.4, 10, id="five rows of 2, spaced 1.6 and 0.6 behind each other"),
        pytest.param(3, 4, 20, id="straight"),
        pytest.param(0, 0, 1, id="one"),
        pytest.param(0.5, 3 * HALF_ROOT_3, 4, id="four by turns at the left and the right"),
        pytest.param(-1, 3, 0, id="too narrow"),
        pytest.param(3, -1, 0, id="too shallow"),
    ],
)
def test_rows_that_fit_exactly_are_laid(width: float, depth: float, expected: int) -> None:
    for rectangle in (Rectangle(width=width, depth=depth), Rectangle(width=depth, depth=width)):
        centres = rows_on_rectangle(rectangle)
        assert len(centres) == expected
        assert stand_on_oblong(centres, rectangle.width, rectangle.depth)


def in_hexagons(radius: float, x: float, y: float) -> int:
    """Count the points of the hexagonal pattern through (x, y) that lie within a radius of the middle."""
    reach = math.ceil(2 * radius) + 2
    return sum(
        math.hypot(x + column + row % 2 / 2, y + row * HALF_ROOT_3) <= radius + 1e-9
        for row in range(-reach, reach + 1)
        for column in range(-reach, reach + 1)
    )


HOLE = HALF_ROOT_3 / 3
"""How far behind a row the middle of three pieces that touch lies."""

SIXTEENTHS = (
    (2.66, 0, 0), (2.83, 3, 0), (2.855, 3, 2), (2.89, 4, 0), (3.125, 8, 0), (3.17, 8, 4), (3.225, 8, 8),
    (3.35, 5, 4), (3.365, 5, 5), (3.58, 2, 0), (3.82, 3, 3), (4.04, 7, 0), (4.112, 7, 7), (4.495, 2, 1),
    (4.872, 8, 3), (4.97, 6, 2), (5.025, 6, 6), (5.1, 8, 6), (5.46, 2, 2), (5.485, 3, 1), (5.845, 8, 2),
    (5.995, 6, 5), (6.78, 8, 5), (6.94, 6, 1), (6.965, 6, 0), (7.61, 7, 6), (7.61, 8, 7), (7.99, 1, 0),
    (8.965, 1, 1), (9.485, 7, 3), (9.96, 5, 0),
)  # fmt: skip
"""Radius of a shelf less its edge; to the first piece sixteenths along a row, eighths of the hole across."""


@pytest.mark.parametrize(("radius", "along", "across"), SIXTEENTHS)
def test_hexagonal_rows_on_a_disc_are_tried_in_many_positions(radius: float, along: int, across: int) -> None:
    centres = rows_on_disc(radius)
    assert stand_on_disc(centres, radius)
    assert len(centres) >= in_hexagons(radius, along / 16, across / 8 * HOLE)


@pytest.mark.parametrize("radius", [4.14, 8.31, 8.847])
def test_hexagonal_rows_on_a_disc_are_tried_from_its_edge(radius: float) -> None:
    assert len(rows_on_disc(radius)) >= in_hexagons(radius, 0, -radius)


@pytest.mark.parametrize(
    ("radius", "expected"),
    [
        pytest.param(0, 1, id="one"),
        pytest.param(0.5, 2, id="two side by side"),
        pytest.param(1 / math.sqrt(3), 3, id="a triangle"),
        pytest.param(1, 7, id="a hexagon"),
        pytest.param(2, 19, id="a hexagon with sides of three"),
    ],
)
def test_rows_that_just_fit_a_disc_are_laid(radius: float, expected: int) -> None:
    centres = rows_on_disc(radius)
    assert len(centres) == expected
    assert stand_on_disc(centres, radius)
