"""Rows of text that take the height they need."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Final

from openpyxl.worksheet.pagebreak import Break

from salebook.book.figure import Figure
from salebook.book.page import Content, Page
from salebook.book.style import lines_needed

ROOM: Final = 1.1
"""Characters of running text in a column over its width in digits."""
LINE_POINTS: Final = 13.5
"""Height of one line of text, in points."""

UNSAID_POINTS: Final = 15.0
"""Height of a row of which nothing is said, at most: as the file says it; some programs make it lower."""

PAPERS: Final = {9: (8.27, 11.69), 1: (8.5, 11.0)}
"""The short and the long side of A4 and Letter, inches, by the file format's number for them."""
PIXELS, BORDER_PIXELS, PIXELS_PER_INCH, POINTS_PER_INCH = 7, 5, 96, 72
"""A column is so many pixels wide for each character, and a little for its border."""


def new_page(page: Page) -> None:
    """Let the next free row begin a new page in print."""
    page.sheet.row_breaks.append(Break(page.row - 1))


@contextmanager
def on_one_page(page: Page) -> Iterator[None]:
    """Let what is written meanwhile begin a new page in print, where it does not fit below what is there."""
    first = page.row
    yield
    room = _points_on_a_page(page)
    begun = 1 + max((brk.id for brk in page.sheet.row_breaks.brk), default=0)
    used, needed = _points(page, begun, first), _points(page, first, page.row)
    if used and used % room + needed > room:
        page.sheet.row_breaks.append(Break(first - 1))


def _points(page: Page, first: int, end: int) -> float:
    shapes = (page.sheet.row_dimensions[row] for row in range(first, end))
    return sum(shape.height or UNSAID_POINTS for shape in shapes if not shape.hidden)


def _points_on_a_page(page: Page) -> float:
    """Return how much stands on a page that is as wide as the columns are made to fit."""
    margins, setup = page.sheet.page_margins, page.sheet.page_setup
    short, long = PAPERS[int(setup.paperSize or 0)]
    across, down = (long, short) if setup.orientation == "landscape" else (short, long)
    width = sum(PIXELS * width + BORDER_PIXELS for width in page.widths[1:]) / PIXELS_PER_INCH
    scale = min(1.0, (across - margins.left - margins.right) / width)
    return (down - margins.top - margins.bottom) / scale * POINTS_PER_INCH


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
