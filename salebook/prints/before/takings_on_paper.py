"""The tally: the Takings sheet on paper, for when the laptop fails."""

from typing import get_args

from salebook.event.entries import LineKind
from salebook.prints.render import Printer
from salebook.reckoning import Reckoning

LINES = 22
"""Lines that stand on one sheet across, high enough for a pencil."""


def takings_on_paper_html(printer: Printer, reckoning: Reckoning) -> str:
    """Return a sheet of numbered lines with the columns of Takings."""
    return printer.fill(
        "tally.html",
        lines=range(1, LINES + 1),
        kinds=get_args(LineKind),
        ways=tuple(way.name for way in reckoning.plan.payments),
    )
