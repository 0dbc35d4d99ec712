"""What holds of every print."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from salebook.plan.load import load_plan
from salebook.prints.pack import all_prints
from salebook.prints.paper import PAPERS, PaperName
from salebook.reckoning import Reckoning, reckon
from tests.prints.browser import asked, printed
from tests.prints.sales import labels_table, sale
from tests.programs import needs_chromium, needs_poppler

WORKED = Path(__file__).parents[1] / "worked-plan.toml"
KINDS = ("labels", "tags", "price-list", "tally", "making", "firing", "poster", "agreement-1-village-library")
HOSTILE = "<script>alert(1)</script>&<img src='http://example.invalid/x.png'>"


@pytest.fixture(scope="module")
def prints() -> dict[str, str]:
    return all_prints(reckon(load_plan(WORKED)))


def on_letter() -> Reckoning:
    return sale(locale="en_US", currency="USD", labels=labels_table(page="Letter", rows=6))


def test_the_pack_holds_every_print_made_before_the_sale(prints: dict[str, str]) -> None:
    assert list(prints) == [f"{kind}.html" for kind in KINDS] + ["agreement-2-towpath-rangers.html"]


@pytest.mark.parametrize("kind", KINDS)
def test_a_print_says_its_language_and_fetches_and_runs_nothing(kind: str, prints: dict[str, str]) -> None:
    text = prints[f"{kind}.html"]
    assert '<html lang="en">' in text
    assert "default-src 'none'" in text
    assert (
        re.findall(r"<(?:script|link|img|iframe|object)\b|@import|url\(|\bsrc=|\bon[a-z]+=|https?:", text)
        == []
    )
    assert "<title>" in text


@pytest.mark.parametrize("kind", ["price-list", "tally", "making", "firing", "agreement-1-village-library"])
def test_a_table_names_its_rows_or_columns_for_a_screen_reader(kind: str, prints: dict[str, str]) -> None:
    headings = re.findall(r"<th\b[^>]*>", prints[f"{kind}.html"])
    assert headings
    assert [heading for heading in headings if "scope=" not in heading] == []


def test_hostile_texts_stay_text() -> None:
    reckoning = sale(title=HOSTILE.replace("'", "`"), name=HOSTILE.replace("'", "`"))
    for text in all_prints(reckoning).values():
        assert "<script" not in text
        assert "<img" not in text


def luminance(colour: str) -> float:
    """Return the relative luminance of a colour such as "#22313F" (WCAG 2, definition)."""
    parts = (int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5))
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def text_colours(texts: dict[str, str]) -> Iterator[str]:
    for text in texts.values():
        yield from re.findall(r"(?<![-a-z])(?:color|fill): ?(#[0-9A-Fa-f]{6})", text)


def test_every_colour_of_text_stands_out_from_paper(prints: dict[str, str]) -> None:
    """WCAG 2, success criterion 1.4.3: a contrast of at least 4.5 : 1."""
    ground = luminance("#FBF8F3")
    colours = set(text_colours(prints))
    assert {"#22313F", "#A4552F"} <= colours
    assert [c for c in colours if (ground + 0.05) / (luminance(c) + 0.05) < 4.5] == []


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("kind", KINDS)
def test_no_page_is_empty_or_of_another_size(kind: str, prints: dict[str, str], tmp_path: Path) -> None:
    check_pages(prints[f"{kind}.html"], "A4", kind, tmp_path)


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("kind", ["price-list", "tally", "making", "poster", "agreement-1-village-library"])
def test_prints_on_letter_have_no_page_too_many(kind: str, tmp_path: Path) -> None:
    text = all_prints(on_letter())[f"{kind}.html"]
    found = check_pages(text, "Letter", kind, tmp_path)
    assert found <= 3 if kind == "making" else found == 1


def check_pages(text: str, page: PaperName, kind: str, folder: Path) -> int:
    found = printed(text, folder)
    paper = PAPERS[page]
    expected = (paper.width_mm, paper.height_mm) if kind != "tally" else (paper.height_mm, paper.width_mm)
    assert all(found.on(number) for number, _size in enumerate(found.sizes, 1))
    assert [size for size in found.sizes if size != pytest.approx(expected, abs=0.3)] == []
    edges = [word for word in found.words if word.left < 2 or word.right > expected[0] - 2]
    assert edges == []
    return len(found.sizes)


SMALLEST = """
Math.min(...[...document.querySelectorAll('main *, header *, footer *')].filter(part =>
    [...part.childNodes].some(node => node.nodeType === 3 && node.textContent.trim()) && !part.closest('svg')
).map(part => parseFloat(getComputedStyle(part).fontSize)))
"""


@needs_chromium
@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in {"labels", "tags"}])
def test_text_is_10_points_or_larger(kind: str, prints: dict[str, str], tmp_path: Path) -> None:
    smallest = asked(prints[f"{kind}.html"], SMALLEST, tmp_path)
    assert isinstance(smallest, float | int)
    assert smallest >= 10 * 96 / 72 - 0.01
