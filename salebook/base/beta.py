"""What is believed of a share, and how sure that is: a beta distribution, updated by counts."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Self


@dataclass(frozen=True)
class Beta:
    """What is believed of a share, as sure as if so many pieces had been counted with it and without it.

    Zero on one side stands for a share that is surely 0 or 1.
    """

    with_it: Decimal
    without: Decimal

    @classmethod
    def believed(cls, share: Decimal, *, worth: Decimal | int) -> Self:
        """Return a share that is believed as firmly as if `worth` pieces had been counted."""
        return cls(share * worth, (1 - share) * worth)

    def updated(self, with_it: Decimal | int, of: Decimal | int) -> "Beta":
        """Return what is believed after so many more of so many were counted."""
        return Beta(self.with_it + with_it, self.without + of - with_it)

    @property
    def mean(self) -> Decimal:
        """The share to expect."""
        return self.with_it / (self.with_it + self.without)
