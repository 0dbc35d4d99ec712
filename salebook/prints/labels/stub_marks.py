"""What a stub has between its number and its code: boxes to tick, a line to write on, the spike's cross."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from salebook.base.widths import text_mm
from salebook.base.words import _
from salebook.prints.fitting import SLACK, SMALLEST_POINTS, Fitted, fit, line_mm

TOP_MM: Final = 28.4
"""From the stub's upper edge; the words above end at 27.8 mm at most, the code's white begins at 43.3 mm."""

WIDTH_MM: Final = 27.5
ROW_MM: Final = 3.2
MOST_ROWS: Final = 2
BOX_MM: Final = 2.4
BESIDE_BOX_MM: Final = 0.8
BETWEEN_MM: Final = 2.0

PRICE_WIDTH_MM: Final = 15.0
SPIKE_WIDTH_MM: Final = 12.1
CROSS_MM: Final = (24.4, 37.4)
"""Where the spike goes through a stub: as far from the code as from the number."""

MEASURES: Final = {
    "top": TOP_MM,
    "width": WIDTH_MM,
    "row": ROW_MM,
    "box": BOX_MM,
    "beside_box": BESIDE_BOX_MM,
    "between": BETWEEN_MM,
    "below_rows": MOST_ROWS * ROW_MM + 0.5,
    "writing": 7.6,
    "price": PRICE_WIDTH_MM,
    "spike": SPIKE_WIDTH_MM,
    "cross": 4.2,
}
"""In mm, for the template; `writing` is the height of the line to write on, its words at the top."""


@dataclass(frozen=True, kw_only=True)
class StubMarks:
    """The words between a stub's number and its code, the same on all stubs of a sale.

    `ways` are rows of ways to pay, each with a box to tick; where they have no room, none: `paid_by` stands
    there in their place, with a line to write on.
    """

    ways: tuple[tuple[str, ...], ...]
    paid_by: Fitted
    price: Fitted
    spike: Fitted


def stub_marks(ways: Iterable[str]) -> StubMarks:
    """Return the marks of the stubs of a sale with these ways to pay."""
    rows = _rows([_fitted(way, WIDTH_MM - BOX_MM - BESIDE_BOX_MM).lines[0] for way in ways])
    return StubMarks(
        ways=rows if len(rows) <= MOST_ROWS else (),
        paid_by=_fitted(_("paid by"), WIDTH_MM),
        price=_fitted(_("other price"), PRICE_WIDTH_MM),
        spike=_fitted(_("spike here"), SPIKE_WIDTH_MM),
    )


def _rows(ways: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    rows: list[list[str]] = []
    left = 0.0
    for way in ways:
        wide = BOX_MM + BESIDE_BOX_MM + text_mm(way, SMALLEST_POINTS) * SLACK
        if not rows or wide > left:
            rows.append([])
            left = WIDTH_MM
        rows[-1].append(way)
        left -= wide + BETWEEN_MM
    return tuple(map(tuple, rows))


def _fitted(text: str, width_mm: float) -> Fitted:
    height = line_mm(SMALLEST_POINTS)
    fitted = fit(text, width_mm=width_mm, height_mm=height, largest=SMALLEST_POINTS)
    return fitted or Fitted(points=SMALLEST_POINTS, lines=(text,))
