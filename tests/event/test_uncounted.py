"""Sums of the sheets, where they cannot count some lines."""

from dataclasses import replace
from decimal import Decimal

from salebook.event.compared import Stored
from salebook.event.entries import Entries, Line
from salebook.event.event import Event, reckon_event
from salebook.event.uncounted import differences_of_sheets
from tests.event.table import FIRST, SECOND, after, line, sale

LINES = (
    line(1, piece=FIRST),
    line(2, piece=SECOND),
    line(3, "raffle", amount="7"),
    line(4, "donation", amount="9", way="card"),
)
WHOLE = after(*LINES)


def shown(event: Event) -> Stored:
    """Return what the sheets show where they count this event."""
    share_out = event.share_out
    sums = {"takings_total": share_out.takings, "fees_total": share_out.fees, "pool": share_out.pool}
    return Stored(sums=sums, shares={share.group.name: share.share for share in share_out.groups})


def without(*numbers: int) -> Stored:
    lines: tuple[Line, ...] = tuple(each for each in LINES if each.number not in numbers)
    return shown(reckon_event(sale(), Entries(lines=lines)))


def asked(stored: Stored, *uncounted: int) -> list[str]:
    found = differences_of_sheets(sale(), WHOLE, stored, {("1", number) for number in uncounted})
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
    assert asked(Stored(), 1, 2) == []


def test_a_sheet_that_shows_more_than_the_lines_make_is_asked_about() -> None:
    stored = shown(WHOLE)
    wrong = replace(stored, sums={**stored.sums, "takings_total": stored.sums["takings_total"] + Decimal(7)})
    assert asked(wrong, 3) == ["Takings"]
