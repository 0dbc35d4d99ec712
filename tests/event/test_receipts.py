from datetime import date, time
from decimal import Decimal
from typing import Any, get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.event.entries import Banked, Entries, GroupPayment, LineKind
from salebook.event.receipts import (
    banked,
    cash_elsewhere,
    in_order_of_time,
    last_line_with_money,
    moments_of,
    money_in,
    paid_to_groups,
    ready_to_pay,
    sampled_lines,
    to_pay,
)
from tests.support.small_event import FIRST_DAY, SECOND_DAY, after, line
from tests.support.sound_sale import event_with, reckoning_with, sale

DAY = date(2027, 5, 8)
LATER = date(2027, 5, 20)
TYPED: list[dict[str, Any]] = [
    sale("VASE-001"),
    sale("VASE-002", way="card", gift=Decimal(2)),
    sale("POT-001", way="card", waiting=True),
    {"kind": "refund", "piece": "VASE-002", "amount": Decimal(4), "way": "card", "day": LATER},
    {"kind": "raffle", "amount": Decimal(30), "way": ""},
]
STANDING = event_with(TYPED).state


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ({}, "64"),
        ({"kind": "sale"}, "38"),
        ({"kind": "refund"}, "-4"),
        ({"kind": "order"}, "0"),
        ({"way": "cash"}, "18"),
        ({"way": "card"}, "16"),
        ({"way": ""}, "30"),
        ({"day": DAY}, "38"),
        ({"day": LATER}, "26"),
        ({"till": "1"}, "64"),
        ({"till": "2"}, "0"),
        ({"day": LATER, "way": "card"}, "-4"),
    ],
)
def test_money_in_is_what_arrived_on_the_lines_asked_for(asked: dict[str, Any], expected: str) -> None:
    assert money_in(STANDING, **asked) == Decimal(expected)


def test_money_by_kind_adds_up_to_all_money() -> None:
    assert sum(money_in(STANDING, kind=kind) for kind in get_args(LineKind)) == money_in(STANDING)


def test_the_last_line_with_money_is_the_last_on_which_money_arrived() -> None:
    lasts = [last_line_with_money(event.state) for event in (event_with(TYPED[:3]), event_with())]
    assert [2, 0] == lasts


def test_lines_of_several_tills_come_one_after_another_in_the_order_of_time() -> None:
    typed = (("1", 1, 10, "5"), ("1", 2, 12, "7"), ("2", 1, 11, "20"), ("2", 2, 13, "1"))
    lines = (
        line(number, "donation", amount=amount, till=till, at=time(hour))
        for till, number, hour, amount in typed
    )
    assert [5, 20, 7, 1] == [line.arrived for line in in_order_of_time(after(*lines).state)]


def test_a_line_without_a_time_follows_the_timed_one_before_it_in_its_till_and_day() -> None:
    typed: tuple[tuple[str, int, date | None, time | None], ...] = (
        ("1", 1, FIRST_DAY, None),
        ("1", 2, None, time(11)),
        ("1", 3, None, None),
        ("1", 4, SECOND_DAY, None),
        ("1", 5, FIRST_DAY, None),
        ("2", 1, FIRST_DAY, None),
    )
    lines = (line(n, "donation", amount="5", till=till, day=day, at=at) for till, n, day, at in typed)
    moments = [(timed.moment, timed.times_before) for timed in moments_of(after(*lines).state)]
    midnight, eleven = time(0), time(11)
    assert moments == [
        ((FIRST_DAY, midnight), 0),
        ((FIRST_DAY, eleven), 1),
        ((FIRST_DAY, eleven), 1),
        ((SECOND_DAY, midnight), 1),
        ((FIRST_DAY, eleven), 1),
        ((FIRST_DAY, midnight), 0),
    ]


def test_cash_on_a_day_without_a_box_is_found() -> None:
    reckoning = reckoning_with()
    typed = [sale("VASE-001"), sale("VASE-003", day=LATER), sale("VASE-002", day=LATER, way="card")]
    event = event_with(typed, reckoning)
    first_box = [box for box in event.cash_ups if box.day == DAY]
    assert cash_elsewhere(reckoning.plan, event.state, first_box) == 18


def test_an_unknown_amount_in_the_bank_counts_for_nothing() -> None:
    entries = Entries(
        banked=(Banked(day=DAY, what="card"), Banked(day=DAY, what="cash", arrived=Decimal(12)))
    )
    assert banked(entries) == 12


@pytest.mark.parametrize(("arrived", "ready"), [("0", "0"), ("50", "30"), ("20", "0"), ("5000", None)])
def test_only_what_is_in_the_bank_and_still_owed_can_be_paid(arrived: str, ready: str | None) -> None:
    event = event_with(
        [{"kind": "raffle", "amount": Decimal(500), "way": "cash"}],
        banked=(Banked(day=DAY, what="cash", arrived=Decimal(arrived)),),
        payments=(GroupPayment(day=DAY, group="Village library", amount=Decimal(20)),),
    )
    expected = to_pay(event.share_out) if ready is None else Decimal(ready)
    assert (ready_to_pay(event.entries, event.share_out), paid_to_groups(event.entries)) == (
        expected,
        Decimal(20),
    )


@given(st.integers(0, 100_000), st.integers(1, 60))
def test_sampled_lines_run_from_none_to_the_last_without_going_back(last: int, points: int) -> None:
    lines = sampled_lines(last, points)
    assert (lines[0], lines[-1], list(lines)) == (0, last, sorted(lines))
