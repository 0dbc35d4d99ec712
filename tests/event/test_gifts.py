import pytest

from salebook.event.entries import Line
from salebook.event.gifts import gifts_of
from tests.support.small_event import FIRST, SECOND, after, line

COUNTED = {
    "nobody": ([], 0),
    "a sale": ([line(1, piece=FIRST)], 0),
    "a sale with a gift on top": ([line(1, piece=FIRST, gift="2")], 1),
    "a gift with the sale above": (
        [line(1, piece=FIRST), line(2, "donation", amount="3", with_above=True)],
        1,
    ),
    "a gift alone": ([line(1, "donation", amount="3")], 1),
    "a raffle ticket": ([line(1, "raffle", amount="1")], 0),
    "a little sale, a little gift on top": ([line(1, piece=FIRST, amount="0.50", gift="0.50")], 1),
    "a little gift alone": ([line(1, "donation", amount="0.50")], 1),
    "no gift at all": ([line(1, "donation", amount="0")], 0),
    "two gifts with the sale above": (
        [
            line(1, piece=FIRST, till="2"),
            line(2, "donation", amount="3", till="2", with_above=True),
            line(3, "donation", amount="3", till="2", with_above=True),
        ],
        1,
    ),
    "the line above at another till": (
        [
            line(1, piece=FIRST, till="1", gift="1"),
            line(1, piece=SECOND, till="2", gift="1", with_above=True),
        ],
        2,
    ),
}


@pytest.mark.parametrize(("lines", "gifts"), COUNTED.values(), ids=COUNTED)
def test_gifts_paid_together_are_one(lines: list[Line], gifts: int) -> None:
    assert gifts_of(after(*lines).state) == gifts
