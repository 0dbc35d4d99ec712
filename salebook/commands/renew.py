"""The command renew: a fresh workbook after a change of plan."""

from datetime import date
from pathlib import Path

import click

from salebook.commands.options import BOOK, FILE, TODAY
from salebook.commands.output import ask_about, tell


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
    from salebook.jobs.renew import renewed_lines

    made = renew_book(book, plan=plan, today=today)
    tell(renewed_lines(made, book))
    return ask_about(made.questions)
