"""QR codes of piece numbers (ISO/IEC 18004), as paths to draw."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

import segno

QUIET_MODULES = 4
"""White modules that ISO/IEC 18004 asks for on every side."""

SMALLEST_MODULE_MM = 0.4
LARGEST_MODULE_MM = 1.0

VERSION = 1
"""21 modules a side: in capitals, digits and hyphens, at level Q, it holds 16 characters."""

MOST_CHARACTERS = 16
MASK = 3
"""Any mask can be read; a fixed one spares the search for the one that looks best."""

MODULES = 17 + 4 * VERSION + 2 * QUIET_MODULES
"""Modules a side, the quiet zone included."""


@dataclass(frozen=True, kw_only=True)
class Code:
    """A QR code as an SVG path in modules, quiet zone included: `modules` a side."""

    path: str
    modules: int = MODULES


def code_of(number: str) -> Code:
    """Return the QR code of a piece number.

    Raises ValueError for a number of more than 16 characters or with others than capitals, digits and "-".
    """
    if len(number) > MOST_CHARACTERS:
        raise ValueError(f"{number!r} is too long for its code")
    made = segno.make_qr(
        number, error="q", version=VERSION, mode="alphanumeric", mask=MASK, boost_error=False
    )
    return Code(path="".join(_runs(made.matrix)))


def _runs(matrix: Sequence[Sequence[int]]) -> Iterator[str]:
    """Yield each run of dark modules in a row as one bar."""
    for row, modules in enumerate(matrix):
        column = 0
        for dark, run in groupby(modules):
            length = sum(1 for _module in run)
            if dark:
                yield f"M{column + QUIET_MODULES} {row + QUIET_MODULES}h{length}v1h-{length}z"
            column += length
