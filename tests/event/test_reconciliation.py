"""Sums of the sheets, where they cannot count some lines."""

from dataclasses import replace
from decimal import Decimal

import pytest

from salebook.event.entries import Entries, Line
from salebook.event.event import Event, reckon_event
from salebook.event.reconciliation import SheetSums, differences, reconcile
from tests.support.small_event import FIRST, SECOND, after, line, sale

SHARE_OUT = after(line(1, piece=FIRST)).share_out
THERE = {
    "takings_total": SHARE_OUT.takings,
    "named_total": SHARE_OUT.named,
    "fees_total": SHARE_OUT.fees,
    "costs_taken_off": SHARE_OUT.costs_met_by_sale,
    "to_givers_total": SHARE_OUT.to_givers,
    "direct_total": SHARE_OUT.direct,
    "pool": SHARE_OUT.pool,
    "raised": SHARE_OUT.reached,
}
SAME = SheetSums(sums=THERE, shares={share.group.name: share.share for share in SHARE_OUT.groups})


def said(stored: SheetSums) -> list[str]:
    return [question.says for question in differences(SHARE_OUT, stored, sale().plan.sale)]


def test_sums_that_agree_ask_nothing() -> None:
    assert said(SAME) == []


@pytest.mark.parametrize("name", THERE)
def test_each_sum_that_differs_is_a_question(name: str) -> None:
    (says,) = said(replace(SAME, sums={**THERE, name: THERE[name] + Decimal("0.01")}))
    assert f"£{THERE[name] + Decimal('0.01'):.2f}" in says
    assert f"£{THERE[name]:.2f}" in says


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


LINES = (
    line(1, piece=FIRST),
    line(2, piece=SECOND),
    line(3, "raffle", amount="7"),
    line(4, "donation", amount="9", way="card"),
)
WHOLE = after(*LINES)


def shown(event: Event) -> SheetSums:
    """Return what the sheets show where they count this event."""
    share_out = event.share_out
    sums = {
        "takings_total": share_out.takings,
        "fees_total": share_out.fees,
        "direct_total": share_out.direct,
        "pool": share_out.pool,
    }
    return SheetSums(sums=sums, shares={share.group.name: share.share for share in share_out.groups})


def without(*numbers: int, lines: tuple[Line, ...] = LINES) -> SheetSums:
    kept = tuple(each for each in lines if each.number not in numbers)
    return shown(reckon_event(sale(), Entries(lines=kept)))


def asked(stored: SheetSums, *uncounted: int, whole: Event = WHOLE) -> list[str]:
    found = reconcile(sale(), whole, stored, {line(number).identity for number in uncounted})
    return [question.says.split(":")[0] for question in found]


def test_lines_that_a_sheet_cannot_count_make_no_difference() -> None:
    assert asked(without(2), 2) == []
    assert asked(without(1, 4), 1, 2, 4) == []


def test_a_line_that_a_sheet_counts_all_the_same_makes_none() -> None:
    assert asked(shown(WHOLE), 2, 3) == []


def test_what_these_lines_do_not_explain_is_a_difference() -> None:
    assert asked(without(1), 2, 3) != []
    assert asked(without(1)) != []


def test_another_sum_that_differs_is_a_question_by_itself() -> None:
    stored = without(2)
    wrong = replace(stored, sums={**stored.sums, "pool": stored.sums["pool"] + Decimal(1)})
    assert asked(wrong, 2) == ["Money to share"]


def test_sheets_that_were_never_calculated_are_not_compared() -> None:
    assert asked(SheetSums(), 1, 2) == []


def test_a_sheet_that_shows_more_than_the_lines_make_is_asked_about() -> None:
    stored = shown(WHOLE)
    wrong = replace(stored, sums={**stored.sums, "takings_total": stored.sums["takings_total"] + Decimal(7)})
    assert asked(wrong, 3) == ["Takings"]


def test_of_two_lines_of_the_same_sum_the_one_that_explains_more_is_left_out() -> None:
    """Two gifts of 9: without the one by card the fees are less too."""
    lines = (*LINES, line(5, "donation", amount="9"))
    for left_out in (4, 5):
        assert asked(without(left_out, lines=lines), 4, 5, whole=after(*lines)) == []


def test_a_line_paid_straight_to_a_group_is_no_part_of_the_difference_in_takings() -> None:
    lines = (*LINES, line(5, "donation", amount="9", way="group's own tin"))
    assert asked(without(2, 5, lines=lines), 2, 5, whole=after(*lines)) == []
    assert asked(without(2, lines=lines), 2, 5, whole=after(*lines)) == []


def test_where_no_line_explains_everything_the_fewest_differences_are_asked_about() -> None:
    """The mug of 28 is not counted on the sheets, and the fees are wrong by themselves."""
    stored = without(2)
    wrong = replace(stored, sums={**stored.sums, "fees_total": stored.sums["fees_total"] + Decimal(1)})
    assert asked(wrong, 2) == ["Fees of the ways to pay"]
    assert len(asked(wrong)) > 1


def test_a_penny_that_no_line_explains_is_asked_about() -> None:
    stored = without(2)
    wrong = replace(
        stored, sums={**stored.sums, "takings_total": stored.sums["takings_total"] - Decimal("0.01")}
    )
    assert "Takings" in asked(wrong, 2)


def test_eight_lines_not_counted_among_twelve_are_found() -> None:
    """Gifts of 1, 2, 4, 8 …: only one choice of them adds up to what is missing."""
    gifts = tuple(line(number, "donation", amount=str(2**number)) for number in range(12))
    some = (0, 1, 2, 3, 5, 7, 9, 11)
    assert asked(without(*some, lines=gifts), *range(12), whole=after(*gifts)) == []
