"""Tables on a terminal: in their columns names break between words, figures never."""

from collections.abc import Iterable, Sequence

from rich.cells import cell_len
from rich.console import Console
from rich.table import Column, Table
from rich.text import Text

from salebook.base.words import _

BETWEEN_COLUMNS = 2

SHORTEST_PART = 8
"""A word is broken only where no other column can give way, and never into shorter parts."""


def titled_table(title: str, *columns: str, left: int = 1) -> Table:
    """Return an empty table whose first `left` columns are text and the others figures."""
    table = Table(
        title=title,
        title_justify="left",
        title_style="bold",
        caption_justify="left",
        box=None,
        pad_edge=False,
        header_style="dim",
    )
    for place, column in enumerate(columns):
        table.add_column(column, overflow="fold", justify="left" if place < left else "right")
    return table


def fit_columns(table: Table, width: int) -> None:
    """Set the columns of a table without a frame to widths that fit so many cells.

    Each is at least as wide as its longest word, or its longest figure, or its longest cell where it does
    not wrap; what is left goes first to those that need least of it. Where even that is too wide, the longest
    words are broken.
    """
    # rich takes width from the widest columns first, whether or not a word then breaks.
    room = width - BETWEEN_COLUMNS * (len(table.columns) - 1)
    widths = [_longest_word(column) for column in table.columns]
    while sum(widths) > room and max(widths) > SHORTEST_PART:
        widths[widths.index(max(widths))] -= 1
    lacking = [max(0, _longest(column) - least) for column, least in zip(table.columns, widths, strict=True)]
    for place in sorted(range(len(widths)), key=lacking.__getitem__):
        widths[place] += min(lacking[place], max(0, room - sum(widths)))
        column = table.columns[place]
        column.width = widths[place]
        # A cell without a break would be cut where even the longest words are broken.
        column.no_wrap = column.no_wrap and column.width >= _longest(column)


def show_tables(tables: Iterable[Table], console: Console) -> None:
    """Show tables as wide as they fit, each after an empty line."""
    for table in tables:
        fit_columns(table, console.width)
        console.print()
        console.print(table)


def bar_mark(console: Console) -> str:
    """Return the letter that bars are made of: a full block, where the terminal has it."""
    return "#" if console.options.ascii_only else "\N{FULL BLOCK}"


def add_note_on_guesses(table: Table, guessed: Iterable[bool]) -> None:
    """Say below a table what its question mark means, where any row has one."""
    if any(guessed):
        table.caption = note_on_guesses()


def note_on_guesses() -> str:
    """Say what a question mark behind a figure means."""
    return _("? The plan does not say how many would sell at such prices.")


def _longest(column: Column) -> int:
    return max(map(cell_len, _texts(column)))


def _longest_word(column: Column) -> int:
    """Return the cells of the longest part that is kept whole: a word, but a figure with its unit."""
    heading, *cells = _texts(column)
    is_whole = column.justify == "right" or column.no_wrap
    whole = cells if is_whole else [word for cell in cells for word in cell.split()]
    return max(map(cell_len, (*heading.split(), *whole)), default=0)


def _texts(column: Column) -> Sequence[str]:
    return [each.plain if isinstance(each, Text) else str(each) for each in (column.header, *column.cells)]
