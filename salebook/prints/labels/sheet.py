"""A sheet of labels: where each label lies on the paper."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, TypeVar

from salebook.base.errors import Fault, FaultyPlanError, WrongUseError
from salebook.base.words import _
from salebook.plan.model import Labels
from salebook.prints.paper import PAPERS, PRINTER_MARGIN_MM, Paper

SMALLEST_WIDTH_MM = 15.0
SMALLEST_HEIGHT_MM = 10.0

CODE_WIDTH_MM = 25.0
CODE_HEIGHT_MM = 20.0
"""Smaller labels have no room for a code that a telephone reads."""

TOLERANCE_MM: Final = 0.01

Thing = TypeVar("Thing")


@dataclass(frozen=True, kw_only=True)
class Place:
    """Where a label lies: its upper left corner in mm from the paper's."""

    x_mm: float
    y_mm: float


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """A sheet of labels in mm, nudged where the printer is off."""

    paper: Paper
    columns: int
    rows: int
    width_mm: float
    height_mm: float
    left_mm: float
    top_mm: float
    across_mm: float
    down_mm: float

    @property
    def places(self) -> tuple[Place, ...]:
        """The places of all its labels, row by row."""
        return tuple(
            Place(x_mm=self.left_mm + column * self.across_mm, y_mm=self.top_mm + row * self.down_mm)
            for row in range(self.rows)
            for column in range(self.columns)
        )

    def pages(self, things: Sequence[Thing]) -> Iterator[list[tuple[Thing, Place]]]:
        """Yield what lies on each of the sheets that some things take, with its place."""
        for first in range(0, len(things), self.columns * self.rows):
            yield list(zip(things[first:], self.places, strict=False))

    @property
    def right_mm(self) -> float:
        """From the paper's left edge to the last label's right edge."""
        return self.left_mm + (self.columns - 1) * self.across_mm + self.width_mm

    @property
    def bottom_mm(self) -> float:
        """From the paper's upper edge to the last label's lower edge."""
        return self.top_mm + (self.rows - 1) * self.down_mm + self.height_mm

    @property
    def has_codes(self) -> bool:
        """Whether a label has room for a QR code."""
        return self.width_mm >= CODE_WIDTH_MM and self.height_mm >= CODE_HEIGHT_MM

    @property
    def is_on_paper(self) -> bool:
        """Whether every label lies on the paper."""
        fits_across = self.left_mm >= -TOLERANCE_MM and self.right_mm <= self.paper.width_mm + TOLERANCE_MM
        fits_down = self.top_mm >= -TOLERANCE_MM and self.bottom_mm <= self.paper.height_mm + TOLERANCE_MM
        return fits_across and fits_down


def sheet_of(labels: Labels, *, nudge: tuple[float, float] = (0.0, 0.0)) -> Sheet:
    """Return the sheet that the plan's measures describe; `nudge` moves all in mm, to the right and down.

    Raises FaultyPlanError for labels smaller than 15 × 10 mm, WrongUseError for a nudge that moves one off
    the page.
    """
    if faults := tuple(_too_small(labels)):
        raise FaultyPlanError(faults)
    sheet = Sheet(
        paper=PAPERS[labels.page],
        columns=labels.columns,
        rows=labels.rows,
        width_mm=float(labels.width.mm),
        height_mm=float(labels.height.mm),
        left_mm=float(labels.left.mm) + nudge[0],
        top_mm=float(labels.top.mm) + nudge[1],
        across_mm=float(labels.across.mm),
        down_mm=float(labels.down.mm),
    )
    if not sheet.is_on_paper:
        says = _("The nudge of {x:g},{y:g} mm moves labels off the page; nudge by less.")
        raise WrongUseError(says.format(x=nudge[0], y=nudge[1]))
    return sheet


def _too_small(labels: Labels) -> Iterator[Fault]:
    """Name what no one could read; that labels lie apart and on the page is checked with the plan."""
    sides = (("width", labels.width, SMALLEST_WIDTH_MM), ("height", labels.height, SMALLEST_HEIGHT_MM))
    for key, size, least_mm in sides:
        if float(size.mm) < least_mm:
            expected = _("at least {least:g} mm").format(least=least_mm)
            yield Fault(file=_("plan"), place=f"labels → {key}", found=size.to_text(), expected=expected)


def sheet_remarks(sheet: Sheet) -> Iterator[str]:
    """Say what a person should know before printing on such a sheet."""
    nearest = min(
        sheet.left_mm,
        sheet.top_mm,
        sheet.paper.width_mm - sheet.right_mm,
        sheet.paper.height_mm - sheet.bottom_mm,
    )
    if nearest < PRINTER_MARGIN_MM - TOLERANCE_MM:
        yield _(
            "Labels come within {nearest:.1f} mm of the paper's edge, and most printers leave 5 mm white: "
            "print one page on plain paper and see what is cut off."
        ).format(nearest=max(0.0, nearest))
    if not sheet.has_codes:
        yield _("The labels are too small for a code (25 × 20 mm or more): they carry the number alone.")
