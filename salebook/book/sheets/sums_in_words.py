"""Sentences that are live formulas, and the same as the model says them."""

from decimal import Decimal
from string import Formatter

from salebook.book.formulas import money_rounded, quoted
from salebook.plan.money import rounded

Part = tuple[str, str]
"""A sentence, or what stands in one: its formula, without "=", and its text."""


def live_sentence(says: str, **parts: Part) -> Part:
    """Return a sentence with its {names} filled in."""
    formulas = []
    for words, name, _format, _conversion in Formatter().parse(says):
        formulas += [quoted(words)] if words else []
        formulas += [parts[name][0]] if name else []
    return "&".join(formulas), says.format(**{name: text for name, (_formula, text) in parts.items()})


def money_part(formula: str, amount: Decimal, digits: int) -> Part:
    """Return an amount with the currency's digits, without its sign."""
    return number_part(money_rounded(formula), amount, digits)


def number_part(formula: str, number: Decimal, digits: int) -> Part:
    """Return a number with so many decimal places; never "-0.00"."""
    places = "0" + ("." + "0" * digits if digits else "")
    written = rounded(number, digits)
    return (
        f'TEXT(ROUND(ROUND(({formula})*{10**digits},6),0)/{10**digits},"{places}")',
        format(written if written else abs(written), "f"),
    )
