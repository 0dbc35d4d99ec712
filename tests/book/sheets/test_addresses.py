"""No sheet writes the address of a cell by hand: formulas name what they mean, tables know where they are."""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from string import digits

import pytest

from tests.support.books import book_of_plan, few_free_lines, sample_tables
from tests.support.cells import plain_values
from tests.support.plan_strategies import plan_of

SHEETS = Path(__file__).parents[3] / "salebook" / "book" / "sheets"

CELL = re.compile(r"(?<![\w.$\[])\$?[A-Z]{1,2}\$?[1-9][0-9]*(?![\w.(])")
"""A cell in a text, such as B$7."""
COLUMN = re.compile(r"(?<![\w.$\[])\$?[A-Z]{1,2}\$?$")
"""What ends so before a number that is filled in makes a cell of it, such as the C of f"C{row}"."""
WORDS = {"_", "N_", "ngettext", "pgettext"}


def by_hand(source: str) -> Iterator[str]:
    """Yield every address of a cell that is written or looked up by hand, not those in words for people."""
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr | ast.Call) and _is_for_people(node):
            for inner in ast.walk(node):
                inner.for_people = True  # type: ignore[attr-defined]
    for node in ast.walk(tree):
        if getattr(node, "for_people", False):
            continue
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield from CELL.findall(node.value)
        elif isinstance(node, ast.JoinedStr):
            yield from _columns(node.values)
        elif isinstance(node, ast.Attribute) and node.attr in {"addresses", "places"}:
            yield f".{node.attr}"
        elif isinstance(node, ast.Name) and node.id == "get_column_letter":
            yield node.id


def _is_for_people(node: ast.Expr | ast.Call) -> bool:
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Constant)
    return isinstance(node.func, ast.Name) and node.func.id in WORDS


def _columns(parts: list[ast.expr]) -> Iterator[str]:
    for part, following in pairwise(parts):
        if isinstance(part, ast.Constant) and isinstance(following, ast.FormattedValue):
            yield from COLUMN.findall(str(part.value))


@pytest.mark.parametrize("path", sorted(SHEETS.rglob("*.py")), ids=lambda path: str(path.relative_to(SHEETS)))
def test_a_sheet_writes_no_address_by_hand(path: Path) -> None:
    assert list(by_hand(path.read_text(encoding="utf-8"))) == []


@pytest.mark.parametrize(
    ("source", "found"),
    [
        ('f"=C{row}+[price]"', ["C"]),
        ('f"SUM({first}:$AB${last})"', ["$AB$"]),
        ('cells = "A1:B2"', ["A1", "B2"]),
        ("page.book.addresses['wares', code, 'price']", [".addresses"]),
        ("get_column_letter(3)", ["get_column_letter"]),
        ('f"INDEX(good_counts,{n})*[C7]"', []),
        ('_("on A4 paper")', []),
        ('"""Cell C7."""', []),
        ('f"ISO{n}: LOG10({price})"', []),
    ],
)
def test_addresses_by_hand_are_found(source: str, found: list[str]) -> None:
    assert list(by_hand(source)) == found


@pytest.mark.slow
def test_no_two_sheets_have_a_table_of_the_same_name() -> None:
    sheets: dict[str, set[str]] = defaultdict(set)
    with few_free_lines():
        book = book_of_plan(plan_of(sample_tables("harbour-weekend")))
    for (sheet, place), mark in plain_values(book).items():
        if str(mark).startswith("[") and place.rstrip(digits) == "A":
            sheets[str(mark)].add(sheet)
    assert len(sheets) > 40
    assert {mark for mark, titles in sheets.items() if len(titles) > 1} == set()
