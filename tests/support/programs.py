"""Programs that some tests run: where they are, and marks for the tests that run them.

`needs` says which programs a test runs; conftest.py gives such a test the marks of `marks_for`.

With SALEBOOK_ALL=1 nothing is skipped: a test without its program fails.
"""

import os
from importlib.util import find_spec
from pathlib import Path
from shutil import which

import pytest

NAMES = {
    "Gnumeric": ("ssconvert",),
    "LibreOffice": ("soffice", "libreoffice"),
    "Xvfb": ("Xvfb",),
    "xdotool": ("xdotool",),
    "Chromium": ("chromium", "chromium-browser", "google-chrome"),
    "pdftoppm": ("pdftoppm",),
    "pdftotext": ("pdftotext",),
    "pdfinfo": ("pdfinfo",),
    "zbarimg": ("zbarimg",),
}
"""Each program with the names it goes by."""

PACKAGES = ("weasyprint",)
"""Optional packages that count as programs."""

SLOW = {"LibreOffice", "Gnumeric", "Chromium", "pdftoppm", "weasyprint"}
"""What takes seconds, pages drawn from a PDF too: tests that run these are left out by `-m "not slow"`."""

ALL_MUST_RUN = os.environ.get("SALEBOOK_ALL", "") not in {"", "0"}


def find(program: str) -> str | None:
    """Return the path of a program of NAMES or a package of PACKAGES, or None."""
    if program in PACKAGES:
        spec = find_spec(program)
        return spec.origin if spec else None
    return next((path for name in NAMES[program] if (path := which(name))), None)


def path_of(program: str) -> str:
    """Return the path of a program that is there; fails the test where it is not."""
    path = find(program)
    if path is None:
        pytest.fail(f"{program} is not installed")
    return path


def marks_for(*programs: str) -> list[pytest.MarkDecorator]:
    """Return the marks of a test that runs programs: slow, and skipped where one is missing."""
    missing = [program for program in programs if find(program) is None and not ALL_MUST_RUN]
    slow = [pytest.mark.slow] if SLOW.intersection(programs) else []
    return slow + [pytest.mark.skip(reason=f"not installed: {program}") for program in missing]


needs = pytest.mark.needs
needs_libreoffice = needs("LibreOffice")
needs_keyboard = needs("LibreOffice", "Xvfb", "xdotool")
needs_gnumeric = needs("Gnumeric")
needs_chromium = needs("Chromium")
needs_poppler = needs("pdftoppm", "pdftotext", "pdfinfo")
needs_zbar = needs("zbarimg")
needs_weasyprint = needs("weasyprint")

HEADLESS_CHROMIUM = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
"""How Chromium is started in tests: without a window, a first-run page or a word to the network."""


def libreoffice_command(profile: Path, *arguments: str) -> list[str]:
    """Return a LibreOffice command line with a profile folder of its own, so that runs do not meet."""
    home = f"-env:UserInstallation={profile.resolve().as_uri()}"
    return [path_of("LibreOffice"), "--headless", home, *arguments]


def chromium_command(profile: Path, *arguments: str) -> list[str]:
    """Return a Chromium command line with a profile folder of its own."""
    return [path_of("Chromium"), *HEADLESS_CHROMIUM, f"--user-data-dir={profile}", *arguments]
