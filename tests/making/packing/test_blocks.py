import math
from itertools import combinations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from salebook.making.packing.blocks import rectangles_on_rectangle, rectangles_on_round
from salebook.making.packing.circles import Centre

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
@example(diameter=400.0, piece=(120.0, 60.0), gap=5.0)
@example(diameter=540.0, piece=(130.0, 120.0), gap=5.0)
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


def most_in_two_blocks(width: float, depth: float, piece: tuple[float, float], gap: float) -> int:
    """Count columns one way round beside columns the other way round, for every number of the first."""
    width, depth, across, along = width - gap, depth - gap, piece[0] + gap, piece[1] + gap
    if min(width, depth) < 0:
        return 0
    return max(
        columns * int(depth / along) + int((width - columns * across) / along) * int(depth / across)
        for columns in range(int(width / across) + 1)
    )


@given(width=SHELVES, depth=SHELVES, piece=SIDES, gap=GAPS)
def test_a_rectangular_shelf_takes_the_most_of_every_two_blocks(
    width: float, depth: float, piece: tuple[float, float], gap: float
) -> None:
    piece = (max(piece), min(piece))
    due = max(
        most_in_two_blocks(*sides, way, gap)
        for sides in ((width, depth), (depth, width))
        for way in (piece, piece[::-1])
    )
    assert len(rectangles_on_rectangle(width, depth, *piece, gap)) == due


def most_in_rows(diameter: float, piece: tuple[float, float], gap: float, shift: float) -> int:
    """Count rows that lie `shift` of a row off the middle; each as long as its outer edge allows."""
    radius, pitch = diameter / 2 - gap, piece[1] + gap
    places = [abs(number + shift) * pitch + piece[1] / 2 for number in range(-40, 41)]
    chords = [2 * math.sqrt(radius**2 - place**2) for place in places if place <= radius]
    return sum(int((chord + gap) / (piece[0] + gap)) for chord in chords)


@given(diameter=SHELVES, piece=SIDES, gap=GAPS)
@example(diameter=520.0, piece=(130.0, 120.0), gap=0.0)
def test_a_round_shelf_takes_the_most_of_24_positions_of_the_rows(
    diameter: float, piece: tuple[float, float], gap: float
) -> None:
    ways = (piece, piece[::-1])
    due = max(most_in_rows(diameter, way, gap, number / 24) for way in ways for number in range(24))
    assert len(rectangles_on_round(diameter, max(piece), min(piece), gap)) == due


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


@pytest.mark.parametrize(
    ("diameter", "piece", "gap", "expected"),
    [
        # Two rows of one with a gap between them and at the edge: 300 by 195 + 10 + 195, 500 across corners.
        (520, (300, 195), 10, 2),
        (519.9, (300, 195), 10, 1),
        # One in the middle, 400 by 300, and a gap all round.
        (520, (400, 300), 10, 1),
        (519.9, (400, 300), 10, 0),
        (10, (400, 300), 10, 0),
    ],
)
def test_the_gap_keeps_oblong_pieces_from_each_other_and_from_the_edge(
    diameter: float, piece: tuple[float, float], gap: float, expected: int
) -> None:
    assert len(rectangles_on_round(diameter, *piece, gap)) == expected


def places(centres: tuple[Centre, ...]) -> set[tuple[float, float, bool]]:
    return {(round(centre.x_mm, 6), round(centre.y_mm, 6), centre.turned) for centre in centres}


def test_two_blocks_begin_at_a_corner_and_stand_side_by_side() -> None:
    """500 by 300 takes three rows of two, 400 wide, and one turned on the 100 that are left."""
    due = {(x, y, False) for x in (-150.0, 50.0) for y in (-100.0, 0.0, 100.0)} | {(200.0, -50.0, True)}
    assert places(rectangles_on_rectangle(500, 300, 200, 100)) == due


def test_two_blocks_may_stand_behind_each_other() -> None:
    """180 by 240 takes one of 150 by 90 at the front and two turned behind it; side by side two stand."""
    due = {(-15.0, -75.0, False), (-45.0, 45.0, True), (45.0, 45.0, True)}
    assert places(rectangles_on_rectangle(180, 240, 150, 90)) == due


def test_rows_on_a_round_shelf_stand_in_its_middle() -> None:
    """Three of 100 by 50 one behind the other are 100 by 150, 180.3 across corners."""
    due = {(0.0, -50.0, False), (0.0, 0.0, False), (0.0, 50.0, False)}
    assert places(rectangles_on_round(181, 100, 50)) == due


def test_a_shelf_narrower_than_the_gap_takes_nothing() -> None:
    assert rectangles_on_rectangle(4, 300, 40, 30, 5) == rectangles_on_rectangle(300, 4, 40, 30, 5) == ()
    assert rectangles_on_round(8, 40, 1, 5) == ()


@pytest.mark.parametrize("noise", [-1e-10, 0.0, 1e-10])
def test_pieces_that_fit_but_for_noise_stand(noise: float) -> None:
    assert len(rectangles_on_rectangle(300 * (1 + noise), 200 * (1 + noise), 100, 50)) == 12
    assert len(rectangles_on_round(500 * (1 + noise), 300, 200)) == 2
    assert len(rectangles_on_rectangle(300 * (1 - 1e-8), 200, 100, 50)) < 12


def test_the_smallest_pieces_are_counted_in_time() -> None:
    assert len(rectangles_on_rectangle(600, 400, 0.01, 0.001)) > 10_000
    assert len(rectangles_on_round(600, 0.01, 0.001)) > 10_000
