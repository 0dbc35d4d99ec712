"""Whole numbers from measured ones."""

import math
from decimal import Decimal
from fractions import Fraction

TOLERANCE = Fraction(1, 10**9)
"""What float noise may add or take before a whole number is missed."""


def ceil(amount: Decimal | Fraction | float) -> int:
    """Return the whole number at or above an amount, 1e-9 forgiven."""
    return math.ceil(Fraction(amount) - TOLERANCE)


def floor(amount: Decimal | Fraction | float) -> int:
    """Return the whole number at or below an amount, 1e-9 forgiven."""
    return math.floor(Fraction(amount) + TOLERANCE)
