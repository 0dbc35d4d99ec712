"""The commands on workbooks at the event: renew, join."""
# ruff: noqa: PLC0415  each command imports the rooms that it needs, so that --help is quick

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from salebook.commands.shared import (
    BOOK,
    FORCE,
    NEW_BOOK,
    TODAY,
    Place,
    complain,
    day_of,
    harmless,
)
from salebook.errors import DONE, NOT_FINAL
from salebook.words import _

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from salebook.event.question import Question
    from salebook.renewing import Renewed


@click.command()
@click.argument("book", type=BOOK)
@click.option("--plan", type=Place(), help="The changed plan; without it, the book's own.")
@TODAY
def renew(book: Path, *, plan: Path | None, today: date | None) -> int:
    """Write a fresh workbook after a change of plan.

    It has all that was filled in. BOOK stays as it is; the fresh one stands beside it and is called
    NAME-renewed.xlsx. What the changed plan has no place for is kept there and asked about; the exit code
    is then 3.

    \b
    Examples:
      salebook renew sale.xlsx
      salebook renew sale.xlsx --plan plan.toml
    """
    from salebook.renewing import renew as renew_book

    made = renew_book(book, plan=plan, today=day_of(today))
    says = _("Made {fresh}: all that was filled in is carried over from {book}.")
    click.echo(says.format(fresh=made.path, book=book))
    _tell_copy(made.kept_copy)
    for told in _on_renewing(made):
        click.echo(told)
    return _ask_about(made.questions)


def _on_renewing(made: "Renewed") -> "Iterator[str]":
    if made.lines_typed:
        says = _("Lines whose amount is typed in now, so that what was taken stays as it was: {count}.")
        yield says.format(count=made.lines_typed)
    yield from made.agreed
    yield _("From now on use {fresh}.").format(fresh=made.path)
    if made.has_new_plan:
        yield _("The plan has changed: a price list, labels and tags printed before may show old prices.")


@click.command()
@click.argument("books", metavar="BOOK...", nargs=-1, required=True, type=BOOK)
@click.option(
    "-o",
    "--out",
    required=True,
    type=NEW_BOOK,
    help="The workbook to write, such as all.xlsx.",
)
@click.option("--plan", type=Place(), help="The plan, where no BOOK is the sale's own workbook.")
@FORCE
def join(books: tuple[Path, ...], *, out: Path, plan: Path | None, force: bool) -> int:
    """Put the workbooks of several tables into one.

    BOOK is the workbook of a table, or the sale's own, which holds the plan; where none is, sale.xlsx beside
    the first is read too. A line that stands in two copies counts once. The exit code is 3 where lines
    contradict one another.

    \b
    Examples:
      salebook join sale.xlsx sale-till-1.xlsx sale-till-2.xlsx -o all.xlsx
    """
    from salebook.joining import join_books

    made = join_books(books, out, plan=plan, force=force, today=date.today())
    says = _("Made {book}, in the order of time; lines of takings: {count}.")
    click.echo(says.format(book=made.path, count=made.lines))
    for note in made.notes:
        click.echo(harmless(_("  good to know: {note}").format(note=note)))
    _tell_copy(made.kept_copy)
    return _ask_about(made.questions)


def _tell_copy(copy: Path | None) -> None:
    if copy:
        click.echo(_("The workbook that stood there before is now {copy}.").format(copy=copy))


def _ask_about(questions: "Sequence[Question]") -> int:
    from salebook.event.question import question_line

    for question in questions:
        complain(_("  to look at: {place}").format(place=question_line(question)))
    return NOT_FINAL if questions else DONE
