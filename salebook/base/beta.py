"""What is believed of a share, and how sure that is: a beta distribution, updated by counts."""

import math
from dataclasses import dataclass
from decimal import Decimal
from itertools import count
from typing import Final

HALVINGS: Final = 60
"""Steps after which a share lies between two numbers that a computer hardly tells apart."""
CLOSE: Final = 1e-15
TINY: Final = 1e-300
"""Stands for a zero by which a continued fraction would be divided."""


@dataclass(frozen=True)
class Beta:
    """What is believed of a share, as if so many pieces had been counted with it and so many without it.

    Zero on one side stands for a share that is surely 0 or 1.
    """

    with_it: Decimal
    without: Decimal

    @staticmethod
    def believed(share: Decimal, *, worth: Decimal | int) -> "Beta":
        """Return a share that is believed as firmly as if `worth` pieces had been counted."""
        return Beta(share * worth, (1 - share) * worth)

    def updated(self, with_it: Decimal | int, of: Decimal | int) -> "Beta":
        """Return what is believed after so many more of so many were counted."""
        return Beta(self.with_it + with_it, self.without + of - with_it)

    @property
    def mean(self) -> Decimal:
        """The share to expect."""
        return self.with_it / (self.with_it + self.without)

    @property
    def doubt(self) -> float:
        """How much the share without it may vary: its variance by the square of its mean."""
        return float(self.with_it / (self.without * (self.with_it + self.without + 1)))

    def chance_below(self, share: float) -> float:
        """Return the chance that the share is at most so large (the regularised incomplete beta function)."""
        a, b = float(self.with_it), float(self.without)
        if not (a and b and 0 < share < 1):
            return float(share >= 1 or (not a and share >= 0))
        if share > (a + 1) / (a + b + 2):
            return 1 - Beta(self.without, self.with_it).chance_below(1 - share)
        size = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b)
        power = a * math.log(share) + b * math.log1p(-share)
        return math.exp(size + power) / (a * _continued_fraction(a, b, share))

    def quantile(self, chance: float) -> float:
        """Return the share that the true one stays below with such a chance."""
        low, high = 0.0, 1.0
        for _step in range(HALVINGS):
            middle = (low + high) / 2
            low, high = (low, middle) if self.chance_below(middle) >= chance else (middle, high)
        return high if self.with_it else 0.0

    def middle(self, chance: float) -> tuple[float, float]:
        """Return two shares between which the true one lies with such a chance, below and above alike."""
        return self.quantile((1 - chance) / 2), self.quantile((1 + chance) / 2)


def _continued_fraction(a: float, b: float, x: float) -> float:
    """Return the continued fraction by which the incomplete beta function is divided.

    From memory (Abramowitz and Stegun, 26.5.8, by Lentz's method); fast for x below (a + 1) / (a + b + 2).
    """
    value, above, below = 1.0, 0.0, 1.0
    for n in count(1):
        m = n // 2
        odds = -(a + m) * (a + b + m) if n % 2 else m * (b - m)
        term = odds * x / ((a + n - 1) * (a + n))
        above = 1 / (1 + term * above or TINY)
        below = 1 + term / below or TINY
        value *= above * below
        if abs(above * below - 1) < CLOSE:
            break
    return value
