"""A browser's print of a page, and what stands where on it."""

import html
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

from salebook.prints.pdf import pdf_of
from tests.support.devtools import browser
from tests.support.programs import path_of

MM_PER_POINT = 25.4 / 72

_PAGE = re.compile(r'<page width="([0-9.]+)" height="([0-9.]+)">(.*?)</page>', re.DOTALL)
_WORD = re.compile(
    r'<word xMin="([0-9.-]+)" yMin="([0-9.-]+)" xMax="([0-9.-]+)" yMax="([0-9.-]+)">(.*?)</word>'
)


@dataclass(frozen=True, kw_only=True)
class Word:
    """A word on a printed page, in mm from its upper left corner."""

    page: int
    text: str
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True, kw_only=True)
class Printed:
    """A page as it is printed at 100 %."""

    pdf: Path
    sizes: tuple[tuple[float, float], ...]
    """Width and height of each page in mm."""
    words: tuple[Word, ...]

    def on(self, page: int) -> tuple[Word, ...]:
        """Return the words of one page, counted from 1."""
        return tuple(word for word in self.words if word.page == page)


def printed(text: str, folder: Path) -> Printed:
    """Print a page to PDF and read back its words."""
    page, pdf = folder / "print.html", folder / "print.pdf"
    page.write_text(text, encoding="utf-8")
    pdf.write_bytes(browser().pdf(page))
    return read_back(pdf)


def as_pdf(text: str, folder: Path) -> Printed:
    """Turn a page into PDF without a browser, and read back its words."""
    pdf = folder / "by-itself.pdf"
    pdf.write_bytes(pdf_of(text))
    return read_back(pdf)


def read_back(pdf: Path) -> Printed:
    """Return the pages of a PDF and the words on them."""
    boxes = subprocess.run(
        [path_of("pdftotext"), "-bbox", str(pdf), "-"], check=True, capture_output=True, text=True
    ).stdout
    pages = _PAGE.findall(boxes)
    return Printed(
        pdf=pdf,
        sizes=tuple(
            (float(width) * MM_PER_POINT, float(height) * MM_PER_POINT) for width, height, _rest in pages
        ),
        words=tuple(
            _word(number, word) for number, page in enumerate(pages, 1) for word in _WORD.findall(page[2])
        ),
    )


@dataclass(frozen=True, kw_only=True)
class Picture:
    """A picture in grey, row after row, 0 black and 255 white."""

    width: int
    height: int
    greys: bytes
    dpi: int

    def cut(self, left_mm: float, top_mm: float, width_mm: float, height_mm: float) -> "Picture":
        """Return a part of the picture; what lies beyond the paper is left out."""
        left, top = max(0, self.dots(left_mm)), max(0, self.dots(top_mm))
        right = min(self.width, self.dots(left_mm + width_mm))
        bottom = min(self.height, self.dots(top_mm + height_mm))
        rows = (self.greys[row * self.width + left : row * self.width + right] for row in range(top, bottom))
        return Picture(width=right - left, height=bottom - top, greys=b"".join(rows), dpi=self.dpi)

    def dots(self, length_mm: float) -> int:
        """Return a length in dots."""
        return round(length_mm / 25.4 * self.dpi)

    def is_dark(self, x_mm: float, y_mm: float, *, within_mm: float) -> bool:
        """Whether there is a dark dot within a distance of a point, along or across."""
        around = self.cut(x_mm - within_mm, y_mm - within_mm, 2 * within_mm, 2 * within_mm)
        return min(around.greys, default=255) < 128

    def saved(self, file: Path) -> Path:
        """Write the picture as a file (PGM)."""
        file.write_bytes(b"P5 %d %d 255\n" % (self.width, self.height) + self.greys)
        return file


def pictures(pdf: Path, *, dpi: int = 300) -> tuple[Picture, ...]:
    """Turn each page of a PDF into a picture."""
    return tuple(_picture(file.read_bytes(), dpi) for file in in_grey(pdf, dpi=dpi))


def in_grey(pdf: Path, *, dpi: int = 300) -> tuple[Path, ...]:
    """Turn each page of a PDF into a picture file in grey, as a scanner or a screen does."""
    return _drawn(pdf, dpi, "-gray", "pgm")


def in_black_and_white(pdf: Path, *, dpi: int = 300) -> tuple[Path, ...]:
    """Turn each page of a PDF into a picture file of black and white dots, as a printer does."""
    return _drawn(pdf, dpi, "-mono", "pbm")


def _drawn(pdf: Path, dpi: int, how: str, ending: str) -> tuple[Path, ...]:
    command = [path_of("pdftoppm"), "-r", str(dpi), how, str(pdf), str(pdf.with_suffix(""))]
    subprocess.run(command, check=True)
    return tuple(sorted(pdf.parent.glob(f"{pdf.stem}-*.{ending}")))


def _picture(data: bytes, dpi: int) -> Picture:
    _kind, width, height, _white = data.split(maxsplit=4)[:4]
    size = int(width) * int(height)
    return Picture(width=int(width), height=int(height), greys=data[-size:], dpi=dpi)


def asked(text: str, question: str, folder: Path, *, width_mm: float = 210) -> object:
    """Return what a JavaScript expression finds in a page, laid out for print at a width, in the browser."""
    page = folder / "asked.html"
    page.write_text(text, encoding="utf-8")
    return browser().answer(page, question, width_mm=width_mm)


def _word(page: int, found: tuple[str, str, str, str, str]) -> Word:
    left, top, right, bottom = (float(number) * MM_PER_POINT for number in found[:4])
    return Word(page=page, text=html.unescape(found[4]), left=left, top=top, right=right, bottom=bottom)
