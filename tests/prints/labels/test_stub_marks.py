"""A stub has a box for each way to pay, room for another price, and a cross for the spike."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.base.widths import text_mm
from salebook.prints.fitting import line_mm
from salebook.prints.labels.qr_codes import DOT_MM, MODULES, module_dots
from salebook.prints.labels.stub_marks import (
    BESIDE_BOX_MM,
    BOX_MM,
    CROSS_MM,
    MEASURES,
    MOST_ROWS,
    ROW_MM,
    TOP_MM,
    WIDTH_MM,
    stub_marks,
)
from salebook.prints.labels.tags import (
    PAD_MM,
    STUB_CODE_BOTTOM_MM,
    STUB_CODE_MM,
    STUB_WIDTH_MM,
    TAG_HEIGHT_MM,
    tags_html,
)
from tests.support.print_sales import made, pieces, sale

CODE_TOP_MM = TAG_HEIGHT_MM - STUB_CODE_BOTTOM_MM - module_dots(STUB_CODE_MM) * DOT_MM * MODULES


@pytest.mark.parametrize(
    ("ways", "rows"),
    [
        (["cash"], [["cash"]]),
        (["cash", "card"], [["cash", "card"]]),
        (["cash", "card", "transfer"], [["cash", "card"], ["transfer"]]),
        (["bank transfer", "cash"], [["bank transfer"], ["cash"]]),
        (["one", "two", "three", "four", "five", "six", "seven", "eight"], []),
    ],
)
def test_ways_to_pay_stand_in_two_rows_at_most(ways: list[str], rows: list[list[str]]) -> None:
    assert rows == [list(row) for row in stub_marks(ways).ways]


def test_a_long_way_to_pay_is_cut_and_keeps_its_box() -> None:
    ((way,),) = stub_marks(["transfer to the account of the village library"]).ways
    assert way.startswith("transfer to the")
    assert way.endswith("…")


@given(st.lists(st.text("abcdefghij mW", min_size=1, max_size=30).filter(str.strip), min_size=1, max_size=9))
def test_no_row_is_wider_than_a_stub(ways: list[str]) -> None:
    rows = stub_marks(ways).ways
    assert len(rows) <= MOST_ROWS
    for row in rows:
        assert sum(BOX_MM + BESIDE_BOX_MM + text_mm(way, 7) for way in row) <= WIDTH_MM
    assert sum(map(len, rows)) in {0, len(ways)}


def test_the_marks_lie_clear_of_the_words_above_and_of_the_code() -> None:
    """Words above: "sold" in 8 points, two lines of a name in 9, a price in 14, a number in 11 points."""
    above = PAD_MM + line_mm(8) + 2 * line_mm(9) + line_mm(14) + line_mm(11) + 3 * 1.5
    below = TOP_MM + MEASURES["below_rows"] + MEASURES["writing"]
    assert above <= TOP_MM
    assert below <= CODE_TOP_MM
    assert MEASURES["cross"] + line_mm(7) <= MEASURES["writing"]
    assert MEASURES["price"] + MEASURES["spike"] <= WIDTH_MM


def test_the_spike_may_miss_its_cross_by_eight_millimetres_and_spares_the_code() -> None:
    white = 4 * module_dots(STUB_CODE_MM) * DOT_MM
    assert CODE_TOP_MM + white - CROSS_MM[1] > 8
    assert STUB_WIDTH_MM - CROSS_MM[0] > 8
    assert CROSS_MM[1] > TOP_MM + MOST_ROWS * ROW_MM


def test_where_ways_have_no_room_there_is_a_line_to_write_on() -> None:
    html = made(tags_html, sale(), pieces(sale()), only="LAN-001")
    assert (1, 0) == (html.count('<span class="way"'), html.count("paid by"))
    many = "".join(f'[[payments]]\nname = "a way called {number}"\nshare = 0.25\n' for number in range(4))
    html = made(tags_html, sale(more=many), pieces(sale()), only="LAN-001")
    assert (0, 1) == (html.count('<span class="way"'), html.count("paid by"))
