"""What several tables filled in, put together: each line once."""

from collections import defaultdict
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final, TypeVar

from salebook.event.entries import Claim, Entries, Line, PieceEntry
from salebook.event.lines import in_small_letters
from salebook.event.question import LineRows, Question
from salebook.words import _

Record = TypeVar("Record")
Key = TypeVar("Key", bound=Hashable)
Identity = tuple[str, int]

PIECE_KEYS: Final = ("grade", "mishap", "reserved_for", "marked_on", "agreed_price")


@dataclass(frozen=True, kw_only=True)
class Book:
    """One of the books: its file's name, its table ("" for the sale's own book), what was filled in."""

    file: str
    till: str
    entries: Entries
    rows: LineRows = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Together:
    """The entries of all books, what needs a person and what is good to know."""

    entries: Entries
    questions: tuple[Question, ...]
    notes: tuple[str, ...]


def joined(books: Sequence[Book]) -> Together:
    """Put books together: a line with the same table, number and content counts once, however often it comes.

    Where two books say different things of one line or piece, the later book counts, and that is a question;
    the later of two is the one with more lines of that table.
    """
    joiner = _Joiner(books)
    entries = Entries(
        lines=joiner.lines(),
        pieces=joiner.pieces(),
        made=joiner.single(lambda entries: entries.made, _("Pieces")),
        studio=joiner.single(lambda entries: entries.studio, _("Making")),
        studio_day=next((book.entries.studio_day for book in books if book.entries.studio_day), None),
        cash=joiner.keyed(lambda entries: entries.cash, lambda count: (count.day, count.till), _("Cash-up")),
        table=joiner.keyed(lambda entries: entries.table, lambda one: (one.day, one.code), _("Cash-up")),
        banked=joiner.most(lambda entries: entries.banked),
        payments=joiner.most(lambda entries: entries.payments),
        claims=joiner.claims(),
        actual_costs=joiner.single(lambda entries: entries.actual_costs, _("Costs")),
        actual_fees=joiner.single(lambda entries: entries.actual_fees, _("Share-out")),
        kept=tuple(dict.fromkeys(kept for book in books for kept in book.entries.kept)),
    )
    return Together(entries=entries, questions=tuple(joiner.questions), notes=tuple(_given_twice(books)))


def _given_twice(books: Sequence[Book]) -> Iterator[str]:
    by_till: dict[str, list[str]] = defaultdict(list)
    for book in books:
        if book.till:
            by_till[book.till].append(book.file)
    for till, files in by_till.items():
        if len(files) > 1:
            says = _("table {till} is given {count} times ({files}): each line counts once")
            yield says.format(till=till, count=len(files), files=", ".join(files))


class _Joiner:
    def __init__(self, books: Sequence[Book]) -> None:
        self._books = books
        self.questions: list[Question] = []

    def lines(self) -> tuple[Line, ...]:
        """Return every line once, by table and number."""
        chosen: dict[Identity, tuple[Line, Book]] = {}
        last = {id(book): _last_lines(book.entries.lines) for book in self._books}
        for book in self._books:
            for line in book.entries.lines:
                identity = line.till, line.number
                if identity not in chosen:
                    chosen[identity] = line, book
                elif chosen[identity][0] != line:
                    other = chosen[identity][1]
                    if last[id(book)][line.till] > last[id(other)][line.till]:
                        chosen[identity] = line, book
                    self._ask_about(identity, chosen[identity][1], other, book)
        lines = (line for line, _book in chosen.values())
        return tuple(sorted(lines, key=lambda line: (len(line.till), line.till, line.number)))

    def _ask_about(self, identity: Identity, kept: Book, first: Book, second: Book) -> None:
        says = _(
            "line {number} of table {till} differs: {first} row {row}, {second} row {other}; "
            "that of {kept} is taken"
        ).format(
            number=identity[1],
            till=identity[0],
            first=first.file,
            row=first.rows.get(identity, 0),
            second=second.file,
            other=second.rows.get(identity, 0),
            kept=kept.file,
        )
        self.questions.append(Question(sheet=_("Takings"), row=kept.rows.get(identity, 0), says=says))

    def pieces(self) -> dict[str, PieceEntry]:
        """Return what was filled in about each piece, cell by cell."""
        found: dict[str, PieceEntry] = {}
        for book in self._books:
            for number, entry in book.entries.pieces.items():
                found[number] = self._both(number, found.get(number, PieceEntry()), entry)
        return found

    def _both(self, number: str, before: PieceEntry, entry: PieceEntry) -> PieceEntry:
        told: dict[str, Any] = {key: getattr(entry, key) for key in PIECE_KEYS if getattr(entry, key)}
        torn = [key for key, value in told.items() if getattr(before, key) not in {None, "", value}]
        if torn:
            self._ask(_("Pieces"), number)
        return replace(before, **{key: value for key, value in told.items() if key not in torn})

    def single(self, get: Callable[[Entries], Mapping[str, Record]], sheet: str) -> dict[str, Record]:
        """Return single values by name; of two that differ the first."""
        found: dict[str, Record] = {}
        for book in self._books:
            for name, value in get(book.entries).items():
                if found.setdefault(name, value) != value:
                    self._ask(sheet, name)
        return found

    def keyed(
        self, get: Callable[[Entries], Iterable[Record]], key: Callable[[Record], Key], sheet: str
    ) -> tuple[Record, ...]:
        """Return records that each stand once; of two that differ the first."""
        found: dict[Key, Record] = {}
        for book in self._books:
            for record in get(book.entries):
                if found.setdefault(key(record), record) != record:
                    self._ask(sheet, book.file)
        return tuple(found.values())

    def most(self, get: Callable[[Entries], Sequence[Record]]) -> tuple[Record, ...]:
        """Return each record as often as the book has it that has it most often."""
        found: list[Record] = []
        for book in self._books:
            left = list(found)
            for record in get(book.entries):
                if record in left:
                    left.remove(record)
                else:
                    found.append(record)
        return tuple(found)

    def claims(self) -> tuple[Claim, ...]:
        """Return every claim once; a number that stands for two people is kept twice and asked about."""
        found: list[Claim] = []
        for book in self._books:
            for claim in book.entries.claims:
                if claim in found:
                    continue
                number = in_small_letters(claim.claim)
                if number and number in {in_small_letters(other.claim) for other in found}:
                    self._ask(_("Hand over"), _("a claim number"))
                found.append(claim)
        return tuple(found)

    def _ask(self, sheet: str, what: str) -> None:
        says = _("{what}: the books say different things").format(what=what)
        self.questions.append(Question(sheet=sheet, row=0, says=says))


def _last_lines(lines: Iterable[Line]) -> Mapping[str, int]:
    last: dict[str, int] = defaultdict(int)
    for line in lines:
        last[line.till] = max(last[line.till], line.number)
    return last
