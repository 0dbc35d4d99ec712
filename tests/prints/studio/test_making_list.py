from datetime import date

from salebook.prints.studio.making_list import making_html
from salebook.reckoning import Reckoning, reckon
from tests.support.finished_sale import rows
from tests.support.print_sales import made, sale


def test_the_wall_tells_ball_number_and_sizes() -> None:
    reckoning = sale()
    (run,) = reckoning.studio.runs
    assert rows(made(making_html, reckoning))[1] == (
        f"Lantern LAN · buff stoneware 340 g 12 oz {run.started} "
        f"24 good and {run.started - 24} that may not come through; batches of 20: {run.batches} "
        "16 × 8 cm 14 × 7 cm"
    )


def test_the_clay_to_buy_stands_in_whole_bags() -> None:
    reckoning = sale()
    (need,) = reckoning.studio.clays
    assert f"buff stoneware {need.kg:.1f} kg {need.packs} of 12.5 kg" in rows(made(making_html, reckoning))


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
