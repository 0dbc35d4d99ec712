"""Cash: what a sum comes to in coins, where small coins are no longer given out."""

from decimal import Decimal

from babel.core import get_global

from salebook.plan.money import in_units, is_currency, rounded


def cash_step(currency: str) -> Decimal:
    """Return the step to which sums paid in cash are rounded, by CLDR: CHF 0.05, SEK 1, GBP 0.01.

    Raises ValueError for a currency that CLDR does not know.
    """
    if not is_currency(currency):
        raise ValueError(f"{currency!r} is not a currency")
    fractions = get_global("currency_fractions")
    _digits, _rounding, cash_digits, cash_rounding = fractions.get(currency, fractions["DEFAULT"])
    return in_units(cash_rounding or 1, cash_digits)


def in_cash(amount: Decimal, currency: str) -> Decimal:
    """Return an amount as it is paid in cash: the nearest step, halves away from zero.

    Raises ValueError for a currency that CLDR does not know.
    """
    step = cash_step(currency)
    return rounded(amount / step, 0) * step
