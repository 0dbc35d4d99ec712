"""Where an input stands: found by section and key, as a workbook is read back, never by position."""

import math
from collections.abc import Iterator, Mapping

from openpyxl.utils import coordinate_to_tuple, get_column_letter

from tests.support.cells import Place, Value, values_of

KEPT_BESIDE_LINES = frozenset({"till", "agreed_price", "bundle", "book"})
"""Keys of Takings, grey and locked, that salebook fills in for the line."""

Grid = dict[tuple[int, int], Value]


def input_place(
    xlsx: bytes, sheet: str, section: str, key: str, where: Mapping[str, Value] | None = None
) -> Place:
    """Return the place of an input: `key` of a section, or of the one row of its tables that shows `where`.

    Raises LookupError where no such input stands there, or more than one.
    """
    shown = {place: value for place, value in values_of(xlsx).items() if place[0] == sheet}
    grid = {coordinate_to_tuple(cell): value for (_sheet, cell), value in shown.items()}
    found = list(_in_tables(grid, section, key, where) if where else _alone(grid, section, key))
    if len(found) != 1:
        raise LookupError(f"{sheet}: {len(found)} inputs are {section} {dict(where or {})} {key}")
    return sheet, found[0]


def headings_of(xlsx: bytes, sheet: str, section: str) -> dict[str, str]:
    """Return the headings of a table by key, from left to right; those without a word are left out."""
    shown = {place: value for place, value in values_of(xlsx).items() if place[0] == sheet}
    grid = {coordinate_to_tuple(cell): str(value) for (_sheet, cell), value in shown.items()}
    start = next(row for (row, column), value in grid.items() if column == 1 and value == f"[{section}]")
    keys = sorted((column, key) for (row, column), key in grid.items() if row == start and column > 1)
    words = {key: grid.get((start + 1, column), "").replace("\n", " ") for column, key in keys}
    return {key: heading for key, heading in words.items() if heading}


def _alone(grid: Grid, section: str, key: str) -> Iterator[str]:
    return (
        f"C{row}"
        for (row, column), value in grid.items()
        if column == 1 and _mark(value) == f"{section}.{key}"
    )


def _in_tables(grid: Grid, section: str, key: str, where: Mapping[str, Value]) -> Iterator[str]:
    for start in (row for (row, column), value in grid.items() if column == 1 and value == f"[{section}]"):
        keys = {str(value): column for (row, column), value in grid.items() if row == start}
        shown = {name: _column(keys, name) for name in where}
        if key in keys and all(shown.values()):
            for row in _rows_below(grid, start, section):
                if all(_equal(grid.get((row, shown[name])), value) for name, value in where.items()):
                    yield f"{get_column_letter(keys[key])}{row}"


def _column(keys: Mapping[str, int], name: str) -> int:
    """Return the column that a key names, or one that repeats or works it out; 0 where there is none."""
    return keys.get(name) or keys.get(f"of.{name}") or keys.get(f"={name}") or 0


def _rows_below(grid: Grid, start: int, section: str) -> Iterator[int]:
    """Count the rows of a table; its headings stand between its keys and its first row."""
    row = start + 2
    while f"{_mark(grid.get((row, 1)))}.".startswith(f"{section}."):
        yield row
        row += 1


def _mark(value: Value | None) -> str:
    """Return a row's mark without what it says of the plan's silence."""
    return str(value).partition("?")[0]


def _equal(shown: Value | None, wanted: Value) -> bool:
    if isinstance(shown, float) and not isinstance(wanted, str):
        return math.isclose(shown, float(wanted), abs_tol=1e-9)
    return shown == wanted
