"""Amounts inside sentences that are live formulas, and the same as the model says them."""

from decimal import Decimal

from salebook.book.formulas import money_rounded
from salebook.plan.money import rounded


def money_text(expression: str, digits: int) -> str:
    """Return the formula of an amount as text with the currency's digits, without its sign."""
    return number_text(money_rounded(expression), digits)


def number_text(expression: str, digits: int) -> str:
    """Return the formula of a number as text with so many decimal places."""
    places = "0" + ("." + "0" * digits if digits else "")
    return f'TEXT(ROUND(ROUND(({expression})*{10**digits},6),0)/{10**digits},"{places}")'


def money_words(amount: Decimal, digits: int) -> str:
    """Write a number as `money_text` and `number_text` show it; never "-0.00"."""
    written = rounded(amount, digits)
    return format(written if written else abs(written), "f")
