from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from salebook.prints.paper import PAPERS
from salebook.prints.studio.making_list import making_html
from salebook.prints.studio.measuring_sticks import Stick, sticks_of
from salebook.reckoning import Reckoning
from tests.support.browser import asked
from tests.support.devtools import PX_PER_MM
from tests.support.print_sales import labels_table, made, sale
from tests.support.programs import needs_chromium

BOXES = """
[...document.querySelectorAll('svg.stick, svg.ruler')].map(drawing => {
    const box = drawing.getBoundingClientRect();
    return [drawing.getAttribute('class'), box.width, box.height];
})
"""


def sticks(reckoning: Reckoning, height: str | None, width: str | None) -> tuple[Stick, ...]:
    sizes = replace(
        reckoning.studio.sizes[0],
        made_height_mm=None if height is None else Decimal(height),
        made_diameter_mm=None if width is None else Decimal(width),
    )
    return sticks_of(sizes, reckoning.plan.sale.locale, PAPERS["A4"])


def test_a_stick_is_as_long_as_the_longer_side() -> None:
    (stick,) = sticks(sale(), "160", "80")
    assert stick.length == 160
    assert [(cut.y, cut.says) for cut in stick.cuts] == [(0.0, "height 16 cm"), (80.0, "width 8 cm")]


def test_a_bowl_is_wider_than_high() -> None:
    (stick,) = sticks(sale(), "70", "150")
    assert [(cut.y, cut.says) for cut in stick.cuts] == [(0.0, "width 15 cm"), (80.0, "height 7 cm")]


def test_writing_never_overlaps() -> None:
    (stick,) = sticks(sale(), "100", "99")
    first, second = (cut.text_y for cut in stick.cuts)
    assert second - first >= 4


def test_a_tall_pot_takes_more_strips() -> None:
    parts = sticks(sale(), "500", "80")
    assert [part.part for part in parts] == ["part 1 of 3", "part 2 of 3", "part 3 of 3"]
    assert sum(part.length for part in parts) == pytest.approx(500)
    assert [part.begins for part in parts] == pytest.approx([0, 237, 474])
    assert [[cut.says for cut in part.cuts] for part in parts] == [["width 8 cm"], [], ["height 50 cm"]]


def test_a_pot_without_sizes_has_no_stick() -> None:
    assert sticks(sale(), None, None) == ()
    assert [cut.says for cut in sticks(sale(), "120", None)[0].cuts] == ["height 12 cm"]


def test_a_language_with_one_word_for_both_measures_loses_neither(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("salebook.prints.studio.measuring_sticks._", lambda _text: "size")
    (stick,) = sticks(sale(), "160", "80")
    assert [cut.says for cut in stick.cuts] == ["size 16 cm", "size 8 cm"]


def test_inches_are_said_where_people_use_them() -> None:
    american = sale(locale="en_US", currency="USD")
    assert sticks(american, "254", "127")[-1].cuts[0].says == "height 10 in"


def test_the_numbers_stand_at_their_centimetres() -> None:
    (stick,) = sticks(sale(), "160", "80")
    assert [number for _y, number in stick.numbers] == list(range(1, 16))
    assert stick.numbers[0][0] == pytest.approx(150 + 1.2)


@needs_chromium
@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_sticks_and_ruler_have_their_true_size_in_the_browser(page: str, tmp_path: Path) -> None:
    reckoning = sale(labels=labels_table(page=page, rows=6))
    found = asked(made(making_html, reckoning), BOXES, tmp_path)
    assert isinstance(found, list)
    assert [kind for kind, _width, _height in found] == ["ruler", "stick"]
    assert [width / PX_PER_MM for _kind, width, _height in found] == pytest.approx([104, 37], abs=0.05)
    assert found[1][2] / PX_PER_MM == pytest.approx(160, abs=0.05)
