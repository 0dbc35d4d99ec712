"""The books of several tables put together into one."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from salebook.base.errors import FileError, WrongUseError
from salebook.base.files import refuse_while_open
from salebook.base.words import _
from salebook.book.file.filled_in import can_be_read, is_as_joined, is_filled_in
from salebook.book.read import TillRead, read_any_book, without_planned
from salebook.book.write import book_bytes
from salebook.event.carry_forward import carry_forward
from salebook.event.event import Event, reckon_event
from salebook.event.merge import merge
from salebook.event.question import Question, questions_of
from salebook.jobs.make import BOOK, OFFICE, new_book_id
from salebook.jobs.renew import copy_lines, put_book
from salebook.jobs.source import reckoning_from, reckoning_of
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class Joined:
    """A workbook put together: where, how many lines, what needs a person, what is good to know."""

    path: Path
    lines: int
    questions: tuple[Question, ...]
    notes: tuple[str, ...]
    kept_copy: Path | None = None


def join_books(books: Sequence[Path], out: Path, *, plan: Path | None, force: bool, today: date) -> Joined:
    """Put the lines of several tables into one workbook, each with its table, in the order of time.

    The plan is that of the sale's own book among them or beside the first, or the one in the file `plan`.

    Raises FileError where a file cannot be read or written, WrongUseError where the books are not of one sale
    or none holds the plan, FaultyPlanError with all faults.
    """
    reads, notes = _read_all(books, plan)
    first = reads[0]
    others = [read.file for read in reads if read.sale_id != first.sale_id]
    if others:
        says = _("{others}: of another sale than {first}; nothing was joined")
        raise WrongUseError(says.format(others=", ".join(others), first=first.file))
    reckoning = _reckoned(reads, plan)
    event, questions, more = put_together(reads, reckoning)
    content = book_bytes(
        reckoning, event, sale_id=first.sale_id, book_id=new_book_id(), till=OFFICE, is_joined=True
    )
    _guard(out, content, force=force)
    return Joined(
        path=out,
        lines=len(event.entries.lines),
        questions=questions,
        notes=(*notes, *more),
        kept_copy=put_book(out, content, today=today),
    )


def joined_lines(made: Joined) -> Iterator[str]:
    """Say what was put together."""
    says = _("Made {book}, in the order of time; lines of takings: {count}.")
    yield says.format(book=made.path, count=made.lines)
    for note in made.notes:
        yield _("  good to know: {note}").format(note=note)
    yield from copy_lines(made.kept_copy)


def put_together(
    reads: Sequence[TillRead], reckoning: Reckoning
) -> tuple[Event, tuple[Question, ...], tuple[str, ...]]:
    """Reckon the books of several tables as one: the event, what needs a person, what is good to know.

    Each question about what stands in one of the books names it.
    """
    names = _names(reads)
    books = [replace(read, file=name) for read, name in zip(reads, names, strict=True)]
    result = merge(books, first_day=reckoning.plan.sale.days[0])
    entries = result.entries
    if any(read.has_planned_grades for read in reads):
        entries = replace(entries, pieces=without_planned(entries.pieces, reckoning.plan))
    event = reckon_event(reckoning, carry_forward(entries, reckoning))
    asked = (replace(one, book=read.file) for read in books for one in read.questions)
    found = questions_of(reckoning, event, result.rows, books=result.files)
    return event, (*asked, *result.questions, *found), result.notes


def _read_all(books: Sequence[Path], plan: Path | None) -> tuple[list[TillRead], list[str]]:
    for book in books:
        refuse_while_open(book)
    reads = [read_any_book(book) for book in dict.fromkeys(books)]
    if plan or any(read.plan is not None for read in reads):
        return reads, []
    owner = owner_beside(books[0], reads[0].sale_id)
    if owner is None:
        return reads, []
    refuse_while_open(Path(owner.file))
    return [owner, *reads], [_("{book} is read too: it holds the plan").format(book=owner.file)]


def owner_beside(book: Path, sale_id: str) -> TillRead | None:
    """Read the sale's own book where it lies beside that of a table.

    Raises as read_any_book does.
    """
    beside = book.with_name(BOOK)
    owner = read_any_book(beside) if beside.is_file() else None
    return owner if owner and owner.plan is not None and owner.sale_id == sale_id else None


def _reckoned(reads: Sequence[TillRead], plan: Path | None) -> Reckoning:
    if plan:
        return reckoning_from(plan)
    for read in reads:
        if read.plan is not None:
            return reckoning_of(read.plan, file=Path(read.file))
    raise WrongUseError(_("none of these books holds the plan: name the sale's own book too, or --plan"))


def _names(reads: Sequence[TillRead]) -> list[str]:
    """Return how messages call the books: by their files' names, or by the paths where two are alike."""
    names = [Path(read.file).name for read in reads]
    return names if len(set(names)) == len(names) else [read.file for read in reads]


def _guard(out: Path, content: bytes, *, force: bool) -> None:
    refuse_while_open(out)
    if out.exists() and not force and not is_as_joined(out) and is_filled_in(out, content):
        because = (
            _("something else has been filled in here")
            if can_be_read(out)
            else _("this cannot be read as a workbook")
        )
        says = _(
            "{book}: {because}, so it stays as it is; choose another name, or have it replaced (--force, on "
            "the page a box to tick), which keeps a copy with today's date"
        )
        raise FileError(says.format(book=out, because=because))
