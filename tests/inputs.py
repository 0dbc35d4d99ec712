"""Where an input stands: found by section and key, as a workbook is read back, never by position."""

from collections.abc import Iterator

from openpyxl.utils import coordinate_to_tuple, get_column_letter

from tests.cells import Place, Value, plain_values, values_of

IDENTITIES = ("code", "=code", "name", "number", "line")
"""Keys whose value tells one row of a table from the others."""

Grid = dict[tuple[int, int], Value]


def input_place(xlsx: bytes, sheet: str, section: str, key: str, *, record: str | int = "") -> Place:
    """Return the place of an input: `key` of a section's record, or of the section itself.

    Raises LookupError where there is no such input, or where two stand for it.
    """
    grid = _grid(xlsx, sheet)
    found = list(_in_table(grid, section, key, record) if record != "" else _alone(grid, section, key))
    if len(found) != 1:
        raise LookupError(f"{sheet}: {len(found)} inputs are {section} {record} {key}")
    return sheet, found[0]


def _grid(xlsx: bytes, sheet: str) -> Grid:
    shown = {place: value for place, value in values_of(xlsx).items() if place[0] == sheet}
    typed = plain_values(xlsx)
    keys = {place: value for place, value in shown.items() if place in typed or not place[1].startswith("A")}
    return {coordinate_to_tuple(cell): value for (_sheet, cell), value in keys.items()}


def _alone(grid: Grid, section: str, key: str) -> Iterator[str]:
    return (f"C{row}" for (row, column), value in grid.items() if column == 1 and value == f"{section}.{key}")


def _in_table(grid: Grid, section: str, key: str, record: str | int) -> Iterator[str]:
    for start in (row for (row, column), value in grid.items() if column == 1 and value == f"[{section}]"):
        columns = {str(value): column for (row, column), value in grid.items() if row == start and column > 1}
        if key not in columns:
            continue
        identities = [columns[name] for name in IDENTITIES if name in columns]
        for row in _rows_below(grid, start, section):
            if any(grid.get((row, column)) == record for column in identities[:1]):
                yield f"{get_column_letter(columns[key])}{row}"


def _rows_below(grid: Grid, start: int, section: str) -> Iterator[int]:
    """Count the rows of a table; its headings stand between its keys and its first row."""
    row = start + 2
    while grid.get((row, 1)) == section:
        yield row
        row += 1
