"""The price of a kilowatt hour, and whether it is one that anybody pays."""

import re
from collections.abc import Sequence
from decimal import Decimal
from typing import Final, NamedTuple

from salebook.base.words import _
from salebook.plan.money import minor_digits
from salebook.plan.quantities import plain
from salebook.start.question import Doubt, Reader, SoFar
from salebook.start.spoken_money import amount_in

GAS: Final = "gas"
USUAL: Final = {
    **{"AUD": "0.33", "BGN": "0.15", "BRL": "0.9", "CAD": "0.15", "CHF": "0.3", "CLP": "180", "CNY": "0.55"},
    **{"COP": "800", "CZK": "6", "DKK": "2.5", "EUR": "0.3", "GBP": "0.28", "HKD": "1.4", "HUF": "40"},
    **{"IDR": "1450", "ILS": "0.6", "INR": "7", "ISK": "18", "JPY": "30", "KES": "28", "KRW": "150"},
    **{"MXN": "2", "MYR": "0.4", "NOK": "1.5", "NZD": "0.33", "PHP": "11", "PLN": "1", "RON": "1.3"},
    **{"SEK": "1.8", "SGD": "0.3", "THB": "4.3", "TRY": "3", "TWD": "3", "UAH": "4.3", "USD": "0.17"},
    **{"VND": "2100", "ZAR": "3.5"},
}
"""About what a kilowatt hour of electricity costs at home (from memory; common practice, no source)."""
UNKNOWN: Final = {0: "30", 2: "0.3", 3: "0.03"}
"""The same by a currency's minor digits, where nothing better is known (judgement)."""
FAR, FARTHER = 5, 50
"""Times as much or as little as usual that nobody pays, and where the usual price is a guess (judgement)."""
GAS_TO_ELECTRICITY: Final = 4
"""How many times as much electricity costs (common practice, no source)."""


class Rate(NamedTuple):
    """What a kilowatt hour costs, of gas or of electricity."""

    price: Decimal
    gas: bool

    def to_text(self) -> str:
        """Say the price, with the word gas behind it."""
        return f"{plain(self.price)} {GAS}" if self.gas else plain(self.price)


def rate_in(text: str, currency: str) -> Rate:
    """Read "28p" or "0.08 gas", which may be finer than the smallest coin; raises UnfitError."""
    bare = re.sub(rf"\s*\b(?:of |for )?{GAS}\b\s*[:,]?", "", text, flags=re.IGNORECASE)
    return Rate(price=amount_in(bare, currency, finer=True), gas=bare != text)


def usual_band(currency: str, *, gas: bool) -> tuple[Decimal, Decimal]:
    """Return the least and the most that people pay for a kilowatt hour, widely taken."""
    usual = Decimal(USUAL.get(currency) or UNKNOWN.get(minor_digits(currency), "0.3"))
    usual = usual / GAS_TO_ELECTRICITY if gas else usual
    far = FAR if currency in USUAL else FARTHER
    return usual / far, usual * far


def _in_words(rate: Rate, so_far: SoFar) -> str:
    says = _("{price} {currency} for a kilowatt hour of electricity")
    if rate.gas:
        says = _("{price} {currency} for a kilowatt hour of gas")
    return says.format(price=plain(rate.price), currency=so_far.currency)


def _doubts(_said: str, rate: Rate, so_far: SoFar) -> Sequence[Doubt]:
    least, most = usual_band(so_far.currency, gas=rate.gas)
    if least <= rate.price <= most:
        return ()
    says = _("People pay from about {least} to {most} {currency} for one. Is {price} {currency} meant?")
    ends = {"least": plain(_short(least)), "most": plain(_short(most))}
    return (Doubt(asks=says.format(price=plain(rate.price), currency=so_far.currency, **ends)),)


def _short(number: Decimal) -> Decimal:
    """Round to two digits that count."""
    return round(number, 1 - number.adjusted())


RATE: Final = Reader(
    read=lambda text, so_far: rate_in(text, so_far.currency),
    words=Rate.to_text,
    in_words=_in_words,
    doubts=_doubts,
)
