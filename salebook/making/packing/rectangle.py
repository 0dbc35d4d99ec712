"""The ground that centres may stand on: a shelf less its edge, measured in the least distance of two centres.

A centre is a complex number, with the middle of the shelf at 0.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

TOLERANCE = 1e-9
"""How much closer than 1 two centres may stand, for float noise."""


@dataclass(frozen=True, kw_only=True)
class Rectangle:
    """Rectangular ground."""

    width: float
    depth: float

    @property
    def corners(self) -> tuple[complex, ...]:
        """The four corners."""
        across, along = self.width / 2, self.depth / 2
        return tuple(complex(x, y) for x in (-across, across) for y in (-along, along))

    @property
    def turned(self) -> "Rectangle":
        """The same ground with width and depth exchanged."""
        return Rectangle(width=self.depth, depth=self.width)

    def holds(self, centre: complex) -> bool:
        """Whether a centre stands on the ground."""
        across, along = self.width / 2 + TOLERANCE, self.depth / 2 + TOLERANCE
        return abs(centre.real) <= across and abs(centre.imag) <= along

    def on_edge_near(self, centre: complex) -> Iterator[complex]:
        """Yield the places on the four sides, or in line with them, that are 1 away from a centre."""
        for x in (-self.width / 2, self.width / 2):
            for aside in _asides(x - centre.real):
                yield complex(x, centre.imag + aside)
        for y in (-self.depth / 2, self.depth / 2):
            for aside in _asides(y - centre.imag):
                yield complex(centre.real + aside, y)


def _asides(off: float) -> tuple[float, ...]:
    """Return how far along a line the places lie that are 1 from a point `off` the line."""
    if abs(off) > 1:
        return ()
    aside = math.sqrt(1 - off**2)
    return aside, -aside


def is_clear(centre: complex, placed: Iterable[complex]) -> bool:
    """Whether a centre is at least 1 from all others."""
    return all(abs(centre - other) >= 1 - TOLERANCE for other in placed)
