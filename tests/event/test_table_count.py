from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from salebook.event.event import Event
from salebook.event.table_count import left_on
from tests.event.sales import event_with, sale

FIRST, SECOND = date(2027, 5, 8), date(2027, 5, 9)
NEXT_DAY: dict[str, Any] = {"day": SECOND}


def left(event: Event, evening: date, code: str = "VASE") -> int:
    tally = next(tally for tally in event.standing.tallies if tally.code == code)
    return left_on(event.standing, tally, evening)


ALL = left(event_with(), FIRST)


@pytest.mark.parametrize(
    ("typed", "on_the_first", "on_the_second"),
    [
        ([sale("VASE-001")], -1, -1),
        ([sale("VASE-001", **NEXT_DAY)], 0, -1),
        ([sale("VASE-001"), sale("VASE-002", **NEXT_DAY)], -1, -2),
        ([sale("POT-001")], 0, 0),
        ([sale("VASE-001"), {"kind": "refund", "piece": "VASE-001", "way": "cash"} | NEXT_DAY], -1, 0),
        ([{"kind": "deposit", "piece": "VASE-001", "amount": Decimal(5), "way": "cash"}], -1, -1),
        (
            [
                {"kind": "deposit", "piece": "VASE-001", "amount": Decimal(5), "way": "cash"},
                {"kind": "balance", "piece": "VASE-001", "way": "cash"} | NEXT_DAY,
            ],
            -1,
            -1,
        ),
        ([sale("VASE-900", **NEXT_DAY)], 0, 0),
    ],
)
def test_the_book_knows_what_stood_on_the_table_each_evening(
    typed: list[dict[str, Any]], on_the_first: int, on_the_second: int
) -> None:
    event = event_with(typed)
    assert (left(event, FIRST) - ALL, left(event, SECOND) - ALL) == (on_the_first, on_the_second)


def test_a_code_that_begins_like_another_is_not_counted_with_it() -> None:
    event = event_with([sale("SPN-001", **NEXT_DAY)])
    assert left(event, FIRST, "SPN") == left(event, SECOND, "SPN") + 1
