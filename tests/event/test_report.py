"""The accounts after the sale."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from salebook.event.entries import Entries, Line
from salebook.event.question import Question
from salebook.event.reconciliation import SheetSums
from salebook.event.report import Report, report_of
from salebook.jobs.report_json import report_json
from tests.support.small_event import FIRST, FIRST_DAY, SECOND_DAY, line, messy_lines, sale


def report(*lines: Line, **more: Any) -> Report:
    return report_of(sale(), Entries(lines=lines), **more)


def test_without_questions_the_accounts_are_final() -> None:
    assert report(line(1, piece=FIRST)).is_final


def test_a_remark_an_unread_cell_and_a_difference_are_questions() -> None:
    asked = Question(sheet="Cash-up", row=7, says="not an amount")
    found = report(line(1, piece="MAY-900"), asked=[asked], stored=SheetSums(sums={"pool": Decimal(1)}))
    assert ["Cash-up", "Takings", "Share-out"] == [question.sheet for question in found.questions]
    assert not found.is_final


def test_two_questions_about_one_row_are_one_to_look_at_and_those_without_a_row_count_each() -> None:
    places = [("Cash-up", 7), ("Cash-up", 7), ("Takings", 7), ("Costs", 0), ("Costs", 0)]
    asked = [Question(sheet=sheet, row=row, says=f"{n}") for n, (sheet, row) in enumerate(places)]
    assert report(line(1, piece=FIRST), asked=asked).to_look_at == 4


def test_an_interim_report_shows_the_cash_of_its_days() -> None:
    lines = line(1, piece=FIRST), line(2, "raffle", amount="3", day=SECOND_DAY)
    days = [
        [box.day for box in report(*lines, up_to=last).cash_ups] for last in (FIRST_DAY, SECOND_DAY, None)
    ]
    assert days == [[FIRST_DAY], [FIRST_DAY, SECOND_DAY], [FIRST_DAY, SECOND_DAY]]


def test_an_interim_report_is_never_final() -> None:
    assert not report(line(1, piece=FIRST), up_to=FIRST_DAY).is_final


def test_a_pool_below_zero_says_what_is_missing() -> None:
    assert (Decimal("3.50"), Decimal(0)) == (report().missing, report(line(1, piece=FIRST)).missing)


@given(messy_lines())
@settings(deadline=None)
def test_nothing_is_lost_and_nothing_made(lines: tuple[Line, ...]) -> None:
    found = report(*lines)
    share_out = found.event.share_out
    got = sum((group.total for group in share_out.groups), Decimal(0))
    off = share_out.fees + share_out.costs_met_by_sale + share_out.to_givers
    assert share_out.takings + found.missing == off + got


@given(messy_lines())
@settings(deadline=None)
def test_each_share_is_within_one_unit_of_its_quota(lines: tuple[Line, ...]) -> None:
    share_out = report(*lines).event.share_out
    parts = sum(group.group.parts for group in share_out.groups)
    for group in share_out.groups:
        quota = Fraction(max(Decimal(0), share_out.pool)) * group.group.parts / parts
        assert abs(Fraction(group.share) - quota) < Fraction(1, 100)


@given(messy_lines(), st.randoms(use_true_random=False))
@settings(deadline=None)
def test_the_order_of_lines_changes_nothing(lines: tuple[Line, ...], chance: Any) -> None:
    shuffled = list(lines)
    chance.shuffle(shuffled)
    assert report_json(report(*lines)) == report_json(report(*shuffled))


def with_a_day(line: Line) -> Line:
    return replace(line, day=line.day or FIRST_DAY, with_above=False)


def swapped(lines: tuple[Line, ...]) -> tuple[Line, ...]:
    """Return the lines with the tills' names changed for one another."""
    return tuple(replace(each, till={"1": "2", "2": "1"}[each.till]) for each in lines)


def money_of(answer: dict[str, Any]) -> dict[str, Any]:
    keys = ("takings", "fees", "costs_met_by_sale", "pool", "share_out", "target")
    return {key: answer[key] for key in keys}


@given(messy_lines())
@settings(deadline=None)
def test_the_order_of_tills_changes_nothing_where_every_line_has_an_amount(lines: tuple[Line, ...]) -> None:
    typed = tuple(with_a_day(replace(each, amount=each.amount or Decimal(4))) for each in lines)
    assert money_of(report_json(report(*typed))) == money_of(report_json(report(*swapped(typed))))


SMALL: dict[str, Callable[[], Report]] = {
    "empty": report,
    "one sale": lambda: report(line(1, piece=FIRST)),
    "a question": lambda: report(line(1, piece="MAY-900")),
}


@pytest.mark.parametrize("make", SMALL.values(), ids=SMALL)
def test_reckoning_twice_gives_the_same(make: Callable[[], Report]) -> None:
    assert report_json(make()) == report_json(make())
