"""A table of an answer as a page shows it."""

from collections.abc import Sequence

from rich.table import Table
from rich.text import Text

BAR = "\N{FULL BLOCK}"


def cells_of(table: Table) -> Sequence[Sequence[str]]:
    """Return the rows of a table as texts; those that are empty are left out."""
    rows = zip(*(column.cells for column in table.columns), strict=True)
    texts = [[cell.plain if isinstance(cell, Text) else str(cell) for cell in row] for row in rows]
    return [row for row in texts if any(row)]


def is_bar(cell: str) -> bool:
    """Whether a cell is a bar, which says to the eye what a figure beside it says in words."""
    return bool(cell) and not cell.strip(BAR)
