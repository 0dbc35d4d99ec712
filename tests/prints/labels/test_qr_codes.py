import math
import re

import pytest
import segno
from hypothesis import given
from hypothesis import strategies as st

from salebook.prints.labels.qr_codes import (
    DOT_MM,
    INSET_MODULES,
    MODULES,
    SLACK_MM,
    canvas_of,
    code_of,
    module_dots,
    path_of,
)
from salebook.prints.paper import PAPERS, PaperName


def bars_of(path: str) -> list[tuple[float, float, float, float]]:
    """Return left, top, width and height of each bar of a path, in modules."""
    bars = re.findall(r"M([0-9.]+) ([0-9.]+)h([0-9.]+)v([0-9.]+)h-[0-9.]+z", path)
    return [(float(x), float(y), float(wide), float(high)) for x, y, wide, high in bars]


def drawn(path: str) -> set[tuple[int, int]]:
    """Return the dark modules (row, column) that a path draws."""
    bars = bars_of(path)
    return {(int(y), int(x) + step) for x, y, wide, _high in bars for step in range(round(wide))}


@pytest.mark.parametrize("number", ["LAN-001", "A-1", "ABCDEF-100000", "MUG"])
def test_the_path_draws_the_code_within_its_quiet_zone(number: str) -> None:
    expected = segno.make_qr(number, error="q", version=1, mask=3, boost_error=False)
    modules = {
        (row, column)
        for row, line in enumerate(expected.matrix_iter(border=4))
        for column, dark in enumerate(line)
        if dark
    }
    assert drawn(path_of(number)) == modules


def test_no_bar_touches_a_dot_beside_its_modules() -> None:
    """An edge that rounding moves by a thousandth of a dot still ends inside its own dots."""
    for largest_dots in (5, 11):
        edges = [
            edge * largest_dots
            for x, y, wide, high in bars_of(path_of("LAN-001"))
            for edge in (x, y, -x - wide, -y - high)
        ]
        insides = {round(edge - math.floor(edge), 3) for edge in edges}
        assert insides == {round(INSET_MODULES * largest_dots, 3)}
        assert 0.01 < min(insides) <= max(insides) < 0.25


def test_four_white_modules_stand_on_every_side() -> None:
    """ISO/IEC 18004: the quiet zone of a QR code is 4 modules wide; a version 1 symbol has 21 a side."""
    places = [place for module in drawn(path_of("LAN-001")) for place in module]
    assert (min(places), max(places), MODULES) == (4, 24, 29)


@pytest.mark.parametrize("number", ["A" * 17, "lan-001", "LAN_001"])
def test_what_the_small_code_cannot_hold_is_refused(number: str) -> None:
    with pytest.raises(ValueError, match=r".+"):
        path_of(number)


@pytest.mark.parametrize(
    ("side_mm", "dots"), [(0, 5), (12.27, 5), (14.7, 5), (14.74, 6), (27.1, 11), (200, 11)]
)
def test_a_module_is_a_whole_number_of_dots_and_at_least_0_4_mm(side_mm: float, dots: int) -> None:
    assert module_dots(side_mm) == dots
    assert dots * DOT_MM >= 0.4


@given(
    right=st.floats(min_value=25, max_value=216),
    bottom=st.floats(min_value=25, max_value=297),
)
def test_a_code_lies_on_the_grid_of_dots_just_inside_its_corner(right: float, bottom: float) -> None:
    code = code_of("LAN-001", right_mm=right, bottom_mm=bottom, module_dots=6)
    corner = [(edge + 6 * MODULES) * DOT_MM for edge in (code.x_dots, code.y_dots)]
    gaps = [edge - at for edge, at in zip((right, bottom), corner, strict=True)]
    assert all(-1e-6 <= gap <= SLACK_MM for gap in gaps)


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_the_canvas_covers_the_paper_in_whole_pixels(page: PaperName) -> None:
    """CSS Values and Units: a pixel is 1/96 inch."""
    canvas, paper = canvas_of(PAPERS[page]), PAPERS[page]
    for dots, side in ((canvas.width_dots, paper.width_mm), (canvas.height_dots, paper.height_mm)):
        assert 0 <= dots * DOT_MM - side < 25.4 / 96


def test_the_code_of_a_piece_is_encoded_once_for_label_tag_and_stub() -> None:
    before = path_of.cache_info().misses
    assert len({path_of("ONCE-001") for _print in range(3)}) == 1
    assert path_of.cache_info().misses == before + 1
