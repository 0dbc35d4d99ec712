from decimal import Decimal
from fractions import Fraction

import pytest

from salebook.base.rounding import ceil, floor


@pytest.mark.parametrize(
    ("amount", "expected"),
    [
        (Decimal("2.000000001"), 2),
        (Decimal("2.0000000011"), 3),
        (Decimal(2), 2),
        (Decimal("2.1"), 3),
        (0.1 + 0.2, 1),
        (3 * 0.1 * 10, 3),
        (Fraction(7, 2), 4),
        (0, 0),
    ],
)
def test_up_forgives_float_noise_and_nothing_more(amount: Decimal | Fraction | float, expected: int) -> None:
    assert ceil(amount) == expected


@pytest.mark.parametrize(
    ("amount", "expected"),
    [(Decimal("1.999999999"), 2), (Decimal("1.9999999989"), 1), (Decimal("1.9"), 1), (2.9999999999999996, 3)],
)
def test_down_forgives_float_noise_and_nothing_more(amount: Decimal | float, expected: int) -> None:
    assert floor(amount) == expected
