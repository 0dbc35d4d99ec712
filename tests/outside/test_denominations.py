"""Coins and notes against what their issuers and the Unicode CLDR publish, one of each added up."""

from decimal import Decimal

import pytest
from babel.core import get_global

from salebook.event.denominations import TABLE, denominations_for
from salebook.plan.money import minor_digits


def total(faces: str) -> Decimal:
    return sum((Decimal(face) for face in faces.split()), Decimal(0))


COINS = {
    # The Royal Mint's eight coins in circulation: 1, 2, 5, 10, 20, 50 pence, 1 and 2 pounds (read in a copy).
    "GBP": Decimal("3.88"),
    # Bank of Finland, euro coins: 1, 2, 5, 10, 20, 50 cent, 1 and 2 euro.
    "EUR": Decimal("3.88"),
    # USA.gov, American currency (archived 2022): 1, 5, 10, 25, 50 cents and 1 dollar.
    "USD": Decimal("1.91"),
    # Swissmint: 5, 10, 20 rappen, 1/2, 1, 2 and 5 francs (read in an encyclopaedia).
    "CHF": Decimal("8.85"),
    # Japan Mint: 1, 5, 10, 50, 100, 500 yen (read in an encyclopaedia).
    "JPY": Decimal(666),
    # Royal Canadian Mint: 5, 10, 25, 50 cents, 1 and 2 dollars (read in an encyclopaedia).
    "CAD": Decimal("3.90"),
    # Royal Australian Mint: 5, 10, 20, 50 cents, 1 and 2 dollars (read in an encyclopaedia).
    "AUD": Decimal("3.85"),
    # Sveriges Riksbank: 1, 2 and 5 kronor by its regulation 2014:84, and the older 10 kronor, still valid.
    "SEK": Decimal(18),
    # Danmarks Nationalbank, Danish coins (nationalbanken.dk): 50 øre, 1, 2, 5, 10 and 20 kroner.
    "DKK": Decimal("38.50"),
    # Czech National Bank, Structure of currency in circulation (cnb.cz): 1 to 50; smaller ones are withdrawn.
    "CZK": Decimal(88),
    # Reserve Bank of New Zealand: 10, 20, 50 cents, 1 and 2 dollars (read in an encyclopaedia).
    "NZD": Decimal("3.80"),
    # Norges Bank: 1, 5, 10, 20 kroner (read in an encyclopaedia).
    "NOK": Decimal(36),
    # Narodowy Bank Polski: 1, 2, 5, 10, 20, 50 groszy, 1, 2, 5 zł (read in an encyclopaedia).
    "PLN": Decimal("8.88"),
    # South African Reserve Bank: 10, 20, 50 cents, 1, 2, 5 rand (read in advice on bank bags).
    "ZAR": Decimal("8.80"),
}

NOTES = {
    # Bank of England, Current banknotes (bankofengland.co.uk/banknotes): 5, 10, 20, 50.
    "GBP": Decimal(85),
    # Bank of Finland: 5, 10, 20, 50, 100, 200, 500; all legal tender.
    "EUR": Decimal(885),
    # USA.gov, American currency (archived 2022): 1, 2, 5, 10, 20, 50, 100.
    "USD": Decimal(188),
    # Swiss National Bank, The transition to a new banknote series (snb.ch): 10, 20, 50, 100, 200, 1000.
    "CHF": Decimal(1380),
    # Bank of Japan: 1000, 2000, 5000, 10 000 (read in an encyclopaedia).
    "JPY": Decimal(18_000),
    # Bank of Canada: 5, 10, 20, 50, 100 (read in an encyclopaedia).
    "CAD": Decimal(185),
    # Reserve Bank of Australia, leaflet Australia's Banknotes (read in a copy): 5, 10, 20, 50, 100.
    "AUD": Decimal(185),
    # Sveriges Riksbank, 2016, New banknotes and coins: with a new 200; 20, 50, 100, 500, 1000 in older pages.
    "SEK": Decimal(1870),
    # Danmarks Nationalbank: 50, 100, 200, 500 (read in a table); the 1000 is withdrawn, from memory.
    "DKK": Decimal(850),
    # Czech National Bank, Structure of currency in circulation (cnb.cz): 100 to 5000; smaller are withdrawn.
    "CZK": Decimal(8800),
    # Reserve Bank of New Zealand: 5, 10, 20, 50, 100 (read in an encyclopaedia).
    "NZD": Decimal(185),
    # Norges Bank: 50, 100, 200, 500, 1000 (read in an encyclopaedia).
    "NOK": Decimal(1850),
    # Narodowy Bank Polski: 10, 20, 50, 100, 200, 500 (read in an encyclopaedia).
    "PLN": Decimal(880),
    # South African Reserve Bank: 10, 20, 50, 100, 200 (read in a news report of 13 June 2018).
    "ZAR": Decimal(380),
}


def test_every_currency_of_the_table_is_held_against_a_source() -> None:
    assert TABLE.keys() == COINS.keys() == NOTES.keys()


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
