"""The lines of takings of a workbook."""

from collections import defaultdict
from collections.abc import Callable, Collection, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import partial
from typing import Any, Final, get_args

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.book.declared import declared
from salebook.book.reading.asked import Asked, broken, why_unread
from salebook.book.reading.piece_numbers import PieceNumbers
from salebook.book.reading.raw import Percentage
from salebook.book.reading.tables import Row, Table
from salebook.book.reading.typed import (
    CellParser,
    clock,
    count_of,
    is_yes,
    one_of,
    text,
    tidy,
    till_of,
    whole,
)
from salebook.event.entries import Line, LineIdentity, LineKind, LineRows
from salebook.event.lines import bundle_of, in_bundle, order_of, till_number

NOTHING: Final = Decimal(0)
SETTLED: Final = ("day", "amount")
"""Keys that a row's mark may name: salebook filled them in, where nothing was typed."""


@dataclass(frozen=True, kw_only=True)
class LinesRead:
    """Lines with the rows where they stand; `uncounted` are those that the sheet itself cannot count."""

    lines: tuple[Line, ...]
    rows: LineRows
    uncounted: frozenset[LineIdentity]
    free_till: str
    """The till of the lines that are still empty."""


def read_lines(
    tables: Sequence[Table], parser: CellParser, goods: PieceNumbers, asked: Asked, *, till: str, book: str
) -> LinesRead:
    """Read every line in which something stands; rows without a till are of this one.

    `book` is the workbook's id, for lines that say nothing of where they were typed.
    """
    keys = declared()["takings"].keys_typed
    reader = _Reader(keys=keys, parser=parser, goods=goods, asked=asked, till=till, book=book)
    for row in (row for table in tables for row in table.rows):
        reader.take(row)
    for row in (row for table in tables for row in table.unmarked if not _is_heading(row, keys)):
        reader.take_unmarked(row)
    return reader.done()


def _is_heading(row: Row, keys: Collection[str]) -> bool:
    """Whether a row repeats the table's headings or its keys, as where a whole table was pasted below."""
    typed = {key: row.cells[at] for key, at in row.columns.items() if key in keys and at in row.cells}
    return bool(typed) and all(
        value in {key, row.headings.get(row.columns[key])} for key, value in typed.items()
    )


@dataclass(frozen=True)
class _Found:
    """A line where it was found."""

    row: Row
    line: Line
    uncounted: bool


@dataclass(kw_only=True)
class _Reader:
    keys: Collection[str]
    """The keys that people fill in."""
    parser: CellParser
    goods: PieceNumbers
    asked: Asked
    till: str
    book: str
    free_till: str = ""
    found: list[_Found] = field(default_factory=list)
    unnumbered: list[_Found] = field(default_factory=list)

    def take(self, row: Row) -> None:
        """Read one row, and keep it for later where it has no number of its own."""
        if not row.has(self.keys):
            self.free_till = till_of(row.get("till"), self.till)
            return
        cells = _Cells(row, self)
        line = cells.line()
        (self.found if line.number else self.unnumbered).append(_Found(row, line, cells.uncounted))

    def take_unmarked(self, row: Row) -> None:
        """Read a row that somebody put in by hand."""
        if not row.has(("piece", "way", "amount", "kind", "gift")):
            if row.has(self.keys):
                self.asked.ask(row, _("this row is not one of the table's: it is not read"))
            return
        line = _Cells(row, self).line(numbered=False)
        self.asked.ask(row, _("this row was put in by hand: it is taken as a line; is it one?"))
        self.unnumbered.append(_Found(row, line, uncounted=True))

    def done(self) -> LinesRead:
        """Give the lines without a number the next free ones, and return all of them."""
        found = self._apart()
        last: dict[int, int] = defaultdict(int)
        for one in found:
            bundle = bundle_of(one.line)
            last[bundle] = max(last[bundle], one.line.number)
        for one in self.unnumbered:
            bundle = bundle_of(one.line)
            last[bundle] += 1
            found.append(replace(one, line=replace(one.line, number=last[bundle])))
        found.sort(key=lambda one: (len(one.line.till), one.line.till, order_of(one.line)))
        return LinesRead(
            lines=tuple(one.line for one in found),
            rows={one.line.identity: one.row.number for one in found},
            uncounted=frozenset(one.line.identity for one in found if one.uncounted),
            free_till=self.free_till or self.till,
        )

    def _apart(self) -> list[_Found]:
        """Return the lines with a number, each once, and ask about numbers that stand twice.

        What came from another book, or says something else under one number, lies in a bundle of its own.
        """
        told: dict[LineIdentity, list[Line]] = defaultdict(list)
        bundles: dict[tuple[int, str, int], list[_Found]] = defaultdict(list)
        for one in self.found:
            line = one.line
            before = told[line.origin]
            if line in before:
                says = _("line {number} stands twice, alike: it counts once; is it one sale?")
                self.asked.ask(one.row, says.format(number=line.number))
                continue
            if before:
                self.asked.ask(
                    one.row, _("line {number} stands twice: both count").format(number=line.number)
                )
            at_place = sum(bundle_of(other) == bundle_of(line) for other in before)
            before.append(line)
            bundles[bundle_of(line), line.book, at_place].append(one)
        return _in_bundles(bundles)


def _in_bundles(bundles: Mapping[tuple[int, str, int], Sequence[_Found]]) -> list[_Found]:
    """Return lines each in its bundle, or all of one book in the next free one where a number is taken."""
    taken: set[tuple[int, int]] = set()
    last = max((bundle for bundle, _book, _again in bundles), default=0)
    apart: list[_Found] = []
    for (bundle, _book, _again), found in bundles.items():
        place = bundle
        if any((bundle, one.line.number) in taken for one in found):
            place = last = last + 1
        taken |= {(place, one.line.number) for one in found}
        apart += [replace(one, line=in_bundle(one.line, place)) for one in found]
    return apart


class _Cells:
    """One row being read, cell by cell."""

    def __init__(self, row: Row, reader: _Reader) -> None:
        self.row, self.reader, self.asked = row, reader, reader.asked
        self.unread: list[tuple[str, str]] = []
        self.uncounted = False

    def line(self, *, numbered: bool = True) -> Line:
        """Return the line that stands in the row; its number is 0 where it has none of its own."""
        row, parser, text_of = self.row, self.reader.parser, self.asked.text
        till = till_of(row.get("till"), self.reader.till)
        kind = self._read("kind", partial(one_of, get_args(LineKind)), _("there is no such kind of line"))
        return Line(
            number=self._number() if numbered else 0,
            till=till,
            day=self._read(
                "day", parser.day, _("the day is not a date"), _("the day is text, and read as a date")
            ),
            at=self._read("time", clock, _("the time is not one")),
            kind=kind or ("other" if "kind" in dict(self.unread) else "sale"),
            piece=self._piece(),
            count=self._read(
                "count",
                whole,
                _("how many is not a whole number"),
                _("how many is text, and read as a number"),
            ),
            amount=self._read(
                "amount",
                parser.amount,
                _("the amount is not a number"),
                _("the amount is text, and read as a number"),
                NOTHING,
            ),
            gift=self._read(
                "gift",
                parser.amount,
                _("the gift on top is not a number"),
                _("the gift on top is text, and read as a number"),
                NOTHING,
            ),
            way=text_of(row, "way"),
            with_above=self._yes("with_above"),
            waiting=self._yes("waiting"),
            group=text_of(row, "group"),
            claim=text_of(row, "claim"),
            agreed_price=self.asked.read(
                row, "agreed_price", parser.amount, _("the price agreed is not a number")
            ),
            note=text_of(row, "note"),
            unread=tuple(self.unread),
            book=tidy(row.get("book")) if numbered and "book" in row.columns else self.reader.book,
            bundle=self._bundle(till),
            settled=tuple(key for key in row.assumed if key in SETTLED),
        )

    def _read(
        self, key: str, read: Callable[[Any], Any], says: str, note: str = "", instead: Any = None
    ) -> Any:
        """Read a cell; what makes no sense is kept as it was typed, and asked about.

        `note` is what is said of a text that is understood, `instead` what stands for one that is not.
        """
        value = self.row.get(key)
        if not tidy(value):
            return None
        try:
            meant = read(value)
        except UnfitError:
            self._cannot(key, says)
            return instead
        if note and isinstance(value, str):
            self.uncounted = self.uncounted or key != "day"
            self.asked.note(self.row, note)
        return meant

    def _cannot(self, key: str, says: str) -> None:
        value = self.row.get(key)
        self.unread.append((key, text(value)))
        self.uncounted = self.uncounted or isinstance(value, Percentage)
        self.asked.ask(self.row, why_unread(self.row, key) or says)

    def _bundle(self, till: str) -> int | None:
        with suppress(UnfitError):
            bundle = count_of(self.row.get("bundle"))
            return None if bundle == till_number(till) else bundle
        return None

    def _number(self) -> int:
        number = 0
        with suppress(UnfitError):
            number = max(0, whole(self.row.get("line")))
        if not number:
            self.asked.ask(self.row, _("this line has no number of its own: it is given the next one"))
        return number

    def _piece(self) -> str:
        value, goods = self.row.get("piece"), self.reader.goods
        typed = tidy(value).upper()
        if says := broken(self.row, "piece"):
            self.asked.ask(self.row, says)
            return typed
        meant = goods.meant(value)
        if meant != typed:
            self.uncounted = self.uncounted or goods.meant_in_the_sheet(value) != meant
            self.asked.note(self.row, _("the piece is read as {number}").format(number=meant))
        return meant

    def _yes(self, key: str) -> bool:
        yes, certain = is_yes(self.row.get(key))
        if not certain:
            self._cannot(key, _("is it yes or no? It is taken as yes"))
        return yes
