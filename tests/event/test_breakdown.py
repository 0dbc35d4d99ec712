from decimal import Decimal

from hypothesis import given, settings

from salebook.event.breakdown import breakdown_of
from salebook.event.entries import Line
from tests.support.small_event import (
    DONATED,
    FIRST,
    FIRST_DAY,
    SECOND,
    SECOND_DAY,
    after,
    line,
    messy_lines,
    sale,
)

PLAN = sale().plan


def test_the_takings_are_taken_apart_by_kind_way_and_day() -> None:
    event = after(
        line(1, piece=FIRST, day=FIRST_DAY, gift="2"),
        line(2, piece=SECOND, way="card"),
        line(3, "raffle", amount="7", way="", day=SECOND_DAY),
        line(4, "donation", amount="9", way="group's own tin"),
        line(5, "donation", amount="9", waiting=True),
    )
    received = breakdown_of(PLAN, event.state)
    assert {"sale": 48, "raffle": 7} == received.by_kind
    assert {"sale": 46, "gift": 2, "raffle": 7} == received.by_purpose
    assert {"cash": 30, "card": 18, "bank * transfer?": 0, "": 7} == received.by_way
    assert {FIRST_DAY: 48, SECOND_DAY: 7} == received.by_day


def test_days_stand_in_order_and_within_a_day_kinds_as_in_the_list_and_ways_by_name() -> None:
    event = after(
        line(1, piece=FIRST, day=SECOND_DAY),
        line(2, "donation", amount="5", way="card"),
        line(3, piece=SECOND, day=FIRST_DAY),
        line(4, "raffle", amount="7"),
        line(5, "donation", amount="1"),
        line(6, piece=DONATED, way="card"),
    )
    received = breakdown_of(PLAN, event.state)
    assert [FIRST_DAY, SECOND_DAY] == list(received.by_day)
    assert list(received.together) == [
        (FIRST_DAY, "sale", "card"),
        (FIRST_DAY, "sale", "cash"),
        (FIRST_DAY, "donation", "cash"),
        (FIRST_DAY, "raffle", "cash"),
        (SECOND_DAY, "sale", "cash"),
        (SECOND_DAY, "donation", "card"),
    ]


def test_a_gift_on_top_stands_apart_from_the_piece_on_the_same_day_and_way() -> None:
    event = after(
        line(1, "donation", amount="5", way="card"),
        line(2, piece=FIRST, gift="2", way="card", day=FIRST_DAY),
        line(3, "refund", piece=SECOND, gift="3"),
    )
    received = breakdown_of(PLAN, event.state)
    assert list(received.together.items())[:3] == [
        ((FIRST_DAY, "sale", "card"), Decimal(28)),
        ((FIRST_DAY, "gift", "card"), Decimal(2)),
        ((FIRST_DAY, "gift", "cash"), Decimal(3)),
    ]
    assert received.by_purpose["gift"] == 5


@given(messy_lines())
@settings(deadline=None)
def test_each_part_adds_up_to_the_takings(lines: tuple[Line, ...]) -> None:
    event = after(*lines)
    received = breakdown_of(PLAN, event.state)
    parts = (received.by_kind, received.by_purpose, received.by_way, received.by_day, received.together)
    assert [event.share_out.takings] * 5 == [sum(part.values(), Decimal(0)) for part in parts]
