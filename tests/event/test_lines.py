"""Each line as it reads by itself."""

from datetime import time
from decimal import Decimal
from typing import Any

import pytest

from salebook.book.reading.piece_numbers import piece_numbers_of
from salebook.event.entries import Entries, Line
from salebook.event.event import reckon_event
from salebook.event.lines import (
    Asks,
    ResolvedLine,
    has_entries,
    is_blank,
    kind_label,
    order_of,
    resolved_lines,
    trimmed,
)
from salebook.plan.load import read_plan
from salebook.reckoning import reckon
from tests.support.small_event import (
    FIRST,
    FIRST_DAY,
    PLAN,
    SECOND_DAY,
    UNNUMBERED,
    after,
    line,
    line_of,
    remarks_of,
)


def resolved(one: Line) -> ResolvedLine:
    return line_of(after(one), one.number)


def test_lines_stand_by_till_and_then_by_number() -> None:
    typed = [("2", 1), ("10", 1), ("1", 7), ("garden", 9), ("2", 3), ("1", 2)]
    event = after(*(line(number, "donation", amount="1", till=till) for till, number in typed))
    expected = [("garden", 9), ("1", 2), ("1", 7), ("2", 1), ("2", 3), ("10", 1)]
    assert expected == [(counted.line.till, counted.line.number) for counted in event.state.lines]


@pytest.mark.parametrize(("till", "expected"), [("1", 1_000_007), ("garden", 7), ("²", 7), ("", 7)])
def test_a_till_that_is_no_number_stands_first(till: str, expected: int) -> None:
    assert expected == order_of(Line(number=7, till=till))


@pytest.mark.parametrize(
    ("typed", "says_more"),
    [
        ({}, False),
        ({"day": FIRST_DAY}, False),
        ({"at": time(10, 5)}, False),
        ({"note": "rain"}, False),
        ({"unread": (("day", "soon"),)}, False),
        ({"unread": (("time", "noon"),)}, False),
        ({"unread": (("amount", "a lot"),)}, True),
        ({"piece": FIRST}, True),
        ({"way": "cash"}, True),
        ({"group": "Tide ~ mill"}, True),
        ({"claim": "7"}, True),
        ({"claim": "  "}, False),
        ({"amount": Decimal(0)}, True),
        ({"gift": Decimal(1)}, True),
        ({"count": 2}, True),
        ({"kind": "raffle"}, True),
        ({"with_above": True}, True),
        ({"waiting": True}, True),
    ],
)
def test_a_line_says_more_than_a_day_a_time_or_a_note(typed: dict[str, Any], says_more: bool) -> None:
    one = Line(number=1, **typed)
    assert says_more == has_entries(one)
    assert is_blank(one) == (typed in ({}, {"claim": "  "}))


def test_a_kind_that_could_not_be_read_is_said_as_the_sheet_takes_it() -> None:
    assert kind_label(Line(number=1, kind="raffle")) == "raffle"
    assert kind_label(Line(number=1, unread=(("amount", "x"), ("kind", "swap")))) == "?"


def test_spaces_at_the_ends_and_double_ones_within_are_nothing() -> None:
    assert trimmed("  group's   own tin ") == "group's own tin"
    assert resolved(line(1, piece=FIRST, way="group's  own tin")).way == "group's own tin"


@pytest.mark.parametrize(("way", "expected"), [("", "tin"), ("TIN", "tin"), ("card", "")])
def test_the_only_way_to_pay_is_meant_where_none_is_typed(way: str, expected: str) -> None:
    start, end = PLAN.index("[[payments]]"), PLAN.index("[[overheads]]")
    only = PLAN[:start] + '[[payments]]\nname = "tin"\ncash = true\n' + PLAN[end:]
    reckoning = reckon(read_plan(only.replace("WANTED", "4"), file="table.toml"))
    event = reckon_event(reckoning, Entries(lines=(line(1, piece=FIRST, way=way),)))
    assert expected == event.state.lines[0].way


def test_a_line_that_goes_with_the_one_above_is_paid_as_that_one() -> None:
    typed = [("card", False), ("", True), ("", True), ("cash", True), ("", True), ("", False), ("", True)]
    event = after(
        *(
            line(number, "donation", amount="1", way=way, with_above=above)
            for number, (way, above) in enumerate(typed, start=1)
        ),
        line(1, "donation", amount="1", way="", with_above=True, till="2"),
    )
    assert ["card", "card", "card", "cash", "cash", "", "", ""] == [one.way for one in event.state.lines]
    asked = [says == "how was it paid?" for says in remarks_of(event)]
    assert [False] * 5 + [True] * 3 == asked


def test_a_piece_on_a_line_that_is_about_none_is_not_looked_up() -> None:
    counted = line_of(after(line(1, "raffle", FIRST, "3")), 1)
    assert (counted.piece, counted.list_price, counted.index) == (None, None, 0)


def test_the_first_ware_of_a_plan_may_be_one_without_numbers() -> None:
    plan = reckon(read_plan(PLAN.replace("WANTED", "4"), file="table.toml")).plan
    dots = next(piece for piece in after().register if piece.code == UNNUMBERED)
    (found,) = resolved_lines(plan, [dots], [Decimal("1.50")], [line(1, piece=UNNUMBERED, count=3)])
    assert (found.index, found.count, found.list_price) == (1, 3, Decimal("4.50"))


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        *((typed, "MAY-003") for typed in ("may 3", "MAY3", "May-03", "may003", "may-oo3", "may/003")),
        *((typed, "MAY-001") for typed in ("may l", "MAY-00I")),
        *(("d1 2", "D1-002"), ("d12", "D1-002"), ("Dl-002", "D1-002")),
        *((typed, typed.upper()) for typed in ("may", "d1", "dot", "may-900", "may 0", "dot 1", "may 3 4")),
    ],
)
def test_a_piece_typed_loosely_is_the_one_that_alone_can_be_meant(typed: str, meant: str) -> None:
    assert resolved(line(1, piece=typed)).piece_number == meant
    numbers = [piece.number for piece in after().register]
    assert (
        piece_numbers_of(numbers).meant_in_the_sheet(typed) == piece_numbers_of(numbers).meant(typed) == meant
    )


def test_of_an_unknown_piece_nothing_is_known_and_nothing_asked() -> None:
    found = resolved(line(1, piece="MAY-900", count=2))
    assert (found.name, found.list_price, found.count, found.asks) == ("", None, 0, Asks.NOTHING)


def test_an_order_is_for_what_has_such_a_code() -> None:
    ware, none = (resolved(line(1, "order", piece, claim="7", count=2)) for piece in ("may", "XX"))
    assert (ware.name, ware.list_price, ware.count) == ("Mug", Decimal(56), 2)
    assert (none.name, none.list_price) == ("", None)


def test_even_a_small_minus_counts_for_nothing() -> None:
    assert resolved(line(1, piece=FIRST, amount="-0.50")).typed == 0


@pytest.mark.parametrize(("count", "expected"), [(None, 1), (0, 0), (-2, 0), (3, 3)])
def test_a_ware_without_numbers_moves_as_many_as_are_counted(count: int | None, expected: int) -> None:
    assert expected == resolved(line(1, piece=UNNUMBERED, count=count)).count


def test_each_till_counts_the_days_typed_so_far() -> None:
    typed = [("1", None), ("1", FIRST_DAY), ("1", None), ("1", SECOND_DAY), ("2", None), ("2", SECOND_DAY)]
    event = after(
        *(line(n, "donation", amount="1", till=till, day=day) for n, (till, day) in enumerate(typed, 1))
    )
    assert [0, 1, 1, 2, 0, 1] == [counted.days_before for counted in event.state.lines]
