"""The sheets of paper that prints come on."""

from dataclasses import dataclass
from typing import Literal

PaperName = Literal["A4", "Letter"]

PRINTER_MARGIN_MM = 5.0
"""Usual printers leave about this much of each edge white (common practice, no source)."""


@dataclass(frozen=True, kw_only=True)
class Paper:
    """A sheet of paper, upright, in mm."""

    name: PaperName
    width_mm: float
    height_mm: float


PAPERS: dict[PaperName, Paper] = {
    "A4": Paper(name="A4", width_mm=210.0, height_mm=297.0),  # ISO 216
    "Letter": Paper(name="Letter", width_mm=215.9, height_mm=279.4),  # 8 1/2 by 11 inches, ANSI/ASME Y14.1
}
