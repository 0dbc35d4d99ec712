"""A print as PDF, through WeasyPrint, which is an extra: salebook[pdf]."""

import logging
import re
import unicodedata
from collections.abc import Mapping
from html import unescape
from pathlib import PurePath

from salebook.base.errors import SalebookError
from salebook.base.words import _

LETTERS_OF_DRAWINGS = '<style>text { font-family: Arial, "Liberation Sans", Helvetica, sans-serif }</style>'


class PdfError(SalebookError):
    """This computer lacks what turns a print into PDF; says what to install."""


def pdfs_of(prints: Mapping[str, str]) -> dict[str, bytes]:
    """Return the pages among some prints as PDF, by file name.

    Raises PdfError as `pdf_of` does.
    """
    pages = {PurePath(name): html for name, html in prints.items() if name.endswith(".html")}
    return {name.with_suffix(".pdf").name: pdf_of(html) for name, html in pages.items()}


def pdf_of(html: str) -> bytes:
    """Return a print as PDF, tagged for screen readers; nothing is fetched, whatever a template asks for.

    Raises PdfError where WeasyPrint, or the library Pango that it draws text with, is not installed.
    """
    try:
        from weasyprint import HTML  # noqa: PLC0415  an extra, and slow to load
        from weasyprint.urls import URLFetcher  # noqa: PLC0415  as above
    except ImportError as trouble:
        raise PdfError(
            _("PDF needs WeasyPrint: .venv/bin/pip install '.[pdf]' in salebook's folder")
        ) from trouble
    except OSError as trouble:
        says = _("PDF needs the library Pango; on Debian and Ubuntu: apt install libpangoft2-1.0-0 ({why})")
        raise PdfError(says.format(why=str(trouble).partition("\n")[0])) from trouble
    # It would remark on rules that are for browsers only.
    logging.getLogger("weasyprint").setLevel(logging.CRITICAL)
    page = _with_directions(_with_styled_drawings(html))
    nothing = URLFetcher(allowed_protocols=())
    return bytes(HTML(string=page, url_fetcher=nothing).write_pdf(pdf_tags=True))


def _with_styled_drawings(html: str) -> str:
    """Put the style sheet into each drawing too, since WeasyPrint draws them by themselves."""
    # Rules for parts of a drawing begin with the drawing's own class, since the whole sheet stands in each.
    # A line with another script's face grows higher in WeasyPrint unless its height is given.
    style = LETTERS_OF_DRAWINGS + "".join(re.findall(r"<style>.*?</style>", html, re.DOTALL))
    return re.sub(r"<svg\b[^>]*>", lambda drawing: drawing[0] + style, html)


def _with_directions(html: str) -> str:
    """Say from which side each text is read, which WeasyPrint does not find out from its first letter."""
    return re.sub(r'dir="auto">([^<]*)', lambda text: f'dir="{_direction(text[1])}">{text[1]}', html)


def _direction(text: str) -> str:
    sides = (unicodedata.bidirectional(letter) for letter in unescape(text))
    return "rtl" if next((side for side in sides if side in {"L", "R", "AL"}), "L") != "L" else "ltr"
