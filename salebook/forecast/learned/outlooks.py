"""Which kind of day a sale was, and how likely each kind is from now on."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from salebook.forecast.figures import likelihoods_of
from salebook.forecast.state import SaleState
from salebook.plan.model import Outlook

WORTH: Final = 4
"""Sales that the weights in a plan are worth (judgement)."""
DIGITS: Final = 2


@dataclass(frozen=True, kw_only=True)
class DaySeen:
    """What one sale said of one kind of day."""

    outlook: Outlook
    chance: Decimal
    """How likely it was such a day, by what sold."""
    weight: Decimal
    """The weight from now on."""


def days_seen(state: SaleState) -> tuple[DaySeen, ...]:
    """Return how likely each kind of day was, and its weight once this sale is added to those before it.

    Nothing where the plan has one kind only, or what sold fits none.
    """
    likelihoods = likelihoods_of(state)
    whole, before = sum(likelihoods), sum(outlook.weight for outlook in state.outlooks)
    if len(likelihoods) < 2 or not whole:
        return ()
    return tuple(
        DaySeen(
            outlook=outlook,
            chance=likely / whole,
            weight=round(outlook.weight + likely / whole * before / WORTH, DIGITS),
        )
        for outlook, likely in zip(state.outlooks, likelihoods, strict=True)
    )


def factor_of(days: Iterable[DaySeen]) -> Decimal:
    """Return how many times the usual sold on the day that a sale was; 1 where nobody knows its kind."""
    seen = tuple(days)
    return sum((day.chance * day.outlook.factor for day in seen), Decimal(0)) if seen else Decimal(1)
