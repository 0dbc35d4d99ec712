import math
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.making.footprint import rectangles_on_rectangle, rectangles_on_round
from salebook.making.packing import Centre

SHELVES = st.floats(100, 600)
SIDES = st.tuples(st.floats(40, 300), st.floats(40, 300))
GAPS = st.sampled_from([0.0, 5.0])
NOISE_MM = 1e-6


def sides_of(centre: Centre, piece: tuple[float, float]) -> tuple[float, float]:
    return piece[::-1] if centre.turned else piece


def are_clear(one: Centre, other: Centre, piece: tuple[float, float], gap: float) -> bool:
    widths, depths = zip(sides_of(one, piece), sides_of(other, piece), strict=True)
    beside = abs(one.x_mm - other.x_mm) >= sum(widths) / 2 + gap - NOISE_MM
    behind = abs(one.y_mm - other.y_mm) >= sum(depths) / 2 + gap - NOISE_MM
    return beside or behind


@given(width=SHELVES, depth=SHELVES, piece=SIDES, gap=GAPS)
def test_oblong_pieces_on_a_rectangular_shelf_truly_stand(
    width: float, depth: float, piece: tuple[float, float], gap: float
) -> None:
    centres = rectangles_on_rectangle(width, depth, max(piece), min(piece), gap)
    piece = (max(piece), min(piece))
    for centre in centres:
        across, along = sides_of(centre, piece)
        assert abs(centre.x_mm) + across / 2 + gap <= width / 2 + NOISE_MM
        assert abs(centre.y_mm) + along / 2 + gap <= depth / 2 + NOISE_MM
    assert all(are_clear(one, other, piece, gap) for one, other in combinations(centres, 2))


@given(diameter=SHELVES, piece=SIDES, gap=GAPS)
def test_oblong_pieces_on_a_round_shelf_truly_stand(
    diameter: float, piece: tuple[float, float], gap: float
) -> None:
    piece = (max(piece), min(piece))
    centres = rectangles_on_round(diameter, *piece, gap)
    for centre in centres:
        across, along = sides_of(centre, piece)
        corner = math.hypot(abs(centre.x_mm) + across / 2, abs(centre.y_mm) + along / 2)
        assert corner + gap <= diameter / 2 + NOISE_MM
    assert all(are_clear(one, other, piece, gap) for one, other in combinations(centres, 2))


@pytest.mark.parametrize(
    ("shelf", "piece", "gap", "expected"),
    [
        ((400, 300), (150, 100), 0, 8),
        ((400, 300), (100, 150), 0, 8),
        ((300, 400), (150, 100), 0, 8),
        ((500, 300), (200, 100), 0, 7),
        ((405, 305), (95, 145), 5, 8),
        ((404, 305), (95, 145), 5, 7),
        ((100, 100), (101, 50), 0, 0),
    ],
)
def test_oblong_pieces_stand_both_ways_round(
    shelf: tuple[float, float], piece: tuple[float, float], gap: float, expected: int
) -> None:
    assert len(rectangles_on_rectangle(*shelf, *piece, gap)) == expected


@pytest.mark.parametrize(
    ("diameter", "piece", "expected"),
    [
        (500, (400, 300), 1),
        (499, (400, 300), 0),
        (500, (300, 400), 1),
        (500, (150, 100), 10),
        (200, (100, 50), 3),
    ],
)
def test_oblong_pieces_on_a_round_shelf_stand_in_the_best_position(
    diameter: float, piece: tuple[float, float], expected: int
) -> None:
    assert len(rectangles_on_round(diameter, *piece)) == expected


def test_the_smallest_pieces_are_counted_in_time() -> None:
    assert len(rectangles_on_rectangle(600, 400, 0.01, 0.001)) > 10_000
    assert len(rectangles_on_round(600, 0.01, 0.001)) > 10_000
