"""A line of takings as a book tells it, to be put together with what other books tell."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, time
from typing import Any

from salebook.event.entries import Entries, Line, LineRows
from salebook.event.lines import bundle_of, days_of, in_bundle, order_of, till_number


@dataclass(frozen=True, kw_only=True)
class TillBook:
    """One of the books: its file and what was filled in."""

    file: str
    till: str
    """The till's own number; empty in a sale's book."""
    entries: Entries
    rows: LineRows = field(default_factory=dict)
    """The row of each line of takings, by its identity."""
    book_id: str = ""
    """Empty where the book has none."""
    first_day: date = date.min
    """The day of lines before which none is typed."""


@dataclass(frozen=True, kw_only=True)
class Told:
    """One line in one of the books."""

    line: Line
    day: date
    """The day that it has there, typed or not."""
    file: str
    row: int
    lines: int
    """How many lines of the same till and book this book has: the later copy has more."""

    def is_later_than(self, other: "Told") -> bool:
        """Whether this is the better copy of a line: with more that salebook filled in, or of later."""
        return (len(self.line.filled_in), self.lines) > (len(other.line.filled_in), other.lines)


def told_in(book: TillBook) -> list[Told]:
    """Return the lines of a book, each with its day there."""
    in_order = sorted(book.entries.lines, key=order_of)
    days = days_of(in_order, book.first_day)
    copies = Counter((line.book, line.till) for line in in_order)
    return [
        Told(
            line=line,
            day=days[order_of(line)][1],
            file=book.file,
            row=book.rows.get(line.identity, 0),
            lines=copies[line.book, line.till],
        )
        for line in in_order
    ]


def is_same(line: Line, other: Line) -> bool:
    """Whether two copies of a line say the same, but for what salebook filled in in one of them."""
    return _as_typed(line, than=other) == _as_typed(other, than=line)


def _as_typed(line: Line, *, than: Line) -> Line:
    only_here: dict[str, Any] = dict.fromkeys(line.filled_in - than.filled_in)
    return replace(line, bundle=None, settled=(), **only_here)


def in_bundles(found: Iterable[Sequence[Told]]) -> list[Told]:
    """Lay lines in bundles, each of one book, in the order of time; `found` are those of one origin.

    Of lines that have one origin all but the first lie in further bundles.
    """
    bundles: dict[tuple[str, str, int], list[Told]] = defaultdict(list)
    for together in found:
        for again, told in enumerate(together):
            bundles[told.line.book, told.line.till, again].append(told)
    tills = {till_number(till) for _book, till, _again in bundles}
    numbers = range(1, len(bundles) + 1)
    laid = [
        replace(told, line=in_bundle(told.line, till_number(told.line.till) if alone else number))
        for alone in [len(tills) == len(bundles)]
        for number, bundle in zip(numbers, sorted(bundles.values(), key=_begins), strict=True)
        for told in bundle
    ]
    return sorted(laid, key=lambda told: order_of(told.line))


def _begins(bundle: Sequence[Told]) -> tuple[Any, ...]:
    first = min(bundle, key=lambda told: (told.day, told.line.at or time.max))
    till = first.line.till
    return first.day, len(till), till, first.line.at or time.max, first.line.book, first.line.number


def with_days(in_order: Iterable[Told], first_day: date) -> list[Told]:
    """Return the lines, each with its day filled in where an empty one would now mean another."""
    carried: dict[int, date] = {}
    dated = []
    for told in in_order:
        line, bundle = told.line, bundle_of(told.line)
        day = carried.get(bundle, first_day)
        if line.day is None and told.day != day and "day" not in dict(line.unread):
            line = replace(line, day=told.day, settled=("day", *line.settled))
        carried[bundle] = line.day or day
        dated.append(replace(told, line=line))
    return dated
