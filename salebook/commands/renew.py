"""The command renew: a fresh workbook after a change of plan."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from salebook.base.words import _
from salebook.commands.options import BOOK, FILE, TODAY
from salebook.commands.output import ask_about, tell_copy

if TYPE_CHECKING:
    from collections.abc import Iterator

    from salebook.jobs.renew import Renewed


@click.command()
@BOOK
@click.option("--plan", type=FILE, help="The changed plan; without it, the book's own.")
@TODAY
def renew(book: Path, *, plan: Path | None, today: date) -> int:
    """Write a fresh workbook after a change of plan.

    It has all that was filled in. BOOK stays as it is; the fresh one stands beside it and is called
    NAME-renewed.xlsx. What the changed plan has no place for is kept there and asked about; the exit code
    is then 3.

    \b
    Examples:
      salebook renew sale.xlsx
      salebook renew sale.xlsx --plan plan.toml
    """
    from salebook.jobs.renew import renew as renew_book

    made = renew_book(book, plan=plan, today=today)
    says = _("Made {fresh}: all that was filled in is carried over from {book}.")
    click.echo(says.format(fresh=made.path, book=book))
    tell_copy(made.kept_copy)
    for told in _on_renewing(made):
        click.echo(told)
    return ask_about(made.questions)


def _on_renewing(made: "Renewed") -> "Iterator[str]":
    if made.lines_typed:
        says = _("Lines whose amount is typed in now, so that what was taken stays as it was: {count}.")
        yield says.format(count=made.lines_typed)
    yield from made.agreed
    yield _("From now on use {fresh}.").format(fresh=made.path)
    if made.has_new_plan:
        yield _("The plan has changed: a price list, labels and tags printed before may show old prices.")
