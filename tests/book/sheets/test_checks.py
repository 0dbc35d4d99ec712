from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from salebook.book.sheets.checks import checks_of
from salebook.event.entries import Banked, DayCount, GroupPayment, TableCount
from tests.support.sound_sale import event_with, reckoning_with, sale

DAY = date(2027, 5, 8)


def troubles(typed: list[dict[str, Any]], **entries: Any) -> list[str]:
    reckoning = reckoning_with()
    event = event_with(typed, reckoning, **entries)
    return [check.looks_at for check in checks_of(reckoning, event) if not check.holds]


def test_before_the_sale_every_check_says_ok() -> None:
    reckoning = reckoning_with()
    states = [check.figure.value for check in checks_of(reckoning, event_with((), reckoning))]
    assert states == ["OK"] * len(states)


@pytest.mark.parametrize(
    ("typed", "entries", "looks_at"),
    [
        ([sale("VASE-900")], {}, "No line of takings needs a look"),
        ([{"kind": "raffle", "amount": Decimal(900), "way": ""}], {}, "All money has a way to pay"),
        ([sale("VASE-001")], {}, "Takings meet the costs"),
        (
            [sale("VASE-001")],
            {"cash": (DayCount(day=DAY, counts={Decimal(10): 1}),)},
            "Cash boxes agree with the takings",
        ),
        (
            [sale("VASE-001")],
            {"table_counts": (TableCount(day=DAY, code="VASE", counted=0),)},
            "The last count of the table agrees with the book",
        ),
        (
            [sale("VASE-001")],
            {"banked": (Banked(day=DAY, what="cash", arrived=Decimal(20)),)},
            "The bank has what was taken",
        ),
        (
            [],
            {"payments": (GroupPayment(day=DAY, group="Village library", amount=Decimal(1)),)},
            "No group was paid too much",
        ),
    ],
)
def test_what_is_wrong_is_seen(typed: list[dict[str, Any]], entries: dict[str, Any], looks_at: str) -> None:
    assert looks_at in troubles(typed, **entries)


def test_a_check_that_fails_says_what_is_wrong_instead_of_ok() -> None:
    reckoning = reckoning_with()
    checks = checks_of(reckoning, event_with([sale("VASE-900")], reckoning))
    assert {check.figure.value for check in checks if not check.holds} >= {"Lines carry a remark"}


def test_unknown_coins_are_a_check_of_their_own() -> None:
    reckoning = reckoning_with((("sale", "currency"), "MXN"))
    checks = checks_of(reckoning, event_with((), reckoning))
    assert [check.looks_at for check in checks if not check.holds] == ["Coins and notes are known"]
