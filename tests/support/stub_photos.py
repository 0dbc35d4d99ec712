"""Made-up photographs of stubs on a table: tilted, in shadow, out of focus, with noise, as JPEG.

What a telephone does to a page is put together of its parts, each drawn by chance from a fixed seed; no
photograph of a real table is needed, and how much of each code is seen is known.
"""

import io
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

import numpy as np
import segno
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter, ImageFont

from salebook.prints.labels.qr_codes import DOT_MM, MODULES, QUIET_MODULES, module_dots, path_of
from salebook.prints.labels.sheet import Place
from salebook.prints.labels.stub_marks import CROSS_MM
from salebook.prints.labels.tags import (
    FRONT_WIDTH_MM,
    PAD_MM,
    STUB_CODE_BOTTOM_MM,
    STUB_CODE_MM,
    STUB_WIDTH_MM,
    TAG_HEIGHT_MM,
)

Table = Literal["wood", "cloth", "dark"]
TABLES: tuple[Table, ...] = ("wood", "cloth", "dark")

DOTS = module_dots(STUB_CODE_MM)
CODE_LEFT_MM = (STUB_WIDTH_MM - DOTS * DOT_MM * MODULES) / 2
CODE_TOP_MM = TAG_HEIGHT_MM - STUB_CODE_BOTTOM_MM - DOTS * DOT_MM * MODULES
QUIET_MM = DOTS * DOT_MM * QUIET_MODULES
BLACK_MM = DOTS * DOT_MM * (MODULES - 2 * QUIET_MODULES)
"""A side of the code without its quiet zone."""

ROOM_MM = (47.0, 76.0)
"""What a stub takes of the table, thrown down with a little care."""


@dataclass(frozen=True, kw_only=True)
class Light:
    """How a photograph is taken; blurs in pixels, motion as the length of a smear in pixels."""

    megapixels: float
    tilt_degrees: float
    exposure: float
    shadow: float
    blur: float
    noise: float
    motion: int = 0
    quality: int = 85


GOOD = Light(megapixels=12, tilt_degrees=6, exposure=1.0, shadow=0.9, blur=0.7, noise=3, quality=88)
EVENING = Light(megapixels=12, tilt_degrees=15, exposure=0.6, shadow=0.45, blur=1.2, noise=7, quality=80)
POOR = Light(
    megapixels=8, tilt_degrees=27, exposure=0.45, shadow=0.5, blur=1.2, noise=10, motion=5, quality=70
)
SMALL = Light(megapixels=2, tilt_degrees=6, exposure=0.9, shadow=0.7, blur=0.7, noise=3, quality=88)


@dataclass(frozen=True, kw_only=True)
class Photo:
    """A photograph as a file, what lies on the table, and what of that has its whole code in sight."""

    jpeg: bytes
    laid: tuple[str, ...]
    whole: tuple[str, ...]


Stubs = Sequence[tuple[str, Image.Image]]
"""Stubs by what their codes say, in grey, 300 dots an inch."""


def drawn_stub(text: str) -> Image.Image:
    """Draw a stub without a printer: its number, the cross, its code, in the places of a printed one."""
    stub = Image.new("L", (_dots(STUB_WIDTH_MM), _dots(TAG_HEIGHT_MM)), 255)
    pen = ImageDraw.Draw(stub)
    pen.text((_dots(PAD_MM), _dots(9)), "Lantern", fill=0, font=_font(38))
    pen.text((_dots(PAD_MM), _dots(17)), "28.00", fill=60, font=_font(58))
    pen.text((_dots(PAD_MM), _dots(23)), text, fill=0, font=_font(46))
    x, y = (_dots(side) for side in CROSS_MM)
    pen.line((x - 24, y, x + 24, y), fill=0, width=4)
    pen.line((x, y - 24, x, y + 24), fill=0, width=4)
    stub.paste(_code(text), (_dots(CODE_LEFT_MM), _dots(CODE_TOP_MM)))
    return stub


def leaflet(address: str) -> Image.Image:
    """Draw a card with a code that is no stub's."""
    card = Image.new("L", (_dots(STUB_WIDTH_MM), _dots(TAG_HEIGHT_MM)), 255)
    file = io.BytesIO()
    segno.make_qr(address).save(file, kind="png", scale=10)
    card.paste(Image.open(file).convert("L"), (10, 200))
    return card


def printed_stubs(pages: Sequence[Image.Image], numbers: Sequence[str], places: Sequence[Place]) -> Stubs:
    """Cut the stubs out of pages of tags that were printed at 300 dots an inch, in grey."""
    wide, high = _dots(STUB_WIDTH_MM), _dots(TAG_HEIGHT_MM)
    cards = [(page, place) for page in pages for place in places]
    corners = [(page, _dots(place.x_mm + FRONT_WIDTH_MM), _dots(place.y_mm)) for page, place in cards]
    return [
        (number, page.crop((left, top, left + wide, top + high)))
        for number, (page, left, top) in zip(numbers, corners, strict=False)
    ]


def _code(text: str) -> Image.Image:
    """Draw a code as labels and stubs carry it, its quiet zone included."""
    code = Image.new("L", (DOTS * MODULES, DOTS * MODULES), 255)
    pen = ImageDraw.Draw(code)
    for bar in path_of(text).split("M")[1:]:
        x, rest = bar.split(" ", 1)
        y, rest = rest.split("h", 1)
        left, top = round(float(x)) * DOTS, round(float(y)) * DOTS
        width = round(float(rest.split("v")[0])) * DOTS
        pen.rectangle((left, top, left + width - 1, top + DOTS - 1), fill=0)
    return code


def drawn_stubs(numbers: Sequence[str]) -> Stubs:
    """Draw stubs of piece numbers."""
    return [(number, drawn_stub(number)) for number in numbers]


def photograph(stubs: Stubs, light: Light, *, seed: int, table: Table = "wood") -> Photo:
    """Spread stubs on a table and photograph them."""
    chance = np.random.default_rng(seed)
    width = round(math.sqrt(light.megapixels * 1e6 * 4 / 3))
    size = (width, round(width * 3 / 4))
    spread = _Spread(size, len(stubs), table, chance)
    for (text, stub), place in zip(stubs, spread.places(), strict=False):
        spread.lay(text, stub, place)
    grey = spread.canvas.transform(
        size,
        Image.Transform.PERSPECTIVE,
        _tilted(size, light, chance),
        Image.Resampling.BICUBIC,
        fillcolor=70,
    )
    return Photo(
        jpeg=_jpeg(_taken(grey, light, chance), light),
        laid=tuple(text for text, _stub in stubs),
        whole=spread.whole(),
    )


class _Spread:
    """A table seen from straight above, with stubs on it, some over the edge of others."""

    def __init__(self, size: tuple[int, int], count: int, table: Table, chance: np.random.Generator) -> None:
        self.canvas = _ground(size, table, chance)
        self._chance = chance
        self._columns = max(2, round(math.sqrt(count * ROOM_MM[1] / ROOM_MM[0] * 4 / 3)))
        rows = -(-count // self._columns)
        self._rows = rows
        wide, high = self._columns * ROOM_MM[0] + 40, rows * ROOM_MM[1] + 40
        self._scale = min(size[0] / wide, size[1] / high)
        self._left = (size[0] / self._scale - self._columns * ROOM_MM[0]) / 2
        self._top = (size[1] / self._scale - rows * ROOM_MM[1]) / 2
        self._seen = Image.new("I", size, 0)
        self._codes: list[tuple[str, int, bool]] = []

    def places(self) -> Iterator[tuple[float, float]]:
        """Yield the middles of the stubs in mm, row by row."""
        for row in range(self._rows):
            for column in range(self._columns):
                x, y = (column + 0.5) * ROOM_MM[0], (row + 0.5) * ROOM_MM[1]
                yield self._left + x + self._by_chance(4), self._top + y + self._by_chance(4)

    def lay(self, text: str, stub: Image.Image, place: tuple[float, float]) -> None:
        spiked, is_holed = self._spiked(stub)
        angle = self._by_chance(8) + (180 if self._chance.random() < 0.15 else 0)
        paper = _turned(Image.new("L", stub.size, 255), angle, self._scale)
        drawn = _turned(spiked, angle, self._scale)
        code = _turned(_code_area(stub.size), angle, self._scale)
        corner = (
            round(place[0] * self._scale - drawn.width / 2),
            round(place[1] * self._scale - drawn.height / 2),
        )
        shade = Image.new("L", paper.size, 30)
        self.canvas.paste(shade, (corner[0] + 2, corner[1] + 4), paper.point(lambda grey: grey * 2 // 5))
        self.canvas.paste(drawn, corner, paper)
        number = len(self._codes) + 1
        hidden = paper.point(lambda grey: 255 if grey > 127 else 0)
        self._seen.paste(0, (*corner, corner[0] + paper.width, corner[1] + paper.height), hidden)
        inside = code.point(lambda grey: 255 if grey > 127 else 0)
        self._seen.paste(number, (*corner, corner[0] + paper.width, corner[1] + paper.height), inside)
        self._codes.append((text, int(np.count_nonzero(np.asarray(inside))), is_holed))

    def whole(self) -> tuple[str, ...]:
        """Return what the codes say that lie in sight from corner to corner, and without a hole."""
        seen = np.bincount(np.asarray(self._seen).ravel(), minlength=len(self._codes) + 1)
        return tuple(
            text
            for number, (text, area, is_holed) in enumerate(self._codes, start=1)
            if seen[number] >= area and not is_holed
        )

    def _spiked(self, stub: Image.Image) -> tuple[Image.Image, bool]:
        """Put a stub on the spike, near its cross; say whether that went into the code."""
        x, y = CROSS_MM[0] + self._by_chance(2), CROSS_MM[1] + self._by_chance(2)
        spiked, radius = stub.copy(), 1.1
        hole = tuple(_dots(side) for side in (x - radius, y - radius, x + radius, y + radius))
        ImageDraw.Draw(spiked).ellipse(hole, fill=70, outline=190, width=5)
        return spiked, y + radius > CODE_TOP_MM + QUIET_MM

    def _by_chance(self, spread: float) -> float:
        return float(self._chance.normal(0, spread)) if spread else 0.0


def _turned(stub: Image.Image, angle: float, scale: float) -> Image.Image:
    width, height = (round(side * DOT_MM * scale) for side in stub.size)
    small = stub.resize((width, height), Image.Resampling.LANCZOS)
    return small.rotate(angle, Image.Resampling.BICUBIC, expand=True)


def _code_area(size: tuple[int, int]) -> Image.Image:
    area = Image.new("L", size, 0)
    left, top = CODE_LEFT_MM + QUIET_MM, CODE_TOP_MM + QUIET_MM
    corners = tuple(_dots(side) for side in (left, top, left + BLACK_MM, top + BLACK_MM))
    ImageDraw.Draw(area).rectangle(corners, fill=255)
    return area


def _ground(size: tuple[int, int], table: Table, chance: np.random.Generator) -> Image.Image:
    """Return a table: boards along their grain, a woven cloth, or dark and nearly plain."""
    width, height = size
    if table == "cloth":
        across, down = np.arange(width) / 5.0, np.arange(height) / 5.0
        weave = 150 + 18 * np.sin(across)[None, :] * np.sin(down)[:, None]
        return _as_grey(weave + chance.normal(0, 6, (height, width)))
    middle, contrast = {"wood": (140.0, 30.0), "dark": (45.0, 8.0)}[table]
    grain = Image.fromarray(chance.normal(0, 1, (height // 4, max(2, width // 160))).astype(np.float32))
    streaks = np.asarray(grain.resize(size, Image.Resampling.BICUBIC))
    return _as_grey(middle + contrast * streaks + chance.normal(0, 3, (height, width)))


def _tilted(size: tuple[int, int], light: Light, chance: np.random.Generator) -> list[float]:
    """Return where each point of the photograph lies on the table, as PIL wants it."""
    width, height = size
    tilt = math.radians(light.tilt_degrees)
    turn = math.radians(float(chance.uniform(-3, 3)))
    away = 1.4 * width
    corners = [(x, y) for x in (0, width) for y in (0, height)]
    seen = [_seen_at(x - width / 2, y - height / 2, tilt, turn, away) for x, y in corners]
    # The edge of the table stays out of the picture, but for its corners.
    scale = 1.07 * min(width / 2 / max(abs(x) for x, _y in seen), height / 2 / max(abs(y) for _x, y in seen))
    placed = [(x * scale + width / 2, y * scale + height / 2) for x, y in seen]
    rows, sides = [], []
    for (x, y), (u, v) in zip(corners, placed, strict=True):
        rows += [[u, v, 1, 0, 0, 0, -x * u, -x * v], [0, 0, 0, u, v, 1, -y * u, -y * v]]
        sides += [x, y]
    return [float(each) for each in np.linalg.solve(np.array(rows, float), np.array(sides, float))]


def _seen_at(x: float, y: float, tilt: float, turn: float, away: float) -> tuple[float, float]:
    x, y = x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)
    depth = away - y * math.sin(tilt)
    return away * x / depth, away * y * math.cos(tilt) / depth


def _taken(grey: Image.Image, light: Light, chance: np.random.Generator) -> NDArray[np.float32]:
    width, height = grey.size
    if light.motion:
        grey = _smeared(grey, light.motion)
    seen = np.asarray(grey.filter(ImageFilter.GaussianBlur(light.blur)), dtype=np.float32)
    across = np.linspace(0, 1, width, dtype=np.float32)[None, :]
    down = np.linspace(0, 1, height, dtype=np.float32)[:, None]
    edge, slope = float(chance.uniform(0.3, 0.7)), float(chance.uniform(-0.4, 0.4))
    lit = light.shadow + (1 - light.shadow) / (1 + np.exp((across - edge - slope * (down - 0.5)) * 90))
    exposed = seen * light.exposure * lit * (0.92 + 0.08 * down)
    return np.asarray(exposed + chance.normal(0, light.noise, seen.shape), dtype=np.float32)


def _smeared(grey: Image.Image, length: int) -> Image.Image:
    seen = np.asarray(grey, dtype=np.float32)
    shifted = [np.roll(seen, (step // 2, step), axis=(0, 1)) for step in range(length)]
    return _as_grey(np.mean(shifted, axis=0))


def _jpeg(seen: NDArray[np.float32], light: Light) -> bytes:
    """Return a photograph in the colour of its light."""
    bands = [_as_grey(seen * warm) for warm in (1.0, 0.96, 0.86)]
    file = io.BytesIO()
    Image.merge("RGB", bands).save(file, "JPEG", quality=light.quality)
    return file.getvalue()


def _as_grey(values: "NDArray[np.floating]") -> Image.Image:
    return Image.fromarray(np.clip(values, 0, 255).astype(np.uint8))


def _dots(length_mm: float) -> int:
    return round(length_mm / DOT_MM)


@cache
def _font(size: int) -> ImageFont.FreeTypeFont | ImageFont.ImageFont:
    return ImageFont.load_default(size)
