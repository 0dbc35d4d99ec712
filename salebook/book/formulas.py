"""Pieces of formulas that must come out alike in every spreadsheet program."""

from collections.abc import Iterable, Sequence
from itertools import groupby


def money_rounded(expression: str) -> str:
    """Return a formula that rounds an amount half away from zero to the currency's minor unit.

    The inner rounding takes away floating-point noise, which would tip an exact half the wrong way.
    """
    return f"ROUND(ROUND(({expression})*minor_units,6),0)/minor_units"


def up(expression: str) -> str:
    """Return a formula that rounds up to a whole number, floating-point noise forgiven."""
    return f"ROUNDUP(ROUND({expression},9),0)"


def is_any_of(cell: str, words: Iterable[str]) -> str:
    """Return a formula that tells whether a cell holds one of several words."""
    return f"OR({','.join(f'{cell}={quoted(word)}' for word in words)})"


def sum_of(column: str, places: Sequence[int]) -> str:
    """Return a formula that adds up cells of a named column by their places, neighbours as one range."""
    found = []
    for _gap, neighbours in groupby(enumerate(places), key=lambda place: place[1] - place[0]):
        first, *_between, last = [n for _at, n in neighbours for _twice in range(2)]
        found.append(f"[{column}@{first}]" if first == last else f"[{column}@{first}]:[{column}@{last}]")
    return f"SUM({','.join(found)})" if found else "0"


def quoted(text: str) -> str:
    """Return a text as a formula writes it."""
    return '"' + text.replace('"', '""') + '"'
