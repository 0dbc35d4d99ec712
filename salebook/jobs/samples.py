"""The plans to start from that come with salebook."""

from pathlib import Path

from salebook.base.package_data import package_data

FULL = "harbour-weekend.toml"
"""The sample that uses every block of the plan."""
FILLED = "harbour-weekend-filled-in.xlsx"
"""The workbook of that sale after the weekend, some of it wrong on purpose."""
STUBS = "harbour-weekend-stubs.jpg"
"""A photograph of stubs that were torn off there, paid in cash; made up."""


def packaged_samples() -> Path:
    """Return the folder of the samples that come with salebook, installed or in a checkout."""
    return package_data("salebook_samples", "sample_data")
