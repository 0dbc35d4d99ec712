"""Places on a shelf for pieces that are not round: rectangles that take in lip and handle, in rows.

A rectangle never claims more than fits; pieces that reach into each other's corners may do better by hand.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from salebook.making.packing.circles import Centre
from salebook.making.packing.rectangle import TOLERANCE

ROW_SHIFTS = 24
"""In how many positions the rows are tried on a round shelf."""

MOST_ACROSS = 120
"""Most pieces side by side and most rows: more are more than any plan makes."""


@dataclass(frozen=True, kw_only=True)
class Block:
    """Rows and columns of pieces that stand the same way, from the corner of a rectangle."""

    x_mm: float
    y_mm: float
    columns: int
    rows: int
    turned: bool

    @property
    def pieces(self) -> int:
        """Pieces in the block."""
        return self.columns * self.rows


@lru_cache(maxsize=1024)
def rectangles_on_rectangle(
    width_mm: float, depth_mm: float, widest_mm: float, narrowest_mm: float, gap_mm: float = 0.0
) -> tuple[Centre, ...]:
    """Return the places of pieces on a rectangular shelf: a block one way round, a block the other."""
    piece = (widest_mm + gap_mm, narrowest_mm + gap_mm)
    room = (width_mm - gap_mm, depth_mm - gap_mm)
    across = max(_two_blocks(room, piece), key=_pieces)
    along = max(_two_blocks(room[::-1], piece[::-1]), key=_pieces)
    if _pieces(across) >= _pieces(along):
        return tuple(_centres(across, room, piece))
    found = _centres(along, room[::-1], piece[::-1])
    return tuple(Centre(x_mm=centre.y_mm, y_mm=centre.x_mm, turned=centre.turned) for centre in found)


def _two_blocks(room: tuple[float, float], piece: tuple[float, float]) -> Iterator[tuple[Block, Block]]:
    """Yield each number of columns one way round, with what the width left takes the other way round."""
    rows, turned_rows = _fitting(room[1], piece[1]), _fitting(room[1], piece[0])
    for columns in range(_fitting(room[0], piece[0]) + 1):
        taken = columns * piece[0]
        others = _fitting(room[0] - taken, piece[1])
        yield (
            Block(x_mm=0.0, y_mm=0.0, columns=columns, rows=rows, turned=False),
            Block(x_mm=taken, y_mm=0.0, columns=others, rows=turned_rows, turned=True),
        )


def _fitting(length_mm: float, piece_mm: float) -> int:
    return min(MOST_ACROSS, max(0, math.floor(length_mm / piece_mm + TOLERANCE)))


def _pieces(blocks: tuple[Block, Block]) -> int:
    return sum(block.pieces for block in blocks)


def _centres(
    blocks: tuple[Block, Block], room: tuple[float, float], piece: tuple[float, float]
) -> Iterator[Centre]:
    for block in blocks:
        x_side, y_side = piece[::-1] if block.turned else piece
        for row in range(block.rows):
            for column in range(block.columns):
                yield Centre(
                    x_mm=block.x_mm + (column + 0.5) * x_side - room[0] / 2,
                    y_mm=block.y_mm + (row + 0.5) * y_side - room[1] / 2,
                    turned=block.turned,
                )


@lru_cache(maxsize=1024)
def rectangles_on_round(
    diameter_mm: float, widest_mm: float, narrowest_mm: float, gap_mm: float = 0.0
) -> tuple[Centre, ...]:
    """Return the places of pieces on a round shelf: rows all one way round, in the best position."""
    radius = max(0.0, diameter_mm / 2 - gap_mm)
    ways = [
        (turned, piece[0] + gap_mm, [*_chords(radius, piece, gap_mm, number / ROW_SHIFTS)])
        for turned, piece in ((False, (widest_mm, narrowest_mm)), (True, (narrowest_mm, widest_mm)))
        for number in range(ROW_SHIFTS)
    ]
    turned, spacing, rows = max(ways, key=lambda way: sum(count for _y_mm, count in way[2]))
    return tuple(
        Centre(x_mm=(place - (count - 1) / 2) * spacing, y_mm=y_mm, turned=turned)
        for y_mm, count in rows
        for place in range(count)
    )


def _chords(
    radius_mm: float, piece: tuple[float, float], gap_mm: float, shift: float
) -> Iterator[tuple[float, int]]:
    """Yield each row's place and how many pieces it takes between the narrowest points of its chord."""
    pitch = piece[1] + gap_mm
    reach = min(math.ceil(radius_mm / pitch), MOST_ACROSS // 2)
    for number in range(-reach, reach + 1):
        y = (number + shift) * pitch
        chord = 2 * math.sqrt(max(0.0, radius_mm**2 - (abs(y) + piece[1] / 2) ** 2))
        yield y, _fitting(chord + gap_mm, piece[0] + gap_mm)
