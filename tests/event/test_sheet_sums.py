from dataclasses import replace
from decimal import Decimal

import pytest

from salebook.event.sheet_sums import SheetSums, differences
from tests.support.small_event import FIRST, after, line, sale

SHARE_OUT = after(line(1, piece=FIRST)).share_out
SUMS = {
    "takings_total": SHARE_OUT.takings,
    "named_total": SHARE_OUT.named,
    "fees_total": SHARE_OUT.fees,
    "costs_taken_off": SHARE_OUT.costs_met_by_sale,
    "to_givers_total": SHARE_OUT.to_givers,
    "direct_total": SHARE_OUT.direct,
    "pool": SHARE_OUT.pool,
    "raised": SHARE_OUT.reached,
}
SAME = SheetSums(sums=SUMS, shares={share.group.name: share.share for share in SHARE_OUT.groups})


def said(stored: SheetSums) -> list[str]:
    return [question.says for question in differences(SHARE_OUT, stored, sale().plan.sale)]


def test_sums_that_agree_ask_nothing() -> None:
    assert said(SAME) == []


@pytest.mark.parametrize("name", SUMS)
def test_each_sum_that_differs_is_a_question(name: str) -> None:
    (says,) = said(replace(SAME, sums={**SUMS, name: SUMS[name] + Decimal("0.01")}))
    assert f"£{SUMS[name] + Decimal('0.01'):.2f}" in says
    assert f"£{SUMS[name]:.2f}" in says


def test_a_share_that_differs_is_a_question_with_its_group() -> None:
    (says,) = said(replace(SAME, shares={**SAME.shares, "Tide ~ mill": Decimal(9)}))
    assert says.startswith("Tide ~ mill: ")


@pytest.mark.parametrize(("apart", "questions"), [("0.0049", 0), ("0.005", 1), ("-0.005", 1)])
def test_half_a_penny_is_a_difference(apart: str, questions: int) -> None:
    stored = replace(SAME, sums={"pool": SHARE_OUT.pool + Decimal(apart)})
    found = list(differences(SHARE_OUT, stored, sale().plan.sale))
    assert [("Share-out", 0)] * questions == [(question.sheet, question.row) for question in found]


def test_the_noise_of_a_spreadsheet_is_no_difference() -> None:
    assert said(replace(SAME, sums={"pool": SHARE_OUT.pool + Decimal("0.000001")})) == []


def test_what_was_never_calculated_is_not_compared() -> None:
    assert said(SheetSums()) == []


def test_a_sum_beyond_all_counting_is_left_to_the_question_about_its_line() -> None:
    event = after(line(1, piece=FIRST))
    stored = SheetSums(sums={"takings_total": Decimal("1e300"), "pool": Decimal("-1e300")})
    assert list(differences(event.share_out, stored, sale().plan.sale)) == []
