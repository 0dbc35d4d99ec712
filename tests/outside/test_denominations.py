"""Coins and notes against what their issuers and the Unicode CLDR publish."""

from decimal import Decimal

import pytest
from babel.core import get_global

from salebook.event.denominations import TABLE, denominations_for
from salebook.plan.money import minor_digits


def total(faces: str) -> Decimal:
    return sum((Decimal(face) for face in faces.split()), Decimal(0))


COINS = {
    # Guide to the eight British coins in circulation: one of each is 3.88.
    "GBP": Decimal("3.88"),
    # Bank of Finland, euro coins: 1, 2, 5, 10, 20, 50 cent, 1 and 2 euro.
    "EUR": Decimal("3.88"),
    # USA.gov, American currency (archived 2022): 1, 5, 10, 25, 50 cents and 1 dollar.
    "USD": Decimal("1.91"),
    # Swiss National Bank, Swissmint: 5, 10, 20 rappen, 1/2, 1, 2 and 5 francs.
    "CHF": Decimal("8.85"),
    # Bank of Japan, Japan Mint: 1, 5, 10, 50, 100, 500 yen.
    "JPY": Decimal(666),
    # Royal Canadian Mint: 5, 10, 25, 50 cents, 1 and 2 dollars; no cent is given out any more.
    "CAD": Decimal("3.90"),
    # Royal Australian Mint: 5, 10, 20, 50 cents, 1 and 2 dollars.
    "AUD": Decimal("3.85"),
    # Sveriges Riksbank: 1, 2, 5, 10 kronor.
    "SEK": Decimal(18),
}

NOTES = {
    # Bank of England (from memory): 5, 10, 20, 50.
    "GBP": Decimal(85),
    # Bank of Finland: 5, 10, 20, 50, 100, 200, 500; all legal tender.
    "EUR": Decimal(885),
    # USA.gov, American currency (archived 2022): 1, 2, 5, 10, 20, 50, 100.
    "USD": Decimal(188),
    # Swiss National Bank: 10, 20, 50, 100, 200, 1000.
    "CHF": Decimal(1380),
    # Bank of Japan: 1000, 2000, 5000, 10 000.
    "JPY": Decimal(18_000),
    # Bank of Canada: 5, 10, 20, 50, 100.
    "CAD": Decimal(185),
    # Reserve Bank of Australia: 5, 10, 20, 50, 100.
    "AUD": Decimal(185),
    # Sveriges Riksbank: 20, 50, 100, 200, 500, 1000.
    "SEK": Decimal(1870),
}


@pytest.mark.parametrize("currency", COINS)
def test_one_of_each_coin_adds_up_to_what_the_issuer_strikes(currency: str) -> None:
    assert total(TABLE[currency].coins) == COINS[currency]


@pytest.mark.parametrize("currency", NOTES)
def test_one_of_each_note_adds_up_to_what_the_issuer_prints(currency: str) -> None:
    assert total(TABLE[currency].notes) == NOTES[currency]


@pytest.mark.parametrize("currency", sorted(TABLE))
def test_no_coin_is_smaller_than_the_step_of_cash_by_cldr(currency: str) -> None:
    """Unicode CLDR, supplemental currencyData: _cashDigits and _cashRounding, as babel carries them."""
    fractions = get_global("currency_fractions")
    digits, _rounding, cash_digits, cash_rounding = fractions.get(currency, fractions["DEFAULT"])
    step = Decimal(max(1, cash_rounding)).scaleb(-cash_digits)
    smallest = denominations_for(currency).values[-1]
    assert (smallest >= step, smallest % Decimal(1).scaleb(-digits) == 0) == (True, True)


@pytest.mark.parametrize("currency", ["CAD", "CHF", "DKK"])
def test_the_smallest_coin_is_the_step_to_which_cash_is_rounded(currency: str) -> None:
    """Canada Revenue Agency, Phasing out the penny; Unicode CLDR _cashRounding: CAD 5, CHF 5, DKK 50."""
    step = {"CAD": "0.05", "CHF": "0.05", "DKK": "0.50"}[currency]
    assert denominations_for(currency).values[-1] == Decimal(step)


@pytest.mark.parametrize("currency", sorted(TABLE))
def test_every_coin_and_note_is_whole_in_minor_units(currency: str) -> None:
    units = [face.scaleb(minor_digits(currency)) for face in denominations_for(currency).values]
    assert [unit % 1 for unit in units] == [0] * len(units)
