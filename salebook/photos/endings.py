"""How the names of photographs end; apart, since opening one takes what not everybody has installed."""

from pathlib import Path
from typing import Final

ENDINGS: Final = frozenset({".jpg", ".jpeg", ".png", ".heic", ".heif"})


def is_photo(file: Path) -> bool:
    """Whether a file is a photograph by its name."""
    return file.suffix.lower() in ENDINGS
