"""What stands where nothing is read: copies of sheets, a helper's lines pasted on another sheet."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import groupby
from typing import Any, Final, get_args

from salebook.base.words import _
from salebook.book.reading.raw import Cells, Raw
from salebook.book.reading.tables import Tables
from salebook.book.reading.typed import tidy
from salebook.event.entries import LineKind
from salebook.event.question import Question

KINDS: Final[Sequence[str]] = get_args(LineKind)


def questions_not_read(raw: Raw, tables: Tables) -> Iterator[Question]:
    """Ask about what stands where nothing is read: lines of takings, else copies of sheets."""
    astray = list(_on_lines_astray(raw, tables))
    yield from astray
    for sheet in sorted(tables.copies - {question.sheet for question in astray}):
        says = _("this sheet is a copy of another one of this book: what stands in it is not read")
        yield Question(sheet=sheet, row=0, says=says)


def _on_lines_astray(raw: Raw, tables: Tables) -> Iterator[Question]:
    """Ask about rows that look like lines of takings and are not read, once for each run of rows."""
    pieces = (row.get("number") for row in tables.rows("pieces"))
    known = [
        {tidy(name).lower() for name in names} - {""} for names in (pieces, raw.plain("way_names"), KINDS)
    ]
    read = _cells_read(tables)
    for sheet in raw.sheets.values():
        astray = [
            number
            for number, cells in sheet.rows
            if _is_like_a_line(_apart(cells, read.get((sheet.title, number), ())), known)
        ]
        for first, count in _runs(astray):
            says = _(
                "here stand what look like lines of takings, {count} from this row on: they are not read"
            )
            yield Question(sheet=sheet.title, row=first, says=says.format(count=count))


def _cells_read(tables: Tables) -> dict[tuple[str, int], Collection[int]]:
    """Return the columns that are read in each row, by sheet and row."""
    read: dict[tuple[str, int], Collection[int]] = {}
    for section, parts in tables.parts.items():
        for part in parts:
            for row in (*part.rows, *(part.unmarked if section == "takings" else ())):
                read[row.sheet, row.number] = set(row.columns.values())
    return read


def _apart(cells: Cells, read: Collection[int]) -> Iterator[Any]:
    return (value for at, value in cells.items() if at not in read)


def _is_like_a_line(cells: Iterable[Any], known: Sequence[Collection[str]]) -> bool:
    """Whether cells hold two of: a piece, a way to pay, a kind of line; `known` are those of the sale."""
    words = {tidy(value).lower() for value in cells if type(value) is str}
    return sum(not words.isdisjoint(names) for names in known) > 1


def _runs(rows: Iterable[int]) -> Iterator[tuple[int, int]]:
    """Yield the first row and the length of each run of rows that follow one another."""
    for _apart, run in groupby(enumerate(sorted(rows)), key=lambda numbered: numbered[1] - numbered[0]):
        numbers = [row for _place, row in run]
        yield numbers[0], len(numbers)
