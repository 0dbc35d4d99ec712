"""The commands on workbooks at the event: renew, join."""
# ruff: noqa: PLC0415  each command imports the rooms that it needs, so that --help is quick

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from salebook.commands.shared import (
    BOOK,
    DONE,
    FORCE,
    NEW_BOOK,
    NOT_FINAL,
    TODAY,
    Place,
    complain,
    day_of,
    harmless,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from salebook.event.question import Question


@click.command()
@click.argument("book", type=BOOK)
@click.option("--plan", type=Place(path_type=Path), help="The changed plan; without it, the book's own.")
@TODAY
def renew(book: Path, *, plan: Path | None, today: datetime | None) -> int:
    """Write a fresh workbook after a change of plan, with all that was filled in.

    BOOK stays as it is; the fresh one stands beside it and is called NAME-renewed.xlsx. What the changed plan
    has no place for is kept there and asked about; the exit code is then 3.

    \b
    Examples:
      salebook renew sale.xlsx
      salebook renew sale.xlsx --plan plan.toml
    """
    from salebook.renewing import renew as renew_book

    made = renew_book(book, plan=plan, today=day_of(today))
    click.echo(f"Made {made.path}: everything that was filled in in {book} stands in it.")
    _tell_copy(made.kept_copy)
    return _ask_about(made.questions)


@click.command()
@click.argument("books", metavar="BOOK...", nargs=-1, required=True, type=BOOK)
@click.option(
    "-o",
    "--out",
    required=True,
    type=NEW_BOOK,
    help="The workbook to write, such as all.xlsx.",
)
@click.option(
    "--plan", type=Place(path_type=Path), help="The plan, where no BOOK is the sale's own workbook."
)
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
    click.echo(f"Made {made.path}: {made.lines} lines of takings in the order of time.")
    for note in made.notes:
        click.echo(harmless(f"  good to know: {note}"))
    _tell_copy(made.kept_copy)
    return _ask_about(made.questions)


def _tell_copy(copy: Path | None) -> None:
    if copy:
        click.echo(f"The workbook that stood there before is now {copy}.")


def _ask_about(questions: "Sequence[Question]") -> int:
    from salebook.checking import question_line

    for question in questions:
        complain(f"  to look at: {question_line(question)}")
    return NOT_FINAL if questions else DONE
