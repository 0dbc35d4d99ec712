"""Whether this computer has what reads photographs, which is an extra: salebook[photos]."""

from importlib.util import find_spec
from typing import Final

from salebook.base.errors import SalebookError
from salebook.base.words import _

PACKAGES: Final = ("PIL", "zxingcpp", "pi_heif")


class PhotosError(SalebookError):
    """This computer lacks what reads photographs; says what to install."""


def can_read_photos() -> bool:
    """Whether the extra is installed."""
    return all(find_spec(package) for package in PACKAGES)


def how_to_install() -> str:
    """Say how the extra is installed."""
    return _("To read photographs of stubs: .venv/bin/pip install '.[photos]' in salebook's folder.")


def require_photos() -> None:
    """Raise PhotosError where the extra is not installed."""
    if not can_read_photos():
        raise PhotosError(how_to_install())
