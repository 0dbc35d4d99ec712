"""A photograph as a file: opened in grey, upright, and refused where it is none or too large."""

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from pi_heif import register_heif_opener
from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError

from salebook.base.errors import FileError, error_text
from salebook.base.words import _

FORMATS: Final = ("JPEG", "PNG", "HEIF")
MOST_MEGAPIXELS: Final = 52
"""More than telephones take; so many in colour, unpacked by the slowest way, need under 500 MB."""

register_heif_opener()


def grey_photo(file: Path) -> Image.Image:
    """Return a photograph in grey, the way up that the camera was held.

    Raises FileError where it cannot be read, is cut off, no photograph, or too large.
    """
    try:
        with _whole_files_only(), warnings.catch_warnings():
            # Of sizes it remarks on; salebook's own limit is lower.
            warnings.simplefilter("ignore")
            return _opened(file)
    except FileError:
        raise
    except Image.DecompressionBombError as trouble:
        raise _too_large(file) from trouble
    except UnidentifiedImageError as trouble:
        raise FileError(_no_photo(file)) from trouble
    except OSError as trouble:
        says = _no_photo(file) if trouble.errno is None else f"{file}: {error_text(trouble)}"
        raise FileError(says) from trouble
    except Exception as trouble:  # decoders raise whatever they like over a broken file
        raise FileError(_no_photo(file)) from trouble


@contextmanager
def _whole_files_only() -> Iterator[None]:
    """Refuse what is cut off, also where another library (WeasyPrint) lets it pass for the whole process."""
    before = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        yield
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = before


def _opened(file: Path) -> Image.Image:
    with Image.open(file, formats=FORMATS) as photo:
        if photo.width * photo.height > MOST_MEGAPIXELS * 1_000_000:
            raise _too_large(file)
        # A JPEG's brightness is unpacked without its colours.
        photo.draft("L", photo.size)
        # Of 16 bits a pixel, the upper eight.
        plain = photo.point(lambda level: level * (1 / 256)) if photo.mode.startswith("I;16") else photo
        return ImageOps.exif_transpose(plain.convert("L"))


def _too_large(file: Path) -> FileError:
    says = _("{file}: has more than {most} million pixels: set the camera to fewer, 12 million are plenty")
    return FileError(says.format(file=file, most=MOST_MEGAPIXELS))


def _no_photo(file: Path) -> str:
    says = _(
        "{file}: cannot be read as a photograph (JPEG, PNG or HEIC), or is cut off: take the original from "
        "the telephone again"
    )
    return says.format(file=file)
