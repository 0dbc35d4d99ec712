"""The tally: the Takings sheet on paper, for when the laptop fails."""

from pathlib import Path
from typing import get_args

from salebook.event.entries import LineKind
from salebook.prints.page import page_html
from salebook.reckoning import Reckoning

LINES = 22
"""Lines that stand on one sheet across, high enough for a pencil."""


def takings_on_paper_html(reckoning: Reckoning, *, templates: Path | None = None) -> str:
    """Return a sheet of numbered lines with the columns of Takings.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    return page_html(
        "tally.html",
        reckoning.plan,
        templates=templates,
        lines=range(1, LINES + 1),
        kinds=get_args(LineKind),
        ways=tuple(way.name for way in reckoning.plan.payments),
        groups=tuple(group.name for group in reckoning.plan.beneficiaries),
    )
