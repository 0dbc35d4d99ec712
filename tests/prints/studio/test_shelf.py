import math
from itertools import combinations

import pytest

from salebook.making.loading import Loading
from salebook.prints.studio.firing_card import firing_html
from salebook.prints.studio.shelf import Piece, ShelfPicture, shelf_pictures
from salebook.reckoning import reckon
from tests.support.print_sales import made
from tests.support.sound_plan import Place, plan_with

ROUND = {"shape": "round", "diameter": "460 mm"}
SQUARE = {"shape": "rectangle", "width": "500 mm", "depth": "400 mm"}
HANDLED: tuple[Place, object] = (("wares", 0, "footprint"), "150 x 110 mm")


def pictures(*changes: tuple[Place, object]) -> tuple[tuple[Loading, tuple[ShelfPicture, ...]], ...]:
    reckoning = reckon(plan_with(*changes))
    return tuple((loading, shelf_pictures(loading, reckoning.plan)) for loading in reckoning.studio.loadings)


@pytest.mark.parametrize("shelf", [ROUND, SQUARE], ids=["round", "rectangle"])
@pytest.mark.parametrize("more", [(), (HANDLED,)], ids=["as planned", "with a handle"])
def test_every_piece_stands_on_its_shelf(
    shelf: dict[str, str], more: tuple[tuple[Place, object], ...]
) -> None:
    found = pictures((("kiln", "shelf"), shelf), *more)
    assert [loading.stage for loading, _drawn in found] == ["biscuit", "glaze"]
    for loading, drawn in found:
        assert [len(picture.pieces) for picture in drawn] == list(loading.per_shelf.values())
        for picture in drawn:
            assert [piece for piece in picture.pieces if not stands(piece, picture)] == []


def stands(piece: Piece, picture: ShelfPicture) -> bool:
    half_width, half_depth = (piece.radius or side / 2 for side in (piece.width, piece.depth))
    if not picture.radius:
        return (
            abs(piece.x) + half_width <= picture.width / 2 + 1e-6
            and abs(piece.y) + half_depth <= picture.depth / 2 + 1e-6
        )
    if piece.radius:
        return math.hypot(piece.x, piece.y) + piece.radius <= picture.radius + 1e-6
    return math.hypot(abs(piece.x) + half_width, abs(piece.y) + half_depth) <= picture.radius + 1e-6


def test_no_two_round_pieces_overlap() -> None:
    pairs = [
        (0 if loading.stage == "biscuit" else 5, one, two)
        for loading, drawn in pictures()
        for picture in drawn
        for one, two in combinations(picture.pieces, 2)
    ]
    assert pairs
    for gap, one, two in pairs:
        assert math.hypot(one.x - two.x, one.y - two.y) >= one.radius + two.radius + gap - 1e-6


def test_a_number_that_a_person_says_stands_beside_the_one_found() -> None:
    drawn = {
        loading.stage: shelves[0] for loading, shelves in pictures((("wares", 0, "per_shelf_biscuit"), 3))
    }
    biscuit, glaze = (len(drawn[stage].pieces) for stage in ("biscuit", "glaze"))
    assert drawn["biscuit"].says == f"{biscuit} found, 3 as you say"
    assert drawn["glaze"].says == f"{glaze} on a shelf"


def test_the_print_draws_each_piece() -> None:
    reckoning = reckon(plan_with())
    found = sum(
        len(picture.pieces)
        for loading in reckoning.studio.loadings
        for picture in shelf_pictures(loading, reckoning.plan)
    )
    assert made(firing_html, reckoning).count('class="piece"') == found
