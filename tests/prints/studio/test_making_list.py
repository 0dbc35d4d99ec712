from datetime import date
from pathlib import Path

import pytest

from salebook.plan.load import load_plan
from salebook.prints.studio.making_list import making_html
from salebook.prints.studio.steps import steps_of
from salebook.reckoning import Reckoning, reckon
from tests.prints.test_every_print import KILN
from tests.support.books import SAMPLES
from tests.support.browser import as_pdf, printed
from tests.support.finished_sale import rows
from tests.support.print_sales import labels_table, made, sale
from tests.support.programs import needs_chromium, needs_poppler, needs_weasyprint

STUDIO_WORK = """
[[work]]
name = "wedging"
per = "batch"
minutes = 30

[[work]]
name = "throwing"
per = "piece started"
minutes = 4

[[work]]
name = "handles"
per = "piece started"
minutes = 4
wares = ["JUG"]

[[work]]
name = "sanding, wet"
per = "piece finished"
minutes = 1
wares = ["LAN"]

[[work]]
name = "packing the kiln"
per = "load"
minutes = 60

[[work]]
name = "at the table"
per = "sale"
minutes = 600

[[wares]]
code = "JUG"
name = "Jug"
wanted = 2
price = 30
clay = "buff stoneware"
ball = "2 lb"
made_height = "200 mm"
made_diameter = "100 mm"
"""


def test_the_wall_tells_ball_number_and_sizes() -> None:
    reckoning = sale()
    (run,) = reckoning.studio.runs
    assert rows(made(making_html, reckoning))[1] == (
        f"Lantern LAN · buff stoneware 340 g 12 oz {run.started} "
        f"24 good and {run.started - 24} that may not come through; batches of 20: {run.batches} "
        "16 × 8 cm 14 × 7 cm"
    )


def test_each_day_says_what_to_throw_to_weigh_and_to_set_out_with_a_box_for_each_step() -> None:
    weekend = reckon(load_plan(SAMPLES["harbour-weekend"]))
    text = made(making_html, weekend)
    assert (
        "Thu 20 May 20 × Harbour mug Weigh 20 balls of 397 g (14 oz), speckled stoneware. Set out 20 bats. "
        "weighing and throwing turning and handles dry biscuit glazing stoneware glaze feet polished wrapped"
    ) in rows(text)
    days = [row for row in rows(text) if "Weigh" in row]
    assert len(days) == len(weekend.days.latest[0].throws) == 7
    assert text.count('<span class="tick"></span>') == 7 * 8


def test_the_plans_own_work_takes_the_place_of_the_usual_steps() -> None:
    plan = sale(more=STUDIO_WORK + KILN).plan
    lantern, jug = plan.wares
    assert steps_of(lantern, plan) == (
        *("wedging", "throwing", "dry", "biscuit", "glazed", "signed", "glaze", "sanding, wet"),
    )
    assert steps_of(jug, plan) == (
        *("wedging", "throwing", "handles", "dry", "biscuit", "glazed", "signed", "glaze"),
        *("feet polished", "wrapped"),
    )


def test_a_plan_without_work_and_firings_has_the_usual_steps() -> None:
    plan = sale().plan
    assert steps_of(plan.wares[0], plan) == (
        *("thrown", "turned", "dry", "biscuit", "glazed", "signed", "fired", "feet polished", "wrapped"),
    )


def test_each_ware_has_a_row_to_keep_count() -> None:
    text = made(making_html, sale())
    assert text.count('<td class="box"></td>') == 6
    assert "<strong>Clay and glaze dust.</strong>" in text


def test_the_dated_plan_stands_on_the_wall() -> None:
    text = made(making_html, sale())
    assert "Begin to throw by" in text
    assert [row.split(" ", 1)[0] for row in rows(text) if row.startswith(("throw ", "finish "))] == [
        "throw",
        "finish",
    ]


def test_too_late_is_framed_and_comes_before_the_list() -> None:
    late = sale_on(date(2027, 5, 7))
    text = made(making_html, late)
    assert text.index('<div class="late">') < text.index("TOO LATE by") < text.index("<table>")
    assert '<div class="late">' not in made(making_html, sale_on(date(2027, 1, 7)))


def sale_on(today: date) -> Reckoning:
    return reckon(sale().plan, today=today)


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("sample", SAMPLES)
def test_no_page_of_the_wall_is_nearly_empty(sample: str, tmp_path: Path) -> None:
    """Steps, cautions and sticks share pages: at least a quarter of each is written on."""
    found = printed(made(making_html, reckon(load_plan(SAMPLES[sample]))), tmp_path)
    filled = [max(word.bottom for word in found.on(page)) for page in range(1, len(found.sizes) + 1)]
    assert [lowest for lowest in filled if lowest < 297 / 4] == []


@needs_weasyprint
@needs_poppler
@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_the_cautions_stand_beside_a_stick_in_a_pdf_too(page: str, tmp_path: Path) -> None:
    wall = made(making_html, sale(labels=labels_table(page=page, rows=6)))
    found = as_pdf(wall, tmp_path)
    (stick,) = (word for word in found.words if word.text == "LAN" and word.page == len(found.sizes))
    dust = next(word for word in found.words if word.text == "dust.")
    assert (dust.page, dust.left > stick.right, dust.bottom < stick.top) == (stick.page, True, True)
