from salebook.prints.making import making_html
from tests.prints.sales import sale
from tests.prints.test_price_list import rows_of


def test_the_wall_tells_ball_number_and_sizes() -> None:
    reckoning = sale()
    (run,) = reckoning.studio.runs
    assert rows_of(making_html(reckoning))[1] == (
        f"Lantern LAN · buff stoneware 340 g 12 oz {run.started} "
        f"24 good and {run.started - 24} that may not make it; batches of 20: {run.batches} "
        "16 × 8 cm 14 × 7 cm"
    )


def test_the_clay_to_buy_stands_in_whole_bags() -> None:
    reckoning = sale()
    (need,) = reckoning.studio.clays
    assert f"buff stoneware {need.kg:.1f} kg {need.packs} of 12.5 kg" in rows_of(making_html(reckoning))


def test_each_ware_has_a_row_to_keep_count() -> None:
    text = making_html(sale())
    assert text.count('<td class="box"></td>') == 6
    assert "<strong>Clay and glaze dust.</strong>" in text
