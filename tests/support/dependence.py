"""What cannot follow a change in a finished workbook: values worked out before, and what rests on them."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from openpyxl.utils import coordinate_to_tuple

from tests.support.cells import Place, Value, formula_cells, plain_values
from tests.support.references import Area, area, parts_of_formula
from tests.support.rules import Opened

Columns = dict[tuple[str, int], int]
"""Cells by sheet and column, a bit for each row."""


class Content(NamedTuple):
    """What stands in a cell: a formula or a plain value."""

    formula: str | None
    value: Value | None


def contents(xlsx: bytes) -> dict[Place, Content]:
    """Return what stands in each cell, stored results left out."""
    plain = {place: Content(None, value) for place, value in plain_values(xlsx).items()}
    return plain | {(f.sheet, f.cell): Content(f.formula, None) for f in formula_cells(xlsx)}


def apart(book: bytes, other: bytes) -> set[Place]:
    """Return the cells that hold other formulas or plain values in one workbook than in the other."""
    here, there = contents(book), contents(other)
    return {place for place in here.keys() | there.keys() if here.get(place) != there.get(place)}


def resting_on(cells: Iterable[Place], book: bytes, *, names: Iterable[str] = ()) -> set[Place]:
    """Return these cells and all formulas that refer to one of them or of the names, directly or not."""
    known = {name.upper(): text for name, text in Opened(book).names.items()}
    needs = {(f.sheet, f.cell): _needs(f.formula, f.sheet, known) for f in formula_cells(book)}
    lost = {name.upper() for name in names}
    reached = set(cells) | {place for place, (_areas, used) in needs.items() if used & lost}
    marked: Columns = {}
    _mark(marked, reached)
    while found := {p for p, (areas, _used) in needs.items() if p not in reached and _touches(areas, marked)}:
        reached |= found
        _mark(marked, found)
    return reached


def first_causes(cells: Iterable[Place], book: bytes) -> set[Place]:
    """Return those of the cells that rest on none of the others."""
    known = {name.upper(): text for name, text in Opened(book).names.items()}
    wrong = set(cells)
    needs = {(f.sheet, f.cell): _needs(f.formula, f.sheet, known)[0] for f in formula_cells(book)}
    marked: Columns = {}
    _mark(marked, wrong)
    return {place for place in wrong if not _touches(needs.get(place, []), marked)} or wrong


def moved_names(book: bytes, other: bytes) -> set[str]:
    """Return the names that stand for other cells in one workbook than in the other."""
    here, there = Opened(book).names, Opened(other).names
    return {name for name in here.keys() | there.keys() if here.get(name) != there.get(name)}


def _needs(formula: str, sheet: str, known: Mapping[str, str]) -> tuple[list[Area], set[str]]:
    operands = parts_of_formula(formula).operands
    used = {operand.upper() for operand in operands}
    areas = (area(known.get(operand.upper(), operand), sheet=sheet) for operand in operands)
    return [cells for cells in areas if cells is not None], used


def _mark(marked: Columns, places: Iterable[Place]) -> None:
    for sheet, cell in places:
        row, column = coordinate_to_tuple(cell)
        marked[sheet, column] = marked.get((sheet, column), 0) | 1 << row


def _touches(areas: Iterable[Area], marked: Columns) -> bool:
    return any(
        marked.get((cells.sheet, column), 0) >> cells.top & (1 << cells.bottom - cells.top + 1) - 1
        for cells in areas
        for column in range(cells.left, cells.right + 1)
    )
