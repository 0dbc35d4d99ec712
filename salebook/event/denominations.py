"""The coins and notes of a currency, for counting the cash box."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from salebook.plan.money import in_units, minor_digits


@dataclass(frozen=True, kw_only=True)
class Denominations:
    """Face values, largest first, in the currency's own unit; `source` says in words where they come from."""

    values: tuple[Decimal, ...]
    source: str
    known: bool
    """False where the currency is not listed here and a usual series stands in."""


@dataclass(frozen=True, kw_only=True)
class Issue:
    """What is in circulation in one currency: face values smallest first, and who issues them."""

    coins: str
    notes: str
    issuer: str

    @property
    def values(self) -> tuple[Decimal, ...]:
        """All face values, largest first; a value that is both coin and note stands once."""
        faces = {Decimal(face) for face in f"{self.coins} {self.notes}".split()}
        return tuple(sorted(faces, reverse=True))


TABLE: Final = {
    "GBP": Issue(
        coins="0.01 0.02 0.05 0.10 0.20 0.50 1 2",
        notes="5 10 20 50",
        issuer="The Royal Mint; Bank of England",
    ),
    "EUR": Issue(
        coins="0.01 0.02 0.05 0.10 0.20 0.50 1 2",
        notes="5 10 20 50 100 200 500",
        issuer="Bank of Finland, European Central Bank; the 500 note is legal tender but no longer issued",
    ),
    "USD": Issue(
        coins="0.01 0.05 0.10 0.25 0.50 1",
        notes="1 2 5 10 20 50 100",
        issuer="USA.gov, American currency (2022)",
    ),
    "CHF": Issue(
        coins="0.05 0.10 0.20 0.50 1 2 5",
        notes="10 20 50 100 200 1000",
        issuer="Swiss National Bank; Swissmint",
    ),
    "JPY": Issue(
        coins="1 5 10 50 100 500",
        notes="1000 2000 5000 10000",
        issuer="Bank of Japan; Japan Mint",
    ),
    "CAD": Issue(
        coins="0.05 0.10 0.25 0.50 1 2",
        notes="5 10 20 50 100",
        issuer="Royal Canadian Mint; Bank of Canada (the cent is no longer given out since 4 February 2013)",
    ),
    "AUD": Issue(
        coins="0.05 0.10 0.20 0.50 1 2",
        notes="5 10 20 50 100",
        issuer="Royal Australian Mint; Reserve Bank of Australia",
    ),
    "NZD": Issue(
        coins="0.10 0.20 0.50 1 2",
        notes="5 10 20 50 100",
        issuer="Reserve Bank of New Zealand",
    ),
    "SEK": Issue(coins="1 2 5 10", notes="20 50 100 200 500 1000", issuer="Sveriges Riksbank"),
    "NOK": Issue(coins="1 5 10 20", notes="50 100 200 500 1000", issuer="Norges Bank"),
    "DKK": Issue(
        coins="0.50 1 2 5 10 20",
        notes="50 100 200 500",
        issuer="Danmarks Nationalbank (the 1000 note is withdrawn)",
    ),
    "PLN": Issue(
        coins="0.01 0.02 0.05 0.10 0.20 0.50 1 2 5",
        notes="10 20 50 100 200 500",
        issuer="Narodowy Bank Polski",
    ),
    "CZK": Issue(
        coins="1 2 5 10 20 50",
        notes="100 200 500 1000 2000 5000",
        issuer="Czech National Bank",
    ),
    "ZAR": Issue(
        coins="0.10 0.20 0.50 1 2 5",
        notes="10 20 50 100 200",
        issuer="South African Reserve Bank",
    ),
}
"""Coins and notes that a cash box may hold, by currency. Values change: the plan's own list always wins."""

USUAL_DECADES: Final = 5
USUAL_FACES: Final = (1, 2, 5)


def denominations_for(currency: str, given: Sequence[Decimal] = ()) -> Denominations:
    """Return the coins and notes to count: the plan's, else those of the currency, else a usual series.

    Raises ValueError for a currency that CLDR does not know and neither the list nor the plan helps with.
    """
    if given:
        return Denominations(values=_largest_first(given), source="sale.denominations", known=True)
    issue = TABLE.get(currency)
    if issue:
        return Denominations(values=issue.values, source=issue.issuer, known=True)
    return Denominations(values=_usual_series(minor_digits(currency)), source="", known=False)


def _largest_first(faces: Sequence[Decimal]) -> tuple[Decimal, ...]:
    return tuple(sorted(set(faces), reverse=True))


def _usual_series(digits: int) -> tuple[Decimal, ...]:
    """Return 1, 2, 5, 10 … from the smallest unit over five decades: with two digits 0.01 … 500."""
    units = [face * 10**decade for decade in range(USUAL_DECADES) for face in USUAL_FACES]
    return tuple(in_units(unit, digits) for unit in reversed(units))
