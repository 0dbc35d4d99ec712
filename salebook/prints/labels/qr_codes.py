"""QR codes of piece numbers (ISO/IEC 18004), drawn on the grid of a printer's dots.

A module of a whole number of dots comes out alike wherever it lies, without a grey edge. That is what lets
a reader find all codes of a page: one that is drawn off the grid has modules of 4 and of 5 dots, in another
order on each label.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import groupby

import segno

from salebook.prints.paper import Paper

# zbar looks for the corner marks that belong together by trying, and gives up after some thousands of wrong
# guesses in a row; 65 codes on a page have over a million. Drawn alike, dot by dot, it meets the marks in the
# right order and reads all 65, grey or black and white, at 300 and 600 dots per inch. At 200 or 400, off the
# grid, it finds a few.
QUIET_MODULES = 4
"""White modules that ISO/IEC 18004 asks for on every side."""

DOTS_PER_INCH = 300
"""Of the coarsest usual page printer; those of 600 and 1200 share its grid."""

DOT_MM = 25.4 / DOTS_PER_INCH
PIXELS_PER_INCH = 96
"""CSS Values and Units, absolute lengths."""

SMALLEST_MODULE_DOTS = 5
"""0.42 mm: a telephone asks for about 0.4 mm (common practice, no source)."""

LARGEST_MODULE_DOTS = 11

SLACK_MM = DOT_MM
"""How far a code may move, up and to the left, onto the grid."""

INSET_MODULES = 0.01
"""Bars end so much inside their modules: printers blacken each dot that is touched, and no rounding on the
way can push an edge into the next one."""

VERSION = 1
"""21 modules a side: in capitals, digits and hyphens, at level Q, it holds 16 characters."""

MOST_CHARACTERS = 16
MASK = 3
"""Any mask can be read; a fixed one spares the search for the one that looks best."""

MODULES = 17 + 4 * VERSION + 2 * QUIET_MODULES
"""Modules a side, the quiet zone included."""


@dataclass(frozen=True, kw_only=True)
class Code:
    """A QR code on the paper: an SVG path in modules, and where it lies, its quiet zone included."""

    path: str
    x_dots: int
    y_dots: int
    module_dots: int


@dataclass(frozen=True, kw_only=True)
class Canvas:
    """What codes are drawn on: the paper, in whole pixels, since browsers stretch a drawing to whole ones."""

    width_px: int
    height_px: int

    @property
    def width_dots(self) -> float:
        """The width in dots."""
        return self.width_px * DOTS_PER_INCH / PIXELS_PER_INCH

    @property
    def height_dots(self) -> float:
        """The height in dots."""
        return self.height_px * DOTS_PER_INCH / PIXELS_PER_INCH


def canvas_of(paper: Paper) -> Canvas:
    """Return the canvas that covers a sheet of paper."""
    # Chromium puts boxes and drawings on whole CSS pixels (0.26 mm), so all codes of a page are one drawing
    # over the paper; off the grid of dots, modules of 4 and 5 dots would alternate.
    sides = (paper.width_mm, paper.height_mm)
    width, height = (math.ceil(side / 25.4 * PIXELS_PER_INCH) for side in sides)
    return Canvas(width_px=width, height_px=height)


def module_dots(side_mm: float) -> int:
    """Return how many dots wide the modules of a code are that is at most so large, or the smallest."""
    dots = math.floor(side_mm / MODULES / DOT_MM + 1e-9)
    return max(SMALLEST_MODULE_DOTS, min(LARGEST_MODULE_DOTS, dots))


def code_of(number: str, *, right_mm: float, bottom_mm: float, module_dots: int) -> Code:
    """Return the QR code of a piece number, its lower right corner at a point of the paper or just above.

    Raises ValueError as `path_of` does.
    """
    x_dots, y_dots = (
        math.floor(edge / DOT_MM + 1e-6) - module_dots * MODULES for edge in (right_mm, bottom_mm)
    )
    return Code(path=path_of(number), x_dots=x_dots, y_dots=y_dots, module_dots=module_dots)


@cache
def path_of(number: str) -> str:
    """Return the QR code of a piece number as an SVG path in modules, quiet zone included.

    Kept, since label, tag and stub carry the same one.

    Raises ValueError for a number of more than 16 characters or with others than capitals, digits and "-".
    """
    if len(number) > MOST_CHARACTERS:
        raise ValueError(f"{number!r} is too long for its code")
    made = segno.make_qr(
        number, error="q", version=VERSION, mode="alphanumeric", mask=MASK, boost_error=False
    )
    return "".join(_runs(made.matrix))


def _runs(matrix: Sequence[Sequence[int]]) -> Iterator[str]:
    """Yield each run of dark modules in a row as one bar."""
    for row, modules in enumerate(matrix):
        column = 0
        for dark, run in groupby(modules):
            length = sum(1 for _module in run)
            if dark:
                yield _bar(column + QUIET_MODULES, row + QUIET_MODULES, length)
            column += length


@cache
def _bar(x: int, y: int, length: int) -> str:
    wide, high = length - 2 * INSET_MODULES, 1 - 2 * INSET_MODULES
    return f"M{x + INSET_MODULES:g} {y + INSET_MODULES:g}h{wide:g}v{high:g}h-{wide:g}z"
