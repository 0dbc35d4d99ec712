"""Centres in rows: hexagonal or straight, shifted, stretched and both ways round."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from salebook.making.packing.rectangle import TOLERANCE, Rectangle

HEXAGONAL = math.sqrt(3) / 2
"""Distance of two rows in which each piece touches two of the next row."""

SHIFTS = 8
"""How finely rows are shifted over a round shelf: steps along each side of what repeats of their pattern."""


@dataclass(frozen=True, kw_only=True)
class Row:
    """Centres on a line: the first, how many, how far apart."""

    first: complex
    count: int
    spacing: float

    def centres(self) -> list[complex]:
        """Return the centres of the row."""
        return [self.first + number * self.spacing for number in range(self.count)]


def fitting(length: float, spacing: float) -> int:
    """Return how many centres stand on a length, both ends taken."""
    return max(0, math.floor(length / spacing + TOLERANCE) + 1)


def rows_on_disc(radius: float) -> list[complex]:
    """Return the centres of the best hexagonal rows found on round ground."""
    firsts = (*_shifted(), complex(0, -radius))
    return _centres(max((_across_disc(radius, first) for first in firsts), key=_total))


def _shifted() -> Iterator[complex]:
    """Yield places for the first centre, over the part of the hexagonal pattern that repeats by symmetry."""
    for along in range(SHIFTS + 1):
        for across in range(along + 1):
            yield complex(along / SHIFTS / 2, across / SHIFTS * HEXAGONAL / 3)


def _across_disc(radius: float, first: complex) -> list[Row]:
    """Lay hexagonal rows over round ground, with one centre of the pattern at `first`."""
    lowest = math.ceil((-radius - first.imag) / HEXAGONAL - TOLERANCE)
    highest = math.floor((radius - first.imag) / HEXAGONAL + TOLERANCE)
    rows: list[Row] = []
    for number in range(lowest, highest + 1):
        y = first.imag + number * HEXAGONAL
        half = math.sqrt(max(0.0, radius**2 - y**2))
        x = first.real + number % 2 / 2
        left = x + math.ceil(-half - x - TOLERANCE)
        rows.append(Row(first=complex(left, y), count=fitting(half - left, 1.0), spacing=1.0))
    return rows


def rows_on_rectangle(rectangle: Rectangle) -> list[complex]:
    """Return the centres of the best rows found on rectangular ground, both ways round."""
    across = _centres(max(_laid(rectangle), key=_total))
    along = _centres(max(_laid(rectangle.turned), key=_total))
    return max(across, [transposed(centre) for centre in along], key=len)


def transposed(centre: complex) -> complex:
    """Return a centre with its two directions exchanged."""
    return complex(centre.imag, centre.real)


def _laid(rectangle: Rectangle) -> Iterator[list[Row]]:
    most = fitting(rectangle.width, 1.0)
    yield _stacked(rectangle, most, spacing=1.0, stagger=0.0, pitch=1.0)
    for count in range(max(1, most - 2), most + 1):
        if rectangle.width >= count - 0.5 - TOLERANCE:
            spacing = rectangle.width / (count - 0.5)
            yield _stacked(rectangle, count, spacing=spacing, stagger=spacing / 2, pitch=_pitch(spacing))
        if count > 1:
            yield from _mixed(rectangle, count, rectangle.width / (count - 1))


def _pitch(spacing: float) -> float:
    """Return how close staggered rows may lie: each clear of the next, and of the next but one."""
    return max(0.5, math.sqrt(max(0.0, 1 - spacing**2 / 4)))


def _stacked(rectangle: Rectangle, count: int, *, spacing: float, stagger: float, pitch: float) -> list[Row]:
    """Lay equal rows, every second one to the side, as many as the depth takes."""
    return [
        _row(rectangle, depth=number * pitch, count=count, spacing=spacing, start=number % 2 * stagger)
        for number in range(fitting(rectangle.depth, pitch))
    ]


def _mixed(rectangle: Rectangle, count: int, spacing: float) -> Iterator[list[Row]]:
    """Lay full rows that take turns with shorter ones, for each number of rows.

    As many as the depth allows lie straight behind each other: of those none is shorter.
    """
    pitch = _pitch(spacing)
    for number in range(fitting(rectangle.depth, 1.0) + 1, fitting(rectangle.depth, pitch) + 1):
        spare = rectangle.depth - (number - 1) * pitch
        straight = math.floor(spare / (1 - pitch) + TOLERANCE)
        rows: list[Row] = []
        for place in range(number):
            staggered = max(0, place - straight)
            short = staggered % 2
            depth = place - staggered * (1 - pitch)
            start = short * spacing / 2
            rows.append(_row(rectangle, depth=depth, count=count - short, spacing=spacing, start=start))
        yield rows


def _row(rectangle: Rectangle, *, depth: float, count: int, spacing: float, start: float) -> Row:
    first = complex(start - rectangle.width / 2, depth - rectangle.depth / 2)
    return Row(first=first, count=count, spacing=spacing)


def _total(rows: list[Row]) -> int:
    return sum(row.count for row in rows)


def _centres(rows: list[Row]) -> list[complex]:
    return [centre for row in rows for centre in row.centres()]
