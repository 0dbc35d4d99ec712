"""Folders of files that come with salebook."""

from importlib.resources import files
from pathlib import Path


def package_data(package: str, checkout: str) -> Path:
    """Return the folder that is installed as a package; `checkout` is its name at the top of a checkout."""
    try:
        return Path(str(files(package)))
    except ModuleNotFoundError:
        return Path(__file__).parents[2] / checkout
