import math
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.making.best_known import best_known_on_disc, best_known_on_square
from salebook.making.ground import Disc, Oblong, stand
from salebook.making.packing import Centre, circles_on_rectangle, circles_on_round

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
    assert stand(best_known_on_disc(radius), Disc(radius=radius))
    assert stand(best_known_on_square(2 * radius), Oblong(width=2 * radius, depth=2 * radius))


def test_centres_too_close_or_off_the_ground_do_not_stand() -> None:
    assert stand([0j, 1 + 0j], Disc(radius=1))
    assert not stand([0j, 0.999 + 0j], Disc(radius=1))
    assert not stand([0j, 1.001 + 0j], Disc(radius=1))
    assert not stand([0j, 1.001j], Oblong(width=4, depth=2))
