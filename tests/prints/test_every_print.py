"""One set of rules for every print, before the sale and after it, on A4 and on Letter."""

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path

import pytest
from lxml import html

from salebook.prints.after_pack import prints_after
from salebook.prints.pack import all_prints
from salebook.prints.paper import PAPERS, PaperName
from tests.prints.accounts import LETTER_PAPER, accounts, accounts_with
from tests.prints.browser import asked, printed
from tests.prints.sales import labels_table, sale
from tests.prints.test_after_pack import PAGES as AFTER
from tests.programs import needs_chromium, needs_poppler

LABELS = ("labels.html", "tags.html")
BEFORE = (
    *(*LABELS, "price-list.html", "tally.html", "making.html", "firing.html", "poster.html"),
    *("agreement-1-village-library.html", "agreement-2-towpath-rangers.html"),
)
ACROSS = frozenset({"tally.html"})
EVERY = tuple((paper, name) for paper in PAPERS for name in (*BEFORE, *AFTER))
KILN = """
[kiln]
shelf = { shape = "round", diameter = "46 cm" }
usable_height = "50 cm"
rated_kw = 6

[[firings]]
name = "biscuit"
stage = "biscuit"
start = "07:00"
steps = [{ rate = 100, to = 1000, hold = 10 }]

[[firings]]
name = "glaze"
stage = "glaze"
start = "20:00"
steps = [{ rate = 120, to = 1240, hold = 20 }]

[energy]
rates = [{ from = "00:00", to = "00:00", price = 0.25 }]
"""


@cache
def prints(paper: PaperName) -> Mapping[str, str]:
    """Return every print on a paper, by file name."""
    if paper == "A4":
        return all_prints(sale(more=KILN, labels=labels_table(promise=True))) | prints_after(accounts())
    letter = sale(locale="en_US", currency="USD", more=KILN, labels=labels_table(page="Letter", rows=6))
    return all_prints(letter) | prints_after(accounts_with(*LETTER_PAPER))


SCOPES = frozenset({"col", "row", "colgroup", "rowgroup"})

every_print = pytest.mark.parametrize(("paper", "name"), EVERY)


def test_no_print_is_forgotten() -> None:
    pages = [name for name in prints("A4") if name.endswith(".html")]
    assert sorted(pages) == sorted((*BEFORE, *AFTER))


@every_print
def test_it_says_its_language_and_what_it_is(paper: PaperName, name: str) -> None:
    page = html.document_fromstring(prints(paper)[name])
    assert page.get("lang") == "en"
    assert (page.findtext(".//title") or "").strip(" –")
    assert page.xpath("//*[@lang='' or @lang='None']") == []


@every_print
def test_it_runs_and_fetches_nothing(paper: PaperName, name: str) -> None:
    text = prints(paper)[name]
    assert "default-src 'none'" in text
    parts = r"<(?:script|link|img|iframe|object|form)\b|@import|url\(|\b(?:src|on[a-z]+)=|https?:|javascript:"
    assert re.findall(parts, text) == []


@every_print
def test_its_tables_have_headings_and_its_drawings_words(paper: PaperName, name: str) -> None:
    page = html.document_fromstring(prints(paper)[name])
    assert [table for table in page.iter("table") if not table.xpath(".//th")] == []
    assert [heading for heading in page.iter("th") if heading.get("scope") not in SCOPES] == []
    drawings = [drawing for drawing in page.iter("svg") if drawing.get("aria-hidden") != "true"]
    assert [drawing for drawing in drawings if not drawing.get("aria-label")] == []


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour such as "#22313F" (WCAG 2, definition)."""
    parts = (int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5))
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@every_print
def test_its_words_stand_out_from_the_paper_in_colour_and_in_grey(paper: PaperName, name: str) -> None:
    """WCAG 2, success criterion 1.4.3: a contrast of 4.5 : 1, a ratio of luminances, so of greys too."""
    ground = luminance("#FBF8F3")
    words = set(re.findall(r"(?<![-a-z])(?:color|fill): ?(#[0-9A-Fa-f]{6})", prints(paper)[name]))
    assert words
    assert [c for c in words if (ground + 0.05) / (luminance(c) + 0.05) < 4.5] == []


@needs_chromium
@needs_poppler
@every_print
def test_its_pages_have_the_papers_size_and_none_is_empty(
    paper: PaperName, name: str, tmp_path: Path
) -> None:
    found = printed(prints(paper)[name], tmp_path)
    sides = (PAPERS[paper].width_mm, PAPERS[paper].height_mm)
    width, height = sides[::-1] if name in ACROSS else sides
    assert [size for size in found.sizes if size != pytest.approx((width, height), abs=0.3)] == []
    assert all(found.on(number) for number, _size in enumerate(found.sizes, 1))
    cut = [
        word.text
        for word in found.words
        if word.left < 5 or word.top < 5 or word.right > width - 5 or word.bottom > height - 5
    ]
    assert cut == []


CUT_OFF = """
[...document.querySelectorAll('body *')].filter(part => part instanceof HTMLElement
    && getComputedStyle(part).overflow !== 'visible'
    && (part.scrollWidth > part.clientWidth + 1 || part.scrollHeight > part.clientHeight + 2)
).map(part => part.className + ': ' + part.textContent.trim().slice(0, 60))
"""
SMALLEST_PX = """
Math.min(...[...document.querySelectorAll('body *:not(pre, script)')].filter(part =>
    [...part.childNodes].some(node => node.nodeType === 3 && node.textContent.trim())
    && part instanceof HTMLElement && !part.closest('.screen-only')
).map(part => parseFloat(getComputedStyle(part).fontSize)))
"""


@needs_chromium
@every_print
def test_nothing_is_cut_off_and_no_letter_too_small(paper: PaperName, name: str, tmp_path: Path) -> None:
    cut, smallest = asked_pair(prints(paper)[name], tmp_path)
    assert cut == []
    least_points = 7 if name in LABELS else 10
    assert smallest >= least_points * 96 / 72 - 0.01


def asked_pair(text: str, folder: Path) -> tuple[list[str], float]:
    answer = asked(text, f"[{CUT_OFF}, {SMALLEST_PX}]", folder)
    assert isinstance(answer, list)
    cut, smallest = answer
    return cut, float(smallest)
