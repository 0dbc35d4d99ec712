"""Sentences that are live formulas, and the same as the model says them."""

from decimal import Decimal
from string import Formatter

from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded, quoted
from salebook.book.page import Page
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


def put_parts(page: Page, **parts: Part) -> dict[str, Part]:
    """Work out the parts of the next row's sentence in cells right of the printed page.

    Returns the parts as the sentence names them: so its formula stays short enough to be read.
    """
    named = {}
    for column, (name, (formula, text)) in enumerate(parts.items(), start=len(page.widths) + 2):
        page.put(page.row, column, Figure(f"={formula}", text), "small text")
        named[name] = (page.address(page.row, column).rpartition("!")[2], text)
    return named


def money_part(formula: str, amount: Decimal, digits: int) -> Part:
    """Return an amount with the currency's digits, without its sign."""
    return _written(money_rounded(formula), amount, digits)


def number_part(formula: str, number: Decimal, digits: int) -> Part:
    """Return a number with so many decimal places; never "-0.00"."""
    return _written(f"ROUND(ROUND(({formula})*{10**digits},6),0)/{10**digits}", number, digits)


def _written(formula: str, number: Decimal, digits: int) -> Part:
    written = rounded(number, digits)
    # Not TEXT(…,"0.00"): programs in other languages do not take that point for a decimal one.
    return f"FIXED({formula},{digits},TRUE)", format(written if written else abs(written), "f")
