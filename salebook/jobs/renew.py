"""A fresh workbook after a change of plan, with everything that was filled in in the one before."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Final

from salebook.base.errors import WrongUseError
from salebook.base.files import refuse_while_open, write_atomically
from salebook.base.folders import free_name
from salebook.base.words import _
from salebook.book.read import BookRead, read_book
from salebook.book.write import book_bytes
from salebook.event.carry_forward import carry_forward
from salebook.event.entries import Entries
from salebook.event.event import Event, reckon_event
from salebook.event.frozen_amounts import Agreed, FrozenAmounts, freeze_amounts
from salebook.event.question import Question, question_line, questions_of
from salebook.event.remarks import in_words
from salebook.jobs.make import new_book_id
from salebook.jobs.source import plan_from, reckoning_of
from salebook.plan.model import Plan, Sale
from salebook.plan.money import format_money
from salebook.reckoning import Reckoning

ENDING: Final = "renewed"


@dataclass(frozen=True, kw_only=True)
class Renewed:
    """A workbook that was written: where, what needs a person, and where the one before it went.

    `lines_typed` are lines whose amount was typed in, so that they count what they did by the plan before;
    `agreed` says what keeps the price at which it is spoken for.
    """

    path: Path
    questions: tuple[Question, ...]
    lines_typed: int = 0
    agreed: tuple[str, ...] = ()
    has_new_plan: bool = False
    kept_copy: Path | None = None


def renew(book: Path, *, plan: Path | None, today: date) -> Renewed:
    """Write a fresh workbook beside a filled-in one, from its own sheet Plan or from the plan in a file.

    A workbook that stands there already is kept as a copy with today's date in its name.

    Raises FileError where a file cannot be read or written or is open in a spreadsheet program, WrongUseError
    where the book is no sale's workbook or lines that need a look would count otherwise, FaultyPlanError with
    all faults of the plan.
    """
    target = book.with_name(f"{book.stem}-{ENDING}.xlsx")
    for file in (book, target):
        refuse_while_open(file)
    read = read_book(book)
    reckoning = reckoning_of(plan_from(plan) if plan else read.plan, file=plan or book, today=today)
    settled = _frozen_amounts(read, reckoning, file=book)
    event = carried_over(read, settled.entries, reckoning)
    content = fresh_book(read, reckoning, event)
    questions = (
        *read.questions,
        *_on_another_sale(read, reckoning.plan),
        *questions_of(reckoning, event, read.rows),
    )
    return Renewed(
        path=target,
        questions=questions,
        lines_typed=settled.lines,
        agreed=tuple(_said(agreed, reckoning.plan.sale) for agreed in settled.agreed),
        has_new_plan=reckoning.plan != read.plan,
        kept_copy=put_book(target, content, today=today),
    )


def renewed_lines(made: Renewed, book: Path) -> Iterator[str]:
    """Say what was made of a book, and what to mind from now on."""
    says = _("Made {fresh}: all that was filled in is carried over from {book}.")
    yield says.format(fresh=made.path, book=book)
    yield from copy_lines(made.kept_copy)
    if made.lines_typed:
        says = _("Lines whose amount is typed in now, so that what was taken stays as it was: {count}.")
        yield says.format(count=made.lines_typed)
    yield from made.agreed
    yield _("From now on use {fresh}.").format(fresh=made.path)
    if made.has_new_plan:
        yield _("The plan has changed: a price list, labels and tags printed before may show old prices.")


def copy_lines(copy: Path | None) -> Iterator[str]:
    """Say where the workbook is that stood there before, if one did."""
    if copy:
        yield _("The workbook that stood there before is now {copy}.").format(copy=copy)


def carried_over(read: BookRead, entries: Entries, reckoning: Reckoning) -> Event:
    """Return how things stand with some entries, and what was typed in a book and made no sense kept."""
    kept = replace(entries, unplaced=(*read.entries.unplaced, *read.unread))
    return reckon_event(reckoning, carry_forward(kept, reckoning))


def fresh_book(read: BookRead, reckoning: Reckoning, event: Event) -> bytes:
    """Return the workbook that takes the place of one that was read."""
    book_id = read.book_id or new_book_id()
    return book_bytes(reckoning, event, sale_id=read.sale_id, book_id=book_id, till=read.free_till)


def _frozen_amounts(read: BookRead, reckoning: Reckoning, *, file: Path) -> FrozenAmounts:
    if reckoning.plan == read.plan:
        return FrozenAmounts(entries=read.entries, lines=0)
    settled = freeze_amounts(reckon_event(reckoning_of(read.plan, file=file), read.entries), reckoning)
    if settled.doubtful:
        raise WrongUseError("\n".join(_on_doubtful_lines(read, settled, file)))
    return settled


def _said(agreed: Agreed, sale: Sale) -> str:
    price = format_money(agreed.price, sale.currency, sale.locale)
    if agreed.line is None:
        says = _("{number} keeps the price that was agreed: {price}.")
        return says.format(number=agreed.number, price=price)
    says = _("{code}, ordered on line {line}, keeps the price that was agreed: {price} for each.")
    return says.format(line=agreed.line.number, code=agreed.number, price=price)


def _on_doubtful_lines(read: BookRead, settled: FrozenAmounts, file: Path) -> Iterator[str]:
    says = _("{book}: these lines need a look before the plan changes; mend them first. Nothing was written.")
    yield says.format(book=file)
    for counted in settled.doubtful:
        row = read.rows.get(counted.line.identity, 0)
        yield question_line(Question(sheet=_("Takings"), row=row, says=in_words(counted.remark)))


def _on_another_sale(read: BookRead, plan: Plan) -> Iterator[Question]:
    before, now = read.plan.sale, plan.sale
    if before.title != now.title and before.days[0] != now.days[0]:
        says = _("the new plan has another title and another first day: is it the same sale?")
        yield Question(sheet=_("Plan"), row=0, says=says)
    if before.currency != now.currency:
        says = _("the money is {now} now and was {before}: each amount stands as it was typed")
        yield Question(sheet=_("Plan"), row=0, says=says.format(now=now.currency, before=before.currency))


def put_book(path: Path, content: bytes, *, today: date) -> Path | None:
    """Write a workbook; where one stands there already, keep it under a name with the date and return that.

    Raises FileError where that cannot be done.
    """
    copy = None
    if path.exists():
        copy = free_name(path, today.isoformat())
        write_atomically(copy, path.read_bytes())
    write_atomically(path, content)
    return copy
