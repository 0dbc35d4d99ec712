"""Sums paid in cash where the smallest coins are gone, against public bodies and the Unicode CLDR."""

from decimal import Decimal

import pytest
from babel.core import get_global

from salebook.plan.money import cash_step, format_money, in_cash
from tests.support.cldr import money

CANADA = "Canada Revenue Agency, Phasing out the penny: endings 1, 2, 6, 7 down, 3, 4, 8, 9 up, 0 and 5 stay"
QUEBEC = "the consumer office of Quebec, on the same rule"
CLDR = "Unicode CLDR 45, supplemental/currencyData.json, _cashRounding and _cashDigits"
RIKSBANK = "Sveriges Riksbank: no coin below 1 krona since October 2010 (from memory); CLDR: _cashDigits 0"
ROUNDED = [
    *[("CAD", f"1.0{cents}", "1.00", CANADA) for cents in (0, 1, 2)],
    *[("CAD", f"1.0{cents}", "1.05", CANADA) for cents in (3, 4, 5, 6, 7)],
    *[("CAD", f"1.0{cents}", "1.10", CANADA) for cents in (8, 9)],
    ("CAD", "5.98", "6.00", QUEBEC),
    ("CAD", "5.97", "5.95", QUEBEC),
    ("CHF", "10.02", "10.00", CLDR),
    ("CHF", "10.03", "10.05", CLDR),
    ("DKK", "10.20", "10.00", CLDR),
    ("DKK", "10.30", "10.50", CLDR),
    ("SEK", "10.49", "10", RIKSBANK),
    ("SEK", "10.50", "11", RIKSBANK),
    ("GBP", "10.03", "10.03", CLDR),
    ("JPY", "1234", "1234", CLDR),
    ("KWD", "1.234", "1.234", CLDR),
]


@pytest.mark.parametrize(("currency", "amount", "cash", "source"), ROUNDED)
def test_a_sum_is_rounded_in_cash_as_published(currency: str, amount: str, cash: str, source: str) -> None:
    assert Decimal(cash) == in_cash(Decimal(amount), currency), source


@pytest.mark.parametrize("currency", ["CAD", "CHF", "DKK", "SEK", "GBP", "JPY", "KWD"])
def test_the_steps_of_cash_are_those_of_cldr(currency: str) -> None:
    """Unicode CLDR, supplemental currencyData: `_cashRounding` and `_cashDigits`, as babel carries them."""
    fractions = get_global("currency_fractions")
    _digits, _rounding, cash_digits, cash_rounding = fractions.get(currency, fractions["DEFAULT"])
    assert Decimal(max(1, cash_rounding)).scaleb(-cash_digits) == cash_step(currency)


@pytest.mark.parametrize(
    ("currency", "amount", "written"),
    [("JPY", "1234", "1,234"), ("GBP", "12.34", "12.34"), ("KWD", "1.234", "1.234")],
)
def test_a_sum_is_written_with_its_currencys_digits(currency: str, amount: str, written: str) -> None:
    """1 234 minor units: Unicode CLDR 45, `_digits` (ISO 4217 agrees); the signs as babel has them."""
    assert money(written, currency, "en_US") == format_money(Decimal(amount), currency, "en_US")
