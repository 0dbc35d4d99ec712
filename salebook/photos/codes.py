"""The codes on a photograph of many stubs: what each says, and where it lies."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import zxingcpp
from PIL import Image, ImageDraw, ImageFilter, ImageOps

Point = tuple[float, float]

# Small modules are found where the picture is softened and only then enlarged: noise is gone, edges stay in
# place. Sharpening finds no more.
BLUR_PX: Final = 0.8
TIMES: Final = 2

PAPER_PERCENT: Final = 25
"""So much of a tile may turn white where it is brightened: what is lightest in it is paper."""

TILES: Final = 4
"""Tiles along the longer side."""

STEP: Final = 2 / 3
"""From one tile to the next, of a tile, so that each code lies whole in one of them."""


@dataclass(frozen=True, kw_only=True)
class SeenCode:
    """A code that was read: what it says, and its corners in pixels, in turn."""

    text: str
    corners: tuple[Point, Point, Point, Point]

    @property
    def middle(self) -> Point:
        """The point between its corners."""
        return sum(x for x, _y in self.corners) / 4, sum(y for _x, y in self.corners) / 4


def codes_on(grey: Image.Image) -> tuple[SeenCode, ...]:
    """Return the codes on a photograph in grey, read as a whole, then in tiles."""
    return codes_left(grey, _read(grey), is_dark=False)


def codes_left(grey: Image.Image, seen: Sequence[SeenCode], *, is_dark: bool = True) -> tuple[SeenCode, ...]:
    """Return the codes seen on a photograph already, and those that a look at its tiles finds besides.

    `is_dark` brightens each tile first.
    """
    left, found = grey.copy(), list(seen)
    for code in found:
        _paint_over(left, code)
    for box in _tiles(grey.size):
        for code in _read_tile(left.crop(box), box[:2], is_dark=is_dark):
            _paint_over(left, code)
            found.append(code)
    return tuple(found)


def _read_tile(tile: Image.Image, corner: tuple[int, int], *, is_dark: bool) -> list[SeenCode]:
    lit = ImageOps.autocontrast(tile, cutoff=(0, PAPER_PERCENT)) if is_dark else tile
    soft = lit.filter(ImageFilter.GaussianBlur(BLUR_PX))
    larger = soft.resize((tile.width * TIMES, tile.height * TIMES), Image.Resampling.BICUBIC)
    return _read(larger, corner=corner, times=TIMES)


def _read(grey: Image.Image, *, corner: tuple[int, int] = (0, 0), times: int = 1) -> list[SeenCode]:
    found = zxingcpp.read_barcodes(
        grey,
        formats=zxingcpp.barcode_formats_from_str("QRCode"),
        try_rotate=False,
        try_invert=False,
    )
    return [SeenCode(text=code.text, corners=_corners(code.position, corner, times)) for code in found]


def _corners(at: zxingcpp.Position, corner: tuple[int, int], times: int) -> tuple[Point, Point, Point, Point]:
    def placed(point: zxingcpp.Point) -> Point:
        return corner[0] + point.x / times, corner[1] + point.y / times

    return placed(at.top_left), placed(at.top_right), placed(at.bottom_right), placed(at.bottom_left)


def _paint_over(grey: Image.Image, code: SeenCode) -> None:
    # Black, since a grey would be the lightest there is in a dark corner.
    ImageDraw.Draw(grey).polygon(code.corners, fill=0)


def _tiles(size: tuple[int, int]) -> Iterator[tuple[int, int, int, int]]:
    side = -(-max(size) // TILES)
    for top in _starts(size[1], side):
        for left in _starts(size[0], side):
            yield left, top, min(left + side, size[0]), min(top + side, size[1])


def _starts(length: int, side: int) -> Iterator[int]:
    step = max(1, round(side * STEP))
    yield from range(0, max(1, length - side), step)
    if length > side:
        yield length - side
