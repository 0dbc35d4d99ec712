"""Sharing out by largest remainder against published examples, and the minor digits of currencies."""

from decimal import Decimal

import pytest

from salebook.plan.money import minor_digits, share_out

CONTEMPORARY_MATHEMATICS = "OpenStax, Contemporary Mathematics, section 11.5 (openstax.org)"
NET_MATH = "Usenet NET.math, 15 March 1982, citing the American Mathematical Monthly, December 1978"
CLASS_NOTES = "class notes on Hamilton's method (docest.com/doc/204818); inputs theirs, shares recomputed"
FOUR_CITIES = (
    "homeworksource.com/p/1011606, inputs only: the posted answer for 149 kept the divisor of 148; recomputed"
)
RECOMPUTED = "quotas 3.5, 2.1 and 1.4, recomputed by hand"

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
    ([3, 7, 90], 49, [2, 3, 44], NET_MATH),
    ([3, 7, 90], 51, [1, 4, 46], NET_MATH),
    ([331, 267, 133, 69], 160, [66, 53, 27, 14], CLASS_NOTES),
    ([45300, 31070, 20490, 14160, 10260, 8720], 130, [45, 31, 21, 14, 10, 9], CLASS_NOTES),
    ([33, 33, 34], 10, [3, 3, 4], CLASS_NOTES),
    ([757, 295, 636, 976], 148, [42, 17, 35, 54], FOUR_CITIES),
    ([757, 295, 636, 976], 149, [42, 16, 36, 55], FOUR_CITIES),
    ([50, 30, 20], 7, [4, 2, 1], RECOMPUTED),
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


MONEYPHP = "moneyphp/money, doc/features/allocation.rst (github.com/moneyphp/money)"
RUBYMONEY = "RubyMoney/money, pull request 45 (github.com/RubyMoney/money)"

PENNIES = [
    ("0.05", [70, 30], ["0.04", "0.01"], MONEYPHP),
    ("0.05", [30, 70], ["0.02", "0.03"], MONEYPHP),
    ("8.00", [1, 1, 1], ["2.67", "2.67", "2.66"], MONEYPHP),
    ("1.00", [1, 1, 1], ["0.34", "0.33", "0.33"], RUBYMONEY),
]
"""General-purpose money libraries, whose documents state the tie rule: the one listed first."""


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
