"""Folders that files are put into, and names in them that are still free."""

from collections.abc import Iterator
from itertools import count
from pathlib import Path

from salebook.base.errors import FileError, error_text
from salebook.base.words import _


def make_folder(folder: Path) -> None:
    """Make a folder, and those above it, where it is missing.

    Raises FileError where that cannot be done.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError as trouble:
        raise FileError(_("{folder}: this is a file, not a folder").format(folder=folder)) from trouble
    except (OSError, ValueError) as trouble:
        says = _("{folder}: this folder cannot be made ({why})")
        raise FileError(says.format(folder=folder, why=error_text(trouble))) from trouble


def free_name(path: Path, ending: str) -> Path:
    """Return the path with an ending to its name, and a number where that stands there already."""
    return next(name for name in _names(path, ending) if not name.exists())


def _names(path: Path, ending: str) -> Iterator[Path]:
    yield path.with_name(f"{path.stem}-{ending}{path.suffix}")
    for number in count(2):
        yield path.with_name(f"{path.stem}-{ending}-{number}{path.suffix}")
