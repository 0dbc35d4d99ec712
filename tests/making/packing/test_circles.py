import math
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.making.packing.best_known import best_known_on_disc, best_known_on_square
from salebook.making.packing.circles import Centre, circles_on_rectangle, circles_on_round
from salebook.making.packing.rectangle import Rectangle
from salebook.making.packing.row_packing import rows_on_rectangle
from tests.support.centres import stand_on_disc, stand_on_oblong

SHELVES = st.floats(100, 800)
PIECES = st.floats(30, 300)
GAPS = st.sampled_from([0.0, 3.0, 5.0, 12.5])
NOISE_MM = 1e-6


def are_apart(centres: tuple[Centre, ...], least_mm: float) -> bool:
    return all(
        math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm) >= least_mm - NOISE_MM
        for one, other in combinations(centres, 2)
    )


@given(shelf=SHELVES, piece=PIECES, gap=GAPS)
def test_pieces_on_a_round_shelf_truly_stand(shelf: float, piece: float, gap: float) -> None:
    centres = circles_on_round(shelf, piece, gap)
    reach = shelf / 2 - gap - piece / 2
    assert all(math.hypot(centre.x_mm, centre.y_mm) <= reach + NOISE_MM for centre in centres)
    assert are_apart(centres, piece + gap)
    assert bool(centres) == (reach >= -NOISE_MM / 1000)


@given(width=SHELVES, depth=SHELVES, piece=PIECES, gap=GAPS)
def test_pieces_on_a_rectangular_shelf_truly_stand(
    width: float, depth: float, piece: float, gap: float
) -> None:
    centres = circles_on_rectangle(width, depth, piece, gap)
    across, along = (side / 2 - gap - piece / 2 for side in (width, depth))
    assert all(abs(centre.x_mm) <= across + NOISE_MM for centre in centres)
    assert all(abs(centre.y_mm) <= along + NOISE_MM for centre in centres)
    assert are_apart(centres, piece + gap)
    assert bool(centres) == (min(across, along) >= -NOISE_MM / 1000)


@given(width=SHELVES, depth=SHELVES, piece=PIECES, gap=GAPS)
def test_a_rectangular_shelf_takes_no_fewer_than_straight_rows(
    width: float, depth: float, piece: float, gap: float
) -> None:
    rows = [int((side - gap) / (piece + gap)) for side in (width, depth)]
    assert len(circles_on_rectangle(width, depth, piece, gap)) >= rows[0] * rows[1]


@given(width=SHELVES, depth=SHELVES, piece=PIECES)
def test_a_turned_shelf_takes_about_as_many(width: float, depth: float, piece: float) -> None:
    one, other = circles_on_rectangle(width, depth, piece), circles_on_rectangle(depth, width, piece)
    assert abs(len(one) - len(other)) <= 1 + len(one) // 20


@given(shelf=SHELVES, piece=PIECES)
def test_a_larger_round_shelf_takes_no_fewer_where_the_best_is_known(shelf: float, piece: float) -> None:
    fewer, more = len(circles_on_round(shelf, piece)), len(circles_on_round(shelf * 1.01, piece))
    assert more >= min(fewer, 30)


@pytest.mark.parametrize(
    ("piece", "gap", "expected"),
    [(150, 0, 7), (150, 5, 5), (139, 5, 7), (450, 0, 1), (450, 5, 0), (440, 5, 1), (451, 0, 0)],
)
def test_the_gap_keeps_pieces_from_each_other_and_from_the_edge(
    piece: float, gap: float, expected: int
) -> None:
    assert len(circles_on_round(450, piece, gap)) == expected


def test_a_shelf_full_of_the_smallest_pieces_is_counted_in_time() -> None:
    assert len(circles_on_round(600, 0.001)) > 10_000
    assert len(circles_on_rectangle(600, 400, 0.001)) > 10_000


@pytest.mark.parametrize("radius", [0, 0.5, 1.0, 1.7, 2.0, 2.4, 2.6])
def test_the_known_packings_stand(radius: float) -> None:
    assert stand_on_disc(best_known_on_disc(radius), radius)
    assert stand_on_oblong(best_known_on_square(2 * radius), 2 * radius, 2 * radius)


NESTLED = (
    (1.34, 1.95, 6), (4.93, 1.30, 12), (3.97, 1.21, 10), (2.36, 2.90, 12), (0.45, 5.52, 7),
    (2.98, 2.61, 13), (3.83, 1.95, 13), (1.37, 6.35, 15), (3.29, 1.96, 12), (2.26, 1.98, 9),
)  # fmt: skip
"""Width and depth of ground for centres, and how many stand 1 apart on it, where no rows take as many.

So many were found by pushing circles apart from random starts, with an optimiser that knows nothing of rows.
"""


@pytest.mark.parametrize(("width", "depth", "pieces"), NESTLED)
def test_pieces_are_nestled_in_where_rows_take_fewer(width: float, depth: float, pieces: int) -> None:
    assert len(circles_on_rectangle(width + 1, depth + 1, 1)) >= pieces
    assert len(rows_on_rectangle(Rectangle(width=width, depth=depth))) < pieces


def test_a_square_in_an_oblong_is_filled_as_the_best_square_known() -> None:
    """Ten circles of radius 0.148204 in a unit square; the shelf is a hundredth of a piece deeper."""
    side = 1 / (2 * 0.148204322)
    assert len(circles_on_rectangle(side, side + 0.01, 1)) >= 10


@pytest.mark.parametrize("gap", [0.0, 7.0])
def test_places_are_in_mm_from_the_middle_of_the_shelf(gap: float) -> None:
    """Two by three pieces of 100 mm just fill a shelf: a piece and a gap from one to the next."""
    pitch = 100 + gap
    centres = circles_on_rectangle(2 * pitch + gap, 3 * pitch + gap, 100, gap)
    due = {(x * pitch, y * pitch) for x in (-0.5, 0.5) for y in (-1.0, 0.0, 1.0)}
    assert {(round(centre.x_mm, 6), round(centre.y_mm, 6)) for centre in centres} == due
    assert {centre.turned for centre in centres} == {False}


@pytest.mark.parametrize("gap", [0.0, 7.0])
def test_seven_on_a_round_shelf_stand_a_piece_and_a_gap_from_the_middle(gap: float) -> None:
    centres = circles_on_round(300 + 4 * gap, 100, gap)
    away = sorted(math.hypot(centre.x_mm, centre.y_mm) for centre in centres)
    assert away == pytest.approx([0, *[100 + gap] * 6], abs=1e-5)


def test_no_more_than_121_pieces_are_counted_side_by_side() -> None:
    assert len(circles_on_rectangle(1000, 1, 1)) == 121
    assert len(circles_on_rectangle(1, 1000, 1)) == 121
