"""The command join: the workbooks of several tables in one."""

from datetime import date
from pathlib import Path

import click

from salebook.commands.options import FILE, FILLED_IN, FORCE, NEW_BOOK
from salebook.commands.output import ask_about, tell


@click.command()
@click.argument("books", metavar="BOOK...", nargs=-1, required=True, type=FILLED_IN)
@click.option("-o", "--out", required=True, type=NEW_BOOK, help="The workbook to write, such as all.xlsx.")
@click.option("--plan", type=FILE, help="The plan, where no BOOK is the sale's own workbook.")
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
    from salebook.jobs.join import join_books, joined_lines

    made = join_books(books, out, plan=plan, force=force, today=date.today())
    tell(joined_lines(made))
    return ask_about(made.questions)
