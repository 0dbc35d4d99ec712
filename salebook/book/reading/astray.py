"""What stands where nothing is read: copies of sheets, a helper's lines pasted on another sheet."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Any, Final, get_args

from salebook.base.words import _
from salebook.book.reading.raw import Cells, Formula, Raw
from salebook.book.reading.tables import Table, Tables
from salebook.book.reading.typed import tidy
from salebook.event.entries import LineKind
from salebook.event.question import Question

KINDS: Final = frozenset(get_args(LineKind))


def questions_not_read(raw: Raw, tables: Tables) -> Iterator[Question]:
    """Ask about what stands where nothing is read: lines of takings, else copies of sheets."""
    astray = list(_on_lines_astray(raw, tables))
    yield from astray
    for sheet in sorted(tables.copies - {question.sheet for question in astray}):
        says = _("this sheet is a copy of another one of this book: what stands in it is not read")
        yield Question(sheet=sheet, row=0, says=says)


def _on_lines_astray(raw: Raw, tables: Tables) -> Iterator[Question]:
    """Ask about rows that look like lines of takings and are not read, once for each run of rows."""
    looks = _Looks(
        pieces=frozenset(tidy(row.get("number")).upper() for row in tables.rows("pieces")) - {""},
        ways=frozenset(tidy(way).lower() for way in raw.plain("way_names")) - {""},
    )
    read = _cells_read(tables)
    for sheet in raw.sheets.values():
        astray = [
            number
            for number, cells in sheet.rows
            if looks.like_a_line(
                {at: value for at, value in cells.items() if at not in read.get((sheet.title, number), ())}
            )
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
            for row in (*part.rows, *_also_read(section, part)):
                read[row.sheet, row.number] = set(row.columns.values())
    return read


def _also_read(section: str, part: Table) -> Collection[Any]:
    return part.unmarked if section == "takings" else ()


@dataclass(frozen=True, kw_only=True)
class _Looks:
    pieces: frozenset[str]
    ways: frozenset[str]

    def like_a_line(self, cells: Cells) -> bool:
        """Whether cells hold two of: a piece, a way to pay, a kind of line."""
        words = {
            tidy(value) for value in cells.values() if type(value) is str and not isinstance(value, Formula)
        }
        small = {word.lower() for word in words}
        there = (
            not self.pieces.isdisjoint(word.upper() for word in words),
            not self.ways.isdisjoint(small),
            not KINDS.isdisjoint(small),
        )
        return sum(there) > 1


def _runs(rows: Collection[int]) -> Iterator[tuple[int, int]]:
    """Yield the first row and the length of each run of rows that follow one another."""
    first = last = 0
    for row in sorted(rows):
        if first and row != last + 1:
            yield first, last - first + 1
        first = row if not first or row != last + 1 else first
        last = row
    if first:
        yield first, last - first + 1
