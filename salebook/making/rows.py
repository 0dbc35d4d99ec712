"""Centres in rows: hexagonal and square, shifted, stretched and both ways round."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from salebook.making.ground import FORGIVEN, Disc, Oblong

HEXAGONAL = math.sqrt(3) / 2
"""Distance of two rows in which each piece touches two of the next row."""

SHIFTS = 8
"""How finely rows are shifted over a round shelf: steps along each side of what repeats of their pattern."""


@dataclass(frozen=True, kw_only=True)
class Pattern:
    """Rows `pitch` apart; every second one is shifted by `stagger`; the first centre stands at `shift`."""

    pitch: float
    stagger: float
    shift: complex


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
    return math.floor(length / spacing + FORGIVEN) + 1 if length >= -FORGIVEN else 0


def rows_on_disc(disc: Disc) -> list[complex]:
    """Return the centres of the best rows found on round ground."""
    patterns = (*_shifted(), *_from_edge(disc))
    return _centres(max((_across_disc(disc, pattern) for pattern in patterns), key=_total))


def _shifted() -> Iterator[Pattern]:
    """Yield hexagonal and square rows, shifted over the part of the pattern that repeats by symmetry."""
    for along in range(SHIFTS + 1):
        for across in range(along + 1):
            x, y = along / SHIFTS / 2, across / SHIFTS / 2
            yield Pattern(pitch=HEXAGONAL, stagger=0.5, shift=complex(x, y * 2 / 3 * HEXAGONAL))
            yield Pattern(pitch=1.0, stagger=0.0, shift=complex(x, y))


def _from_edge(disc: Disc) -> Iterator[Pattern]:
    """Yield hexagonal rows of which the first lies at the edge."""
    for x in (0.0, 0.25, 0.5):
        yield Pattern(pitch=HEXAGONAL, stagger=0.5, shift=complex(x, -disc.radius))


def _across_disc(disc: Disc, pattern: Pattern) -> list[Row]:
    reach = math.ceil((disc.radius + abs(pattern.shift.imag)) / pattern.pitch)
    rows: list[Row] = []
    for number in range(-reach, reach + 1):
        y = pattern.shift.imag + number * pattern.pitch
        if abs(y) > disc.radius + FORGIVEN:
            continue
        half = math.sqrt(max(0.0, disc.radius**2 - y**2))
        x = pattern.shift.real + number % 2 * pattern.stagger
        first = x + math.ceil(-half - x - FORGIVEN)
        rows.append(Row(first=complex(first, y), count=fitting(half - first, 1.0), spacing=1.0))
    return rows


def rows_on_oblong(oblong: Oblong) -> list[complex]:
    """Return the centres of the best rows found on rectangular ground, both ways round."""
    across = _centres(max(_laid(oblong), key=_total))
    along = _centres(max(_laid(oblong.turned), key=_total))
    return across if len(across) >= len(along) else [turned(centre) for centre in along]


def turned(centre: complex) -> complex:
    """Return a centre with its two directions exchanged."""
    return complex(centre.imag, centre.real)


def _laid(oblong: Oblong) -> Iterator[list[Row]]:
    most = fitting(oblong.width, 1.0)
    yield _stacked(oblong, (most, most), spacing=1.0, stagger=0.0, straight=True)
    for count in range(max(1, most - 2), most + 1):
        if oblong.width >= count - 0.5 - FORGIVEN:
            spacing = oblong.width / (count - 0.5)
            yield _stacked(oblong, (count, count), spacing=spacing, stagger=spacing / 2)
        if count > 1:
            spacing = oblong.width / (count - 1)
            yield _stacked(oblong, (count, count - 1), spacing=spacing, stagger=spacing / 2)
            yield _stacked(oblong, (count, count - 1), spacing=spacing, stagger=spacing / 2, short_first=True)
            yield from _mixed(oblong, count, spacing)


def _pitch(spacing: float) -> float:
    """Return how close staggered rows may lie: each clear of the next, and of the next but one."""
    return max(0.5, math.sqrt(max(0.0, 1 - spacing**2 / 4)))


def _stacked(
    oblong: Oblong,
    counts: tuple[int, int],
    *,
    spacing: float,
    stagger: float,
    straight: bool = False,
    short_first: bool = False,
) -> list[Row]:
    """Lay rows that take turns, as many as the depth takes."""
    pitch = 1.0 if straight else _pitch(spacing)
    return [
        _row(
            oblong,
            depth=number * pitch,
            count=counts[(number + short_first) % 2],
            spacing=spacing,
            start=(number + short_first) % 2 * stagger,
        )
        for number in range(fitting(oblong.depth, pitch))
    ]


def _mixed(oblong: Oblong, count: int, spacing: float) -> Iterator[list[Row]]:
    """Lay some full rows straight behind each other and the others staggered, for each number of rows."""
    pitch = _pitch(spacing)
    for number in range(fitting(oblong.depth, 1.0), fitting(oblong.depth, pitch) + 1):
        spare = oblong.depth - (number - 1) * pitch
        straight = min(number - 1, math.floor(spare / (1 - pitch) + FORGIVEN)) if pitch < 1 else number - 1
        rows: list[Row] = []
        for place in range(number):
            short = max(0, place - straight) % 2
            depth = min(place, straight) + max(0, place - straight) * pitch
            start = short * spacing / 2
            rows.append(_row(oblong, depth=depth, count=count - short, spacing=spacing, start=start))
        yield rows


def _row(oblong: Oblong, *, depth: float, count: int, spacing: float, start: float) -> Row:
    first = complex(start - oblong.width / 2, depth - oblong.depth / 2)
    return Row(first=first, count=count, spacing=spacing)


def _total(rows: list[Row]) -> int:
    return sum(row.count for row in rows)


def _centres(rows: list[Row]) -> list[complex]:
    return [centre for row in rows for centre in row.centres()]
