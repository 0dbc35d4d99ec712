"""The plans to start from that come with salebook."""

from importlib.resources import files
from pathlib import Path

PACKAGE = "salebook_samples"
FULL = "harbour-weekend.toml"
"""The sample that uses every block of the plan."""


def own_samples() -> Path:
    """Return the folder of the samples that come with salebook, installed or in a checkout."""
    try:
        return Path(str(files(PACKAGE)))
    except ModuleNotFoundError:
        return Path(__file__).parents[1] / "sample_data"
