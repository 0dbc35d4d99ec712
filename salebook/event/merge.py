"""What several tills filled in, put together: each line once."""

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from operator import attrgetter
from typing import Any, Final

from salebook.base.words import _, ngettext
from salebook.event.entries import Claim, Entries, FromHere, LineIdentity, LineRows, PieceEntry
from salebook.event.lines import fold_case
from salebook.event.question import Question
from salebook.event.told import TillBook, Told, in_bundles, is_same, told_in, with_days

PIECE_KEYS: Final = ("grade", "mishap", "reserved_for", "marked_on", "agreed_price")


@dataclass(frozen=True, kw_only=True)
class MergedEntries:
    """The entries of all books, what needs a person and what is good to know.

    `rows` and `files` say where each line was typed, by its identity among those put together.
    """

    entries: Entries
    rows: LineRows
    files: Mapping[LineIdentity, str]
    questions: tuple[Question, ...]
    notes: tuple[str, ...]


def merge(books: Sequence[TillBook], *, first_day: date = date.min) -> MergedEntries:
    """Put books together: a line of the same book, number and content counts once, however often it comes.

    Where two copies say different things under one number, both count; of a piece the first says what counts.
    Either is a question. `first_day` is the day of lines before which none is typed, in the book to be.
    """
    joiner = _Merger(books)
    told = joiner.lines(first_day)
    looked_ahead = (book.entries.from_here for book in books)
    entries = Entries(
        lines=tuple(one.line for one in told),
        pieces=joiner.pieces(),
        made=joiner.single("made", _("Pieces")),
        studio=joiner.single("studio", _("Making")),
        firings_done=joiner.most("firings_done"),
        studio_day=next((book.entries.studio_day for book in books if book.entries.studio_day), None),
        cash=joiner.keyed("cash", attrgetter("day", "till"), _("the cash box of {day}, till {of}")),
        table_counts=joiner.keyed("table_counts", attrgetter("day", "code"), _("the count of {of} on {day}")),
        banked=joiner.most("banked"),
        payments=joiner.most("payments"),
        unplanned=joiner.most("unplanned"),
        claims=joiner.claims(),
        actual_costs=joiner.single("actual_costs", _("Costs")),
        actual_fees=joiner.single("actual_fees", _("Share-out")),
        bank_reasons=joiner.single("bank_reasons", _("Cash-up")),
        from_here=next((typed for typed in looked_ahead if typed != FromHere()), FromHere()),
        unplaced=tuple(dict.fromkeys(kept for book in books for kept in book.entries.unplaced)),
    )
    return MergedEntries(
        entries=entries,
        rows={one.line.identity: one.row for one in told},
        files={one.line.identity: one.file for one in told},
        questions=tuple(joiner.questions),
        notes=tuple(_given_twice(books)),
    )


def _given_twice(books: Sequence[TillBook]) -> Iterator[str]:
    by_till: dict[tuple[str, str], list[str]] = defaultdict(list)
    for book in books:
        if book.till:
            by_till[book.till, book.book_id].append(book.file)
    for (till, _book_id), files in by_till.items():
        if len(files) > 1:
            says = ngettext(
                "table {till} is given {count} time ({files}): each line counts once",
                "table {till} is given {count} times ({files}): each line counts once",
                len(files),
            )
            yield says.format(till=till, count=len(files), files=", ".join(files))


class _Merger:
    def __init__(self, books: Sequence[TillBook]) -> None:
        self._books = books
        self.questions: list[Question] = []

    def lines(self, first_day: date) -> list[Told]:
        """Return every line once, in bundles, each with the day that it has in its own book."""
        found: dict[LineIdentity, list[Told]] = defaultdict(list)
        for told in (told for book in self._books for told in told_in(book)):
            before = found[told.line.origin]
            same = next((at for at, other in enumerate(before) if is_same(told.line, other.line)), None)
            if same is None:
                self._ask_about(told, before)
                before.append(told)
            elif told.is_later_than(before[same]):
                before[same] = told
        return with_days(in_bundles(found.values()), first_day)

    def _ask_about(self, told: Told, before: Sequence[Told]) -> None:
        if not before or any(other.file == told.file for other in before):
            return  # what stands twice in one book was asked when that was read
        says = _(
            "line {number} of table {till} says something else in {first}, row {row}: both count"
        ).format(number=told.line.number, till=told.line.till, first=before[0].file, row=before[0].row)
        self.questions.append(Question(sheet=_("Takings"), row=told.row, says=says, book=told.file))

    def pieces(self) -> dict[str, PieceEntry]:
        """Return what was filled in about each piece, cell by cell."""
        found: dict[str, PieceEntry] = {}
        first: dict[str, str] = {}
        for book in self._books:
            for number, entry in book.entries.pieces.items():
                before, of = found.get(number, PieceEntry()), (first.setdefault(number, book.file), book.file)
                found[number] = self._both(number, before, entry, of)
        return found

    def _both(self, number: str, before: PieceEntry, entry: PieceEntry, of: tuple[str, str]) -> PieceEntry:
        told: dict[str, Any] = {key: getattr(entry, key) for key in PIECE_KEYS if getattr(entry, key)}
        torn = [key for key, value in told.items() if getattr(before, key) not in {None, "", value}]
        if torn:
            self._ask(_("Pieces"), number, *of)
        return replace(before, **{key: value for key, value in told.items() if key not in torn})

    def single(self, what: str, sheet: str) -> dict[str, Any]:
        """Return single values by name; of two that differ the first."""
        found: dict[str, tuple[Any, str]] = {}
        for book in self._books:
            for name, value in getattr(book.entries, what).items():
                before, first = found.setdefault(name, (value, book.file))
                if before != value:
                    self._ask(sheet, name, first, book.file)
        return {name: value for name, (value, _file) in found.items()}

    def keyed(self, what: str, key: Callable[[Any], tuple[date, str]], named: str) -> tuple[Any, ...]:
        """Return records of Cash-up that each stand once, by day and text; of two that differ the first."""
        found: dict[tuple[date, str], tuple[Any, str]] = {}
        for book in self._books:
            for record in getattr(book.entries, what):
                day, text = key(record)
                before, first = found.setdefault((day, text), (record, book.file))
                if before != record:
                    self._ask(_("Cash-up"), named.format(day=day, of=text), first, book.file)
        return tuple(record for record, _file in found.values())

    def most(self, what: str) -> tuple[Any, ...]:
        """Return each record as often as the book has it that has it most often."""
        found: list[Any] = []
        for book in self._books:
            left = list(found)
            for record in getattr(book.entries, what):
                if record in left:
                    left.remove(record)
                else:
                    found.append(record)
        return tuple(found)

    def claims(self) -> tuple[Claim, ...]:
        """Return every claim once; a number that stands for two people is kept twice and asked about."""
        found: dict[Claim, str] = {}
        for book in self._books:
            for claim in book.entries.claims:
                if claim in found:
                    continue
                number = fold_case(claim.claim)
                alike = (file for other, file in found.items() if number and fold_case(other.claim) == number)
                if first := next(alike, None):
                    # The number itself is left out: some people type a name there.
                    says = _("a claim number is somebody else in {first} and in {other}: both stay")
                    self._question(_("Hand over"), says.format(first=first, other=book.file))
                found[claim] = book.file
        return tuple(found)

    def _ask(self, sheet: str, what: str, first: str, other: str) -> None:
        says = _("{what}: {first} and {other} say different things; what {first} says counts")
        self._question(sheet, says.format(what=what, first=first, other=other))

    def _question(self, sheet: str, says: str) -> None:
        self.questions.append(Question(sheet=sheet, row=0, says=says))
