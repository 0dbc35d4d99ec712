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

    @property
    def known(self) -> bool:
        """Whether they have a source: a usual series stands in for a currency that is not listed here."""
        return bool(self.source)


@dataclass(frozen=True)
class Issue:
    """What is in circulation in one currency: face values smallest first, and who issues them."""

    coins: str
    notes: str
    issuer: str

    @property
    def values(self) -> list[Decimal]:
        """All face values; one that is both coin and note stands twice."""
        return [Decimal(face) for face in f"{self.coins} {self.notes}".split()]


TABLE: Final = {
    "GBP": Issue("0.01 0.02 0.05 0.10 0.20 0.50 1 2", "5 10 20 50", "The Royal Mint; Bank of England"),
    "EUR": Issue(
        "0.01 0.02 0.05 0.10 0.20 0.50 1 2",
        "5 10 20 50 100 200 500",
        "Bank of Finland, European Central Bank; the 500 note is legal tender but no longer issued",
    ),
    "USD": Issue("0.01 0.05 0.10 0.25 0.50 1", "1 2 5 10 20 50 100", "USA.gov, American currency (2022)"),
    "CHF": Issue("0.05 0.10 0.20 0.50 1 2 5", "10 20 50 100 200 1000", "Swiss National Bank; Swissmint"),
    "JPY": Issue("1 5 10 50 100 500", "1000 2000 5000 10000", "Bank of Japan; Japan Mint"),
    "CAD": Issue(
        "0.05 0.10 0.25 0.50 1 2",
        "5 10 20 50 100",
        "Royal Canadian Mint; Bank of Canada (the cent is no longer given out since 4 February 2013)",
    ),
    "AUD": Issue(
        "0.05 0.10 0.20 0.50 1 2", "5 10 20 50 100", "Royal Australian Mint; Reserve Bank of Australia"
    ),
    "NZD": Issue("0.10 0.20 0.50 1 2", "5 10 20 50 100", "Reserve Bank of New Zealand"),
    "SEK": Issue("1 2 5 10", "20 50 100 200 500 1000", "Sveriges Riksbank"),
    "NOK": Issue("1 5 10 20", "50 100 200 500 1000", "Norges Bank"),
    "DKK": Issue("0.50 1 2 5 10 20", "50 100 200 500", "Danmarks Nationalbank (the 1000 note is withdrawn)"),
    "PLN": Issue("0.01 0.02 0.05 0.10 0.20 0.50 1 2 5", "10 20 50 100 200 500", "Narodowy Bank Polski"),
    "CZK": Issue("1 2 5 10 20 50", "100 200 500 1000 2000 5000", "Czech National Bank"),
    "ZAR": Issue("0.10 0.20 0.50 1 2 5", "10 20 50 100 200", "South African Reserve Bank"),
}
"""Coins and notes that a cash box may hold, by currency. Values change: the plan's own list always wins."""

USUAL_UNITS: Final = [face * 10**decade for decade in range(5) for face in (1, 2, 5)]
"""1, 2, 5, 10 … smallest units over five decades: with two digits 0.01 … 500."""


def denominations_for(currency: str, given: Sequence[Decimal] = ()) -> Denominations:
    """Return the coins and notes to count: the plan's, else those of the currency, else a usual series.

    Raises ValueError for a currency that CLDR does not know and neither the list nor the plan helps with.
    """
    issue, source = TABLE.get(currency), ""
    if given:
        values, source = list(given), "sale.denominations"
    elif issue:
        values, source = issue.values, issue.issuer
    else:
        values = [in_units(units, minor_digits(currency)) for units in USUAL_UNITS]
    return Denominations(values=tuple(sorted(set(values), reverse=True)), source=source)
