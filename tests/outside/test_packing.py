"""Pieces on a shelf against the best packings of equal circles that are known.

Sources: Graham, Lubachevsky, Nurmela and Östergård, "Dense packings of congruent circles in a circle",
Discrete Mathematics 181 (1998), 139 to 154; Szabó and others, New Approaches to Circle Packing in a Square,
Springer, 2007. Their numbers stand in the lists kept up at packomania.com: "cci", radius of the container by
radius of a circle (read), and "csq", radius in a unit square (from memory). An optimiser found all of them
again to 1e-9. Best known means that nobody has found better; it is proved for the smaller numbers only.
"""

import math
from itertools import pairwise

import pytest

from salebook.making.packing.circles import circles_on_rectangle, circles_on_round

RADII_IN_CIRCLE = (
    (1, 1.000000), (2, 2.000000), (3, 2.154701), (4, 2.414214), (5, 2.701302), (6, 3.000000), (7, 3.000000),
    (8, 3.304765), (9, 3.613126), (10, 3.813026), (11, 3.923804), (12, 4.029602), (13, 4.236068),
    (14, 4.328429), (15, 4.521357), (16, 4.615426), (17, 4.792034), (18, 4.863703), (19, 4.863703),
    (20, 5.122321), (21, 5.252317), (22, 5.439719), (23, 5.545204), (24, 5.651661), (25, 5.752824),
    (26, 5.828177), (27, 5.906398), (28, 6.014938), (29, 6.138598), (30, 6.197741),
)  # fmt: skip

RADIUS_IN_SQUARE = (
    (1, 0.500000000), (2, 0.292893219), (3, 0.254333095), (4, 0.250000000), (5, 0.207106781),
    (6, 0.187680601), (7, 0.174457630), (8, 0.170540689), (9, 0.166666667), (10, 0.148204323),
    (11, 0.142399238), (12, 0.139958844), (13, 0.133993513), (14, 0.129331794), (15, 0.127166548),
    (16, 0.125000000), (17, 0.117196743), (18, 0.115521433), (19, 0.112265438), (20, 0.111382348),
    (21, 0.106860212), (22, 0.105665297), (23, 0.102802323), (24, 0.101381800), (25, 0.100000000),
    (26, 0.096362339), (27, 0.095420002), (28, 0.093672834), (29, 0.092463144), (30, 0.091671058),
)  # fmt: skip

PRINTED = 1e-6
"""The lists are compared to the six digits printed here."""


@pytest.mark.parametrize(("pieces", "radii"), RADII_IN_CIRCLE)
def test_a_round_shelf_takes_what_is_best_known(pieces: int, radii: float) -> None:
    assert len(circles_on_round(radii * (1 + PRINTED), 1)) >= pieces


@pytest.mark.parametrize(("pieces", "radius"), RADIUS_IN_SQUARE)
def test_a_square_shelf_takes_what_is_best_known(pieces: int, radius: float) -> None:
    side = (1 + PRINTED) / (2 * radius)
    assert len(circles_on_rectangle(side, side, 1)) >= pieces


@pytest.mark.parametrize(
    ("smaller", "larger"),
    [(few, more) for few, more in pairwise(RADII_IN_CIRCLE) if more[1] > few[1]],
)
def test_a_round_shelf_never_takes_more_than_is_best_known(
    smaller: tuple[int, float], larger: tuple[int, float]
) -> None:
    for part in (0.1, 0.5, 0.9, 0.999):
        radii = smaller[1] + part * (larger[1] - smaller[1])
        assert len(circles_on_round(radii, 1)) == smaller[0]


@pytest.mark.parametrize(("smaller", "larger"), list(pairwise(RADIUS_IN_SQUARE)))
def test_a_square_shelf_never_takes_more_than_is_best_known(
    smaller: tuple[int, float], larger: tuple[int, float]
) -> None:
    few, more = (1 / (2 * radius) for _pieces, radius in (smaller, larger))
    for part in (0.1, 0.5, 0.9, 0.999):
        side = few + part * (more - few)
        assert len(circles_on_rectangle(side, side, 1)) == smaller[0]


@pytest.mark.parametrize(
    ("shelf", "piece", "pieces"),
    [(400, 100, 11), (450, 90, 19), (560, 100, 23), (480, 80, 27), (300, 100, 7), (200, 100, 2)],
)
def test_round_shelves_in_mm_take_what_the_list_says(shelf: float, piece: float, pieces: int) -> None:
    assert len(circles_on_round(shelf, piece)) == pieces


@pytest.mark.parametrize(
    ("shelf", "piece", "pieces"), [(400, 100, 16), (450, 120, 13), (500, 110, 20), (300, 130, 4)]
)
def test_square_shelves_in_mm_take_what_the_list_says(shelf: float, piece: float, pieces: int) -> None:
    assert len(circles_on_rectangle(shelf, shelf, piece)) == pieces


CLOSED_FORMS = (
    (3, 1 + 2 / math.sqrt(3)),
    (4, 1 + math.sqrt(2)),
    (5, 1 + math.sqrt(2 * (1 + 1 / math.sqrt(5)))),
    (7, 3.0),
    (8, 1 + 1 / math.sin(math.pi / 7)),
    (9, 1 + math.sqrt(2 * (2 + math.sqrt(2)))),
    (11, 1 + 1 / math.sin(math.pi / 9)),
    (13, 2 + math.sqrt(5)),
    (19, 1 + math.sqrt(2) + math.sqrt(6)),
)
"""Radii that are known exactly, worked from how the circles touch; they are those of the list above."""


@pytest.mark.parametrize(("pieces", "radii"), CLOSED_FORMS)
def test_a_round_shelf_of_exactly_the_size_takes_them(pieces: int, radii: float) -> None:
    assert len(circles_on_round(radii, 1)) == pieces


UNIT_CIRCLES_IN_SQUARE = (0, 1, 1, 4, 5, 9, 10, 16, 20, 25, 30, 36)
"""OEIS A308578: circles of radius 1 in a square of side n, n = 1 to 12. https://oeis.org/A308578"""

UNIT_CIRCLES_IN_CIRCLE = (1, 2, 7, 11, 19, 27, 38, 50, 64, 80, 98, 118)
"""OEIS A023393: circles of radius 1 in a circle of radius n, n = 1 to 12. https://oeis.org/A023393"""

UNIT_AREAS_IN_SQUARE = (
    0, 1, 1, 2, 3, 4, 4, 5, 5, 6, 8, 9, 9, 9, 10, 11, 12, 13, 13, 15,
    16, 16, 16, 18, 18, 20, 20, 21, 22, 22, 24, 25, 25, 25, 27, 27, 28, 30, 30,
)  # fmt: skip
"""OEIS A337020: circles of area 1 in a square of area n, n = 1 to 39. https://oeis.org/A337020"""


@pytest.mark.parametrize(("side", "expected"), list(enumerate(UNIT_CIRCLES_IN_SQUARE, 1)))
def test_circles_of_radius_one_follow_the_published_sequence(side: int, expected: int) -> None:
    assert len(circles_on_rectangle(side, side, 2)) == expected


@pytest.mark.parametrize(("area", "expected"), list(enumerate(UNIT_AREAS_IN_SQUARE, 1)))
def test_circles_of_area_one_follow_the_published_sequence(area: int, expected: int) -> None:
    side = math.sqrt(area)
    assert len(circles_on_rectangle(side, side, 2 / math.sqrt(math.pi))) == expected


@pytest.mark.parametrize(("radius", "known"), list(enumerate(UNIT_CIRCLES_IN_CIRCLE, 1)))
def test_a_round_shelf_of_any_size_takes_nearly_what_the_published_sequence_has(
    radius: int, known: int
) -> None:
    """The best known number up to 30 pieces; beyond them up to 6 % fewer, and never more."""
    least = known if known <= 30 else 0.94 * known
    assert least <= len(circles_on_round(radius, 1)) <= known


def hexagonal_on_round(radius: float) -> int:
    """Count hexagonal rows with a piece in the middle, a gap between two or a hole between three there."""
    middles = ((0.0, 0.0), (0.5, 0.0), (0.5, math.sqrt(3) / 6))
    reach = range(-math.ceil(radius) * 2 - 2, math.ceil(radius) * 2 + 3)
    return max(
        sum(
            math.hypot(across + along % 2 / 2 + x, along * math.sqrt(3) / 2 + y) <= radius
            for along in reach
            for across in reach
        )
        for x, y in middles
    )


@pytest.mark.parametrize("ratio", [5.9, 6.25, 6.8, 7.5, 8.1, 9.3, 10.7, 13.2, 17.9])
def test_a_large_round_shelf_takes_no_fewer_than_plain_hexagonal_rows(ratio: float) -> None:
    assert len(circles_on_round(ratio, 1)) >= hexagonal_on_round((ratio - 1) / 2)


def hexagonal_on_rectangle(width: float, depth: float) -> int:
    """Count plain hexagonal rows from one corner: full ones, and between them some half a piece aside."""
    rows = math.floor((depth - 1) / (math.sqrt(3) / 2) + 1e-9) + 1
    full, shifted = math.floor(width + 1e-9), math.floor(width - 0.5 + 1e-9)
    return (rows + 1) // 2 * full + rows // 2 * shifted


@pytest.mark.parametrize(
    ("width", "depth"), [(6, 6), (6.5, 6.5), (7.3, 5.1), (9.9, 4.2), (3.5, 12), (11.2, 10.4), (2.5, 4)]
)
def test_a_rectangular_shelf_takes_no_fewer_than_plain_hexagonal_rows(width: float, depth: float) -> None:
    rows = max(hexagonal_on_rectangle(width, depth), hexagonal_on_rectangle(depth, width))
    assert len(circles_on_rectangle(width, depth, 1)) >= rows
