"""Sharing out by largest remainder against published examples, and the minor digits of currencies."""

from decimal import Decimal

import pytest

from salebook.plan.money import minor_digits, share_out

CONTEMPORARY_MATHEMATICS = "OpenStax, Contemporary Mathematics, section 11.5 (openstax.org)"
FIRST_BILL = (
    "the bill on the House of Representatives that was vetoed in 1792: its seats by the U.S. National "
    "Archives, The 1790 Census and the First Veto, and with their quotas in For All Practical Purposes, "
    "10th edition, Macmillan, chapter 14, example 6"
)
WORKED = "quotas 3.5, 2.1 and 1.4, worked by hand"

CENSUS_OF_1790 = {
    "New Hampshire": (141_822, 5),
    "Massachusetts": (475_327, 16),
    "Vermont": (85_533, 3),
    "Rhode Island": (68_446, 2),
    "Connecticut": (236_841, 8),
    "New York": (331_589, 11),
    "New Jersey": (179_570, 6),
    "Pennsylvania": (432_879, 14),
    "Delaware": (55_540, 2),
    "Maryland": (278_514, 9),
    "Virginia": (630_560, 21),
    "Kentucky": (68_705, 2),
    "North Carolina": (353_523, 12),
    "South Carolina": (206_236, 7),
    "Georgia": (70_835, 2),
}
"""People counted for the apportionment (they give the book's quotas), and the members of each state."""

STATES = CENSUS_OF_1790.values()

APPORTIONMENTS = [
    ([6, 6, 2], 10, [4, 4, 2], CONTEMPORARY_MATHEMATICS),
    ([6, 6, 2], 11, [5, 5, 1], CONTEMPORARY_MATHEMATICS),
    ([825, 613, 239], 18, [9, 7, 2], CONTEMPORARY_MATHEMATICS),
    ([882, 626, 242], 18, [9, 6, 3], CONTEMPORARY_MATHEMATICS),
    ([894, 696, 215], 38, [19, 15, 4], CONTEMPORARY_MATHEMATICS),
    ([953, 706, 218], 38, [19, 14, 5], CONTEMPORARY_MATHEMATICS),
    ([7100, 9080], 90, [39, 51], CONTEMPORARY_MATHEMATICS),
    ([7100, 9080, 1500], 98, [40, 50, 8], CONTEMPORARY_MATHEMATICS),
    ([700, 937], 90, [38, 52], CONTEMPORARY_MATHEMATICS),
    ([700, 937, 170], 99, [39, 51, 9], CONTEMPORARY_MATHEMATICS),
    ([people for people, _ in STATES], 120, [members for _, members in STATES], FIRST_BILL),
    ([50, 30, 20], 7, [4, 2, 1], WORKED),
]


@pytest.mark.parametrize(("parts", "seats", "shares", "source"), APPORTIONMENTS)
def test_seats_are_shared_out_as_published(
    parts: list[int], seats: int, shares: list[int], source: str
) -> None:
    assert shares == [int(share) for share in share_out(Decimal(seats), parts, 0)], source


def test_a_share_may_shrink_when_the_total_grows() -> None:
    """The Alabama paradox, in the nature of the method: OpenStax, Contemporary Mathematics, section 11.5."""
    ten, eleven = share_out(Decimal(10), [6, 6, 2], 0), share_out(Decimal(11), [6, 6, 2], 0)
    assert eleven[2] < ten[2]


FOWLER = (
    "Patterns of Enterprise Application Architecture, Addison-Wesley, 2002, Money, p. 488 to 495 (read in "
    "tests of libraries that follow it); it hands what is left over to the first, here to the same ones"
)
MONEYPHP = "general-purpose library moneyphp/money, doc/features/allocation.rst"

PENNIES = [
    ("0.05", [70, 30], ["0.04", "0.01"], FOWLER),
    ("0.05", [30, 70], ["0.02", "0.03"], FOWLER),
    ("1.00", [1, 1, 1], ["0.34", "0.33", "0.33"], FOWLER),
    ("8.00", [1, 1, 1], ["2.67", "2.67", "2.66"], MONEYPHP),
]
"""Where two have an equal claim to the last penny, it goes to the one listed first."""


@pytest.mark.parametrize(("amount", "parts", "shares", "source"), PENNIES)
def test_pennies_are_shared_out_as_published(
    amount: str, parts: list[int], shares: list[str], source: str
) -> None:
    assert shares == [str(share) for share in share_out(Decimal(amount), parts, 2)], source


@pytest.mark.parametrize(
    ("currency", "digits"),
    [
        *(("GBP", 2), ("EUR", 2), ("USD", 2), ("CHF", 2)),
        *(("JPY", 0), ("KRW", 0), ("VND", 0), ("CLP", 0)),
        *(("KWD", 3), ("BHD", 3), ("JOD", 3), ("OMR", 3), ("TND", 3)),
    ],
)
def test_the_minor_digits_of_a_currency_are_those_of_cldr(currency: str, digits: int) -> None:
    """Unicode CLDR 45, supplemental/currencyData.json, `_digits` (agrees with ISO 4217 for these)."""
    assert digits == minor_digits(currency)
