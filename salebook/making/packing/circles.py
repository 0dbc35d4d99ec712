"""How many round pieces stand on a shelf, and where.

Round pieces are equal circles; what counts is where their centres may stand: on the shelf less its edge, one
piece and one gap apart. Up to 30 pieces on a round or square shelf stand as in the best packings known; else
rows are tried in many positions and pieces are nestled in one by one, and the best is taken.
"""

from dataclasses import dataclass
from functools import lru_cache

from salebook.making.packing.best_known import MOST_KNOWN, best_known_on_disc, best_known_on_square
from salebook.making.packing.corner_placement import corner_placements
from salebook.making.packing.rectangle import TOLERANCE, Rectangle
from salebook.making.packing.row_packing import rows_on_disc, rows_on_rectangle

MOST_PLACED_BY_CORNERS = 44
"""Above this many pieces rows are close to the best, and nestling takes long."""

LARGEST = 60.0
"""Longest radius or half side searched, in pieces: ten thousand on a shelf are more than any plan makes."""


@dataclass(frozen=True, kw_only=True)
class Centre:
    """Where a piece stands, in mm from the middle of the shelf; turned: its widest side lies along y."""

    x_mm: float
    y_mm: float
    turned: bool = False


@lru_cache(maxsize=1024)
def circles_on_round(diameter_mm: float, piece_mm: float, gap_mm: float = 0.0) -> tuple[Centre, ...]:
    """Return the places of round pieces on a round shelf, `gap_mm` between them and to the edge."""
    pitch = piece_mm + gap_mm
    radius = (diameter_mm - piece_mm - 2 * gap_mm) / pitch / 2
    best = best_known_on_disc(radius)
    if len(best) == MOST_KNOWN:
        best = max(best, rows_on_disc(min(radius, LARGEST)), key=len)
    return _in_mm(best, pitch)


@lru_cache(maxsize=1024)
def circles_on_rectangle(
    width_mm: float, depth_mm: float, piece_mm: float, gap_mm: float = 0.0
) -> tuple[Centre, ...]:
    """Return the places of round pieces on a rectangular shelf, `gap_mm` between them and to the edge."""
    pitch = piece_mm + gap_mm
    width, depth = ((side - piece_mm - 2 * gap_mm) / pitch for side in (width_mm, depth_mm))
    rectangle = Rectangle(width=min(width, 2 * LARGEST), depth=min(depth, 2 * LARGEST))
    return _in_mm(_best_on_rectangle(rectangle), pitch)


def _best_on_rectangle(rectangle: Rectangle) -> list[complex]:
    known = best_known_on_square(min(rectangle.width, rectangle.depth))
    if len(known) < MOST_KNOWN and abs(rectangle.width - rectangle.depth) < TOLERANCE:
        return known
    best = max(known, rows_on_rectangle(rectangle), key=len)
    return best if len(best) > MOST_PLACED_BY_CORNERS else max((best, *corner_placements(rectangle)), key=len)


def _in_mm(centres: list[complex], pitch_mm: float) -> tuple[Centre, ...]:
    return tuple(Centre(x_mm=centre.real * pitch_mm, y_mm=centre.imag * pitch_mm) for centre in centres)
