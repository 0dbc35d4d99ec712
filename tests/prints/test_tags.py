from pathlib import Path

import pytest

from salebook.prints.paper import PAPERS, PaperName
from salebook.prints.tags import STUB_WIDTH_MM, TAG_HEIGHT_MM, TAG_WIDTH_MM, sheet_of_cards, tags_html
from tests.prints.browser import asked, in_black_and_white, pictures, printed
from tests.prints.sales import labels_table, pieces, sale
from tests.prints.test_labels_in_the_browser import many_named, read_codes
from tests.programs import needs_chromium, needs_poppler, needs_zbar


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_eight_cards_lie_on_the_paper_clear_of_the_printers_margin(page: PaperName) -> None:
    cards = sheet_of_cards(PAPERS[page])
    assert len(cards.places) == 8
    assert min(cards.left_mm, cards.top_mm) >= 5
    assert cards.is_on_paper


@needs_chromium
@needs_poppler
@needs_zbar
@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_both_halves_carry_number_price_and_code_at_their_places(page: PaperName, tmp_path: Path) -> None:
    reckoning = sale(labels=labels_table(page=page, rows=6))
    numbers = [f"LAN-{index:03}" for index in range(1, 9)]
    found = printed(tags_html(reckoning, pieces(reckoning), only="LAN-001..008"), tmp_path)
    (picture,) = pictures(found.pdf)
    halves = []
    for index, (number, place) in enumerate(zip(numbers, sheet_of_cards(PAPERS[page]).places, strict=True)):
        tear = place.x_mm + TAG_WIDTH_MM - STUB_WIDTH_MM
        inside = [
            word
            for word in found.words
            if place.x_mm < word.left < place.x_mm + TAG_WIDTH_MM
            and place.y_mm < word.top < place.y_mm + TAG_HEIGHT_MM
        ]
        for wanted in (number, "£28.00"):
            lefts = sorted(word.left for word in inside if word.text == wanted)
            assert len(lefts) == 2
            assert lefts[0] == pytest.approx(place.x_mm + 3, abs=0.3)
            assert lefts[1] == pytest.approx(tear + 2.5, abs=0.4)
        halves += [
            picture.cut(left, place.y_mm, width, TAG_HEIGHT_MM).saved(tmp_path / f"{index}{side}.pgm")
            for side, left, width in (
                ("a", place.x_mm, TAG_WIDTH_MM - STUB_WIDTH_MM),
                ("b", tear, STUB_WIDTH_MM),
            )
        ]
    assert read_codes(halves) == [number for number in numbers for _half in range(2)]
    (dots,) = in_black_and_white(found.pdf)
    assert set(read_codes([dots])) == set(numbers)


TOO_WIDE = """
[...document.querySelectorAll('.tag span, .tag p')].filter(line =>
    line.scrollWidth > line.clientWidth + 1 && line.clientWidth > 0
).map(line => line.textContent)
"""
TOO_LOW = """
[...document.querySelectorAll('.stub')].filter(stub => {
    const code = document.querySelector('.codes:last-of-type path').getBoundingClientRect();
    const lines = [...stub.querySelectorAll('p')].map(line => line.getBoundingClientRect().bottom);
    return Math.max(...lines) > stub.getBoundingClientRect().bottom - 29 / 21 * code.height;
}).map(stub => stub.textContent)
"""
SMALLEST = """
Math.min(...[...document.querySelectorAll('.tag p')].map(line => parseFloat(getComputedStyle(line).fontSize)))
"""


@needs_chromium
@pytest.mark.parametrize("locale", ["fr_FR", "de_DE", "ja_JP"])
def test_long_names_and_prices_stay_on_the_card_and_its_stub(locale: str, tmp_path: Path) -> None:
    reckoning = many_named({}, locale)
    answer = asked(tags_html(reckoning, pieces(reckoning)), f"[{TOO_WIDE}, {TOO_LOW}, {SMALLEST}]", tmp_path)
    assert isinstance(answer, list)
    too_wide, too_low, smallest_px = answer
    assert (too_wide, too_low) == ([], [])
    assert smallest_px >= 7 * 96 / 72 - 0.01
