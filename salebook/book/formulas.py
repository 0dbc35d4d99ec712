"""Pieces of formulas that must come out alike in every spreadsheet program."""

import re
from collections.abc import Sequence
from typing import Final

from openpyxl.utils import get_column_letter

KEY: Final = re.compile(r"\[([a-z_=]+)\]")
"""A column's key as a formula names the cell of its own row: [=price]."""


def placed(formula: str, keys: Sequence[str], *, row: int | str, first_column: int = 2) -> str:
    """Return a formula with the cell of a row in place of each key of a column in square brackets."""
    return KEY.sub(lambda match: f"{get_column_letter(first_column + keys.index(match[1]))}{row}", formula)


def money_rounded(expression: str) -> str:
    """Return a formula that rounds an amount half away from zero to the currency's minor unit.

    The inner rounding takes away floating-point noise, which would tip an exact half the wrong way.
    """
    return f"ROUND(ROUND(({expression})*minor_units,6),0)/minor_units"


def up(expression: str) -> str:
    """Return a formula that rounds up to a whole number, floating-point noise forgiven."""
    return f"ROUNDUP(ROUND({expression},9),0)"


def quoted(text: str) -> str:
    """Return a text as a formula writes it."""
    return '"' + text.replace('"', '""') + '"'
