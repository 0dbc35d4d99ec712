"""Every formula is one that a person can follow: short, with few functions in one another."""

import re
from collections.abc import Iterator

import pytest

from tests.support.cells import formula_cells
from tests.support.sale_strategies import sales_by_chance

LONGEST, MOST_IFS, DEEPEST = 255, 6, 8
"""Characters; IFs in one another; functions in one another."""
SPLIT = {"Takings", "Pieces"}
"""Sheets whose formulas are held to that."""
FUNCTIONS = re.compile(r'"(?:[^"]|"")*"|\'[^\']*\'|(?P<open>[A-Z][A-Z0-9.]*|)\(|(?P<close>\))')


def nested(formula: str) -> Iterator[list[str]]:
    """Yield the functions around each place in a formula, the outermost first."""
    around: list[str] = []
    for found in FUNCTIONS.finditer(formula):
        if found["close"]:
            around.pop()
        elif found["open"] is not None:
            around.append(found["open"])
            yield [function for function in around if function]


@pytest.mark.parametrize(
    ("formula", "ifs", "deep"),
    [("A1", 0, 0), ('IF((A1="IF(IF("),1,IF(SUM(A1),2,3))', 2, 3), ("IF(A1,1,2)+IF(A2,1,2)", 1, 1)],
)
def test_functions_in_one_another_are_counted(formula: str, ifs: int, deep: int) -> None:
    assert (ifs, deep) == (
        max((around.count("IF") for around in nested(formula)), default=0),
        max(map(len, nested(formula)), default=0),
    )


@pytest.mark.slow
@pytest.mark.parametrize("lot", range(4))
def test_formulas_of_takings_and_pieces_are_short_and_shallow(lot: int) -> None:
    books = [sale.book for sale in sales_by_chance(10, lot=lot)]
    formulas = {cell.formula for book in books for cell in formula_cells(book) if cell.sheet in SPLIT}
    assert len(formulas) > 1_000
    long = [formula for formula in formulas if len(formula) > LONGEST]
    deep = [formula for formula in formulas for around in nested(formula) if len(around) > DEEPEST]
    many = [formula for formula in formulas for around in nested(formula) if around.count("IF") > MOST_IFS]
    assert [*long, *deep, *many] == []
