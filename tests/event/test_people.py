import pytest

from salebook.event.entries import Line
from salebook.event.people import people_of
from tests.support.small_event import FIRST, SECOND, after, line

COUNTED = {
    "nobody": ([], 0, 0),
    "a sale": ([line(1, piece=FIRST)], 1, 0),
    "two sales in one payment": ([line(1, piece=FIRST), line(2, piece=SECOND, with_above=True)], 1, 0),
    "a sale with a gift on top": ([line(1, piece=FIRST, gift="2")], 1, 1),
    "a gift with the sale above": (
        [line(1, piece=FIRST), line(2, "donation", amount="3", with_above=True)],
        1,
        1,
    ),
    "a gift alone": ([line(1, "donation", amount="3")], 0, 1),
    "deposit and balance": (
        [line(1, "deposit", FIRST, "5"), line(2, "raffle", amount="1"), line(3, "balance", FIRST)],
        1,
        0,
    ),
    "an order": ([line(1, "order", "MAY", count=2, claim="7")], 1, 0),
    "an order and its piece when it is fetched": (
        [line(1, "order", "MAY", "5", claim="7"), line(2, piece=FIRST, amount="23", claim="7")],
        1,
        0,
    ),
    "a refund and a raffle ticket": (
        [line(1, "refund", FIRST, "1"), line(2, "raffle", amount="1")],
        0,
        0,
    ),
    "a little sale, a little gift on top": ([line(1, piece=FIRST, amount="0.50", gift="0.50")], 1, 1),
    "a little money for an unknown piece": ([line(1, piece="MAY-900", amount="0.50")], 1, 0),
    "a piece handed over for nothing": ([line(1, piece=FIRST, amount="0")], 1, 0),
    "a little gift alone": ([line(1, "donation", amount="0.50")], 0, 1),
    "no gift at all": ([line(1, "donation", amount="0")], 0, 0),
    "two gifts with the sale above": (
        [
            line(1, piece=FIRST, till="2"),
            line(2, "donation", amount="3", till="2", with_above=True),
            line(3, "donation", amount="3", till="2", with_above=True),
        ],
        1,
        1,
    ),
    "a sale that no piece belongs to": ([line(1, "sale", "MAY-900")], 0, 0),
    "the line above at another till": (
        [line(1, piece=FIRST, till="1"), line(1, piece=SECOND, till="2", with_above=True)],
        2,
        0,
    ),
}


@pytest.mark.parametrize(("lines", "purchases", "gifts"), COUNTED.values(), ids=COUNTED)
def test_purchases_and_gifts_are_counted_once(lines: list[Line], purchases: int, gifts: int) -> None:
    people = people_of(after(*lines).state)
    assert (purchases, gifts) == (people.purchases, people.gifts)
