"""Rows of text that take the height they need."""

from collections.abc import Sequence
from typing import Final

from openpyxl.worksheet.pagebreak import Break

from salebook.book.figure import Figure
from salebook.book.page import Content, Page
from salebook.book.style import lines_needed

ROOM: Final = 1.1
"""Characters of running text in a column over its width in digits."""
LINE_POINTS: Final = 13.5
"""Height of one line of text, in points."""


def new_page(page: Page) -> None:
    """Let the next free row begin a new page in print."""
    page.sheet.row_breaks.append(Break(page.row - 1))


def fit_height(
    page: Page, row: int, contents: Sequence[tuple[Content, str]], *, first_column: int = 2
) -> None:
    """Make a row as tall as the longest of its texts needs."""
    columns = enumerate(contents, start=first_column)
    grow_height(page, row, *((column, _shown(content)) for column, (content, _style) in columns))


def grow_height(page: Page, row: int, *texts: tuple[int, str]) -> None:
    """Make a row at least as tall as these texts need, each in its column."""
    grow_height_across(page, row, *((column, column, text) for column, text in texts))


def grow_height_across(page: Page, row: int, *texts: tuple[int, int, str]) -> None:
    """Make a row at least as tall as these texts need, each from a first to a last column."""
    lines = max(lines_needed(text, sum(page.widths[first - 1 : last]) * ROOM) for first, last, text in texts)
    dimension = page.sheet.row_dimensions[row]
    dimension.height = max(dimension.height or 0, LINE_POINTS * lines + 3)


def _shown(content: Content) -> str:
    return str(content.value if isinstance(content, Figure) else "" if content is None else content)
