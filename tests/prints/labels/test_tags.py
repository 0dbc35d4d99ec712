from dataclasses import dataclass
from pathlib import Path

import pytest

from salebook.prints.labels.sheet import Place
from salebook.prints.labels.stub_marks import CROSS_MM
from salebook.prints.labels.tags import (
    FRONT_WIDTH_MM,
    SLIP_HEIGHT_MM,
    STUB_WIDTH_MM,
    TAG_HEIGHT_MM,
    TAG_WIDTH_MM,
    sheet_of_cards,
    tags_html,
)
from salebook.prints.paper import PAPERS, PaperName
from tests.prints.labels.test_labels_in_the_browser import Printer, many_named, read_codes
from tests.support.browser import Picture, Word, as_pdf, asked, in_grey, pictures, printed
from tests.support.print_sales import labels_table, made, pieces, sale
from tests.support.programs import needs_chromium, needs_poppler, needs_weasyprint, needs_zbar


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_eight_cards_lie_on_the_paper_clear_of_the_printers_margin(page: PaperName) -> None:
    cards = sheet_of_cards(PAPERS[page])
    assert len(cards.places) == 8
    assert min(cards.left_mm, cards.top_mm) >= 5
    assert cards.is_on_paper


CARDS = (
    pytest.param("A4", False, printed, marks=needs_chromium, id="A4, browser"),
    pytest.param("Letter", True, printed, marks=needs_chromium, id="Letter, browser, with claim slips"),
    pytest.param("Letter", False, as_pdf, marks=needs_weasyprint, id="Letter, PDF"),
    pytest.param("A4", True, as_pdf, marks=needs_weasyprint, id="A4, PDF, with claim slips"),
)


@dataclass(frozen=True, kw_only=True)
class Part:
    """A part of a card in mm, and where its words begin."""

    left: float
    top: float
    width: float
    height: float
    words_left: float


def parts_of(place: Place, pad: float, *, claim_slips: bool) -> list[Part]:
    """Return the front, the stub and, where there is one, the claim slip of a card."""
    x, y, tear = place.x_mm, place.y_mm, place.x_mm + FRONT_WIDTH_MM
    slip = SLIP_HEIGHT_MM if claim_slips else 0.0
    front = Part(left=x, top=y, width=FRONT_WIDTH_MM, height=TAG_HEIGHT_MM - slip, words_left=x + pad)
    stub = Part(left=tear, top=y, width=STUB_WIDTH_MM, height=TAG_HEIGHT_MM, words_left=tear + 2.5 + 0.4)
    foot = Part(left=x, top=y + TAG_HEIGHT_MM - slip, width=FRONT_WIDTH_MM, height=slip, words_left=x + pad)
    return [front, stub, foot] if claim_slips else [front, stub]


@needs_poppler
@needs_zbar
@pytest.mark.parametrize(("page", "claim_slips", "printer"), CARDS)
def test_each_part_carries_number_price_and_code_at_its_place(
    page: PaperName, claim_slips: bool, printer: Printer, tmp_path: Path
) -> None:
    reckoning = sale(labels=labels_table(page=page, rows=6))
    numbers = [f"LAN-{index:03}" for index in range(1, 9)]
    text = made(tags_html, reckoning, pieces(reckoning), only="LAN-001..008", claim_slips=claim_slips)
    found = printer(text, tmp_path)
    (picture,) = pictures(found.pdf)
    codes: list[Path] = []
    for number, place in zip(numbers, sheet_of_cards(PAPERS[page]).places, strict=True):
        check_lines(picture, place, claim_slips=claim_slips)
        for part in parts_of(place, 1.92 if claim_slips else 3.0, claim_slips=claim_slips):
            inside = [word for word in found.words if is_inside(word, part)]
            marks = [word for word in inside if word.text in {"cash", "other", "spike"}]
            assert len(marks) == (3 if part.width == STUB_WIDTH_MM else 0)
            for wanted in (number, "£28.00"):
                (left,) = (word.left for word in inside if word.text == wanted)
                assert left == pytest.approx(part.words_left, abs=0.3)
            cut = picture.cut(part.left, part.top, part.width, part.height)
            codes.append(cut.saved(tmp_path / f"{len(codes):02}.pgm"))
    parts = 3 if claim_slips else 2
    assert read_codes(codes) == [number for number in numbers for _part in range(parts)]
    (whole,) = in_grey(found.pdf)
    assert sorted(read_codes([whole])) == sorted(numbers * parts)


def is_inside(word: Word, part: Part) -> bool:
    down = part.top < word.top < word.bottom < part.top + part.height
    return down and part.left < word.left < word.right < part.left + part.width


def check_lines(picture: Picture, place: Place, *, claim_slips: bool) -> None:
    """Find the lines to cut and to tear along, and the ring to punch."""
    x, y, tear = place.x_mm, place.y_mm, place.x_mm + FRONT_WIDTH_MM
    for across in (x, tear, x + TAG_WIDTH_MM):
        assert darkest(picture, across - 0.3, y + 15, 0.6, 20) < 160
    downs = [(y, 90.0), (y + TAG_HEIGHT_MM, 90.0)]
    if claim_slips:
        downs.append((y + TAG_HEIGHT_MM - SLIP_HEIGHT_MM, 55.0))
    for down, length in downs:
        assert darkest(picture, x + 2, down - 0.3, length, 0.6) < 160
    middle = (x + FRONT_WIDTH_MM / 2, y + 6)
    for right, down in ((-2.35, 0), (2.35, 0), (0, -2.35), (0, 2.35)):
        assert darkest(picture, middle[0] + right - 0.3, middle[1] + down - 0.3, 0.6, 0.6) < 160
    across, down = tear + CROSS_MM[0], y + CROSS_MM[1]
    for right, below in ((-1.9, 0), (1.9, 0), (0, -1.9), (0, 1.9)):
        assert darkest(picture, across + right - 0.15, down + below - 0.15, 0.3, 0.3) < 160
    for white in (
        (x + 0.5, y + 20, 1, 20),
        (tear + 5, y + TAG_HEIGHT_MM - 20.2, 22, 2),
        (tear + 0.5, y + 20, 1, 20),
        (middle[0] - 1, middle[1] - 1, 2, 2),
    ):
        assert darkest(picture, *white) == 255


def darkest(picture: Picture, left: float, top: float, width: float, height: float) -> int:
    return min(picture.cut(left, top, width, height).greys)


TOO_WIDE = """
[...document.querySelectorAll('.tag span, .tag p')].filter(line =>
    line.scrollWidth > line.clientWidth + 1 && line.clientWidth > 0
).map(line => line.textContent)
"""
TOO_LOW = """
[...document.querySelectorAll('.stub')].filter(stub => {
    const code = document.querySelectorAll('.codes')[1].querySelector('path').getBoundingClientRect();
    const lines = [...stub.querySelectorAll('p')].map(line => line.getBoundingClientRect().bottom);
    return Math.max(...lines) > stub.getBoundingClientRect().bottom - 29 / 21 * code.height;
}).concat([...document.querySelectorAll('.slip')].filter(slip => {
    const tops = [...slip.querySelectorAll('p')].map(line => line.getBoundingClientRect());
    return tops.some((line, index) => index > 0 && line.top < tops[index - 1].bottom - 0.5)
        || tops.at(-1).bottom > slip.getBoundingClientRect().bottom;
})).map(part => part.textContent)
"""
SMALLEST = """
Math.min(...[...document.querySelectorAll('.tag p')].map(line => parseFloat(getComputedStyle(line).fontSize)))
"""


@needs_chromium
@pytest.mark.parametrize("claim_slips", [False, True])
@pytest.mark.parametrize("locale", ["fr_FR", "de_DE", "ja_JP"])
def test_long_names_and_prices_stay_on_their_part_of_the_card(
    locale: str, claim_slips: bool, tmp_path: Path
) -> None:
    reckoning = many_named({}, locale)
    text = made(tags_html, reckoning, pieces(reckoning), claim_slips=claim_slips)
    answer = asked(text, f"[{TOO_WIDE}, {TOO_LOW}, {SMALLEST}]", tmp_path)
    assert isinstance(answer, list)
    too_wide, too_low, smallest_px = answer
    assert (too_wide, too_low) == ([], [])
    assert smallest_px >= 7 * 96 / 72 - 0.01
