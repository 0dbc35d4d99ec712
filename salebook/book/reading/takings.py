"""The lines of takings of a workbook."""

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, time
from decimal import Decimal
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
    text,
    tidy,
    till_of,
    whole,
)
from salebook.event.entries import Line, LineIdentity, LineKind, LineRows
from salebook.event.lines import bundle_of, in_bundle, order_of, till_number

SETTLED: Final = ("day", "amount")
"""Keys that a row's mark may name: salebook filled them in, where nothing was typed."""


def keys_required() -> frozenset[str]:
    """Return the keys without which nothing is read of a workbook."""
    return frozenset({"line", *_keys_typed()})


def _keys_typed() -> tuple[str, ...]:
    return declared()["takings"].keys_typed


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

    `book` is the workbook's own mark, for lines that say nothing of where they were typed.
    """
    keys = _keys_typed()
    reader = _Reader(keys=keys, parser=parser, goods=goods, asked=asked, till=till, book=book)
    for row in (row for table in tables for row in table.rows):
        reader.take(row)
    for row in (row for table in tables for row in table.unmarked if not _is_heading(row, table, keys)):
        reader.take_unmarked(row)
    return reader.done()


def _is_heading(row: Row, table: Table, keys: Collection[str]) -> bool:
    """Whether a row repeats the table's headings or its keys, as where a whole table was pasted below."""
    headings = row.raw.sheets[row.sheet].by_number.get(table.key_row + 1, {})
    typed = {key: row.cells[at] for key, at in row.columns.items() if key in keys and at in row.cells}
    return bool(typed) and all(value in {key, headings.get(row.columns[key])} for key, value in typed.items())


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
        cell = _Cell(row, self)
        line = cell.line()
        (self.found if line.number else self.unnumbered).append(_Found(row, line, cell.uncounted))

    def take_unmarked(self, row: Row) -> None:
        """Read a row that somebody put in by hand."""
        if not row.has(("piece", "way", "amount", "kind", "gift")):
            if row.has(self.keys):
                self.asked.ask(row, _("this row is not one of the table's: it is not read"))
            return
        line = _Cell(row, self).line(numbered=False)
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


class _Cell:
    """One row being read, cell by cell."""

    def __init__(self, row: Row, reader: _Reader) -> None:
        self.row = row
        self.asked, self.parser, self.goods = reader.asked, reader.parser, reader.goods
        self.till, self.book = reader.till, reader.book
        self.unread: list[tuple[str, str]] = []
        self.uncounted = False

    def line(self, *, numbered: bool = True) -> Line:
        """Return the line that stands in the row; its number is 0 where it has none of its own."""
        amount, gift = self._money("amount", _("the amount")), self._money("gift", _("the gift on top"))
        return Line(
            number=self._number() if numbered else 0,
            till=till_of(self.row.get("till"), self.till),
            day=self._day(),
            at=self._time(),
            kind=self._kind(),
            piece=self._piece(),
            count=self._count(),
            amount=amount,
            gift=gift,
            way=self._text("way"),
            with_above=self._yes("with_above"),
            waiting=self._yes("waiting"),
            group=self._text("group"),
            claim=self._text("claim"),
            agreed_price=self.asked.read(
                self.row, "agreed_price", self.parser.amount, _("the price agreed is not a number")
            ),
            note=self._text("note"),
            unread=tuple(self.unread),
            book=tidy(self.row.get("book")) if numbered and "book" in self.row.columns else self.book,
            bundle=self._bundle(),
            settled=tuple(key for key in self.row.assumed if key in SETTLED),
        )

    def _bundle(self) -> int | None:
        try:
            bundle = count_of(self.row.get("bundle"))
        except UnfitError:
            return None
        return None if bundle == till_number(till_of(self.row.get("till"), self.till)) else bundle

    def _typed(self, key: str) -> Any:
        value = self.row.get(key)
        return value if tidy(value) else None

    def _cannot(self, key: str, value: Any, says: str) -> None:
        """Keep what was typed as it is, and ask."""
        self.unread.append((key, text(value)))
        self.uncounted = self.uncounted or isinstance(value, Percentage)
        self.asked.ask(self.row, why_unread(value) or says)

    def _number(self) -> int:
        value = self._typed("line")
        try:
            number = whole(value)
        except UnfitError:
            number = 0
        if number < 1:
            self.asked.ask(self.row, _("this line has no number of its own: it is given the next one"))
        return max(0, number)

    def _money(self, key: str, what: str) -> Decimal | None:
        value = self._typed(key)
        if value is None:
            return None
        try:
            amount = self.parser.amount(value)
        except UnfitError:
            self._cannot(key, value, _("{what} is not a number").format(what=what))
            return Decimal(0)
        if isinstance(value, str):
            self.uncounted = True
            self.asked.note(self.row, _("{what} is text, and read as a number").format(what=what))
        return amount

    def _day(self) -> date | None:
        value = self._typed("day")
        if value is None:
            return None
        try:
            day = self.parser.day(value)
        except UnfitError:
            self._cannot("day", value, _("the day is not a date"))
            return None
        if isinstance(value, str):
            self.asked.note(self.row, _("the day is text, and read as a date"))
        return day

    def _time(self) -> time | None:
        value = self._typed("time")
        if value is None:
            return None
        try:
            return clock(value)
        except UnfitError:
            self._cannot("time", value, _("the time is not one"))
            return None

    def _kind(self) -> LineKind:
        value = self._typed("kind")
        said = tidy(value).lower()
        if not said:
            return "sale"
        for kind in get_args(LineKind):
            if said == kind:
                return kind  # type: ignore[no-any-return] # one of the kinds
        self._cannot("kind", value, _("there is no such kind of line"))
        return "other"

    def _piece(self) -> str:
        value = self._typed("piece")
        typed = tidy(value).upper()
        if broken(value):
            self.asked.ask(self.row, broken(value))
            return typed
        meant = self.goods.meant(value)
        if meant != typed:
            self.uncounted = self.uncounted or self.goods.meant_in_the_sheet(value) != meant
            self.asked.note(self.row, _("the piece is read as {number}").format(number=meant))
        return meant

    def _count(self) -> int | None:
        value = self._typed("count")
        if value is None:
            return None
        try:
            count = whole(value)
        except UnfitError:
            self._cannot("count", value, _("how many is not a whole number"))
            return None
        if isinstance(value, str):
            self.uncounted = True
            self.asked.note(self.row, _("how many is text, and read as a number"))
        return count

    def _text(self, key: str) -> str:
        value = self._typed(key)
        if broken(value):
            self.asked.ask(self.row, broken(value))
        return text(value)

    def _yes(self, key: str) -> bool:
        yes, certain = is_yes(self.row.get(key))
        if not certain:
            self._cannot(key, self.row.get(key), _("is it yes or no? It is taken as yes"))
        return yes
