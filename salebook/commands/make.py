"""The command make: the sale pack."""

from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from salebook.base.errors import WrongUseError
from salebook.base.words import _
from salebook.commands.options import FILE, FOLDER, FORCE, PDF, TEMPLATES, TODAY, number_option
from salebook.commands.output import ask_about, print_error

if TYPE_CHECKING:
    from salebook.jobs.make import PackSource

MOST_TILLS: Final = 50


@click.command()
@click.argument("source", metavar="PLAN|BOOK", type=FILE)
@click.option(
    "-o", "--out", "folder", required=True, type=FOLDER, help="Folder for the pack; made where missing."
)
@TODAY
@FORCE
@TEMPLATES
@PDF
@number_option("--tills", MOST_TILLS, "A workbook for each of so many tables too; join them afterwards.")
@click.option("--prints-only", is_flag=True, help="The prints alone; workbooks stay as they are.")
def make(source: Path, folder: Path, *, today: date, tills: int, prints_only: bool, **options: Any) -> int:
    """Make the sale pack: the workbook and the prints.

    PLAN is a .toml file, - is standard input. BOOK is a sale's workbook: labels, tags and price list are then
    for the pieces that are out of the kiln and not sold, at their grades and prices, and a workbook has all
    that was filled in.

    \b
    Examples:
      salebook make plan.toml -o pack
      salebook make plan.toml -o pack --tills 2
      salebook make plan.toml -o pack --pdf
      salebook make pack/sale.xlsx -o pack --prints-only
    """
    from salebook.jobs.make import pack_source

    if prints_only and tills:
        raise WrongUseError(_("--prints-only leaves workbooks alone: leave out --tills"))
    pack = pack_source(source, today=today)
    make_and_tell(pack, folder, tills=tills, prints_only=prints_only, **options)
    return ask_about(pack.questions)


def make_and_tell(
    source: "PackSource",
    folder: Path,
    *,
    force: bool,
    templates: Path | None = None,
    as_pdf: bool = False,
    tills: int = 0,
    prints_only: bool = False,
) -> None:
    """Make the pack in a folder, and say what was made."""
    from salebook.jobs.make import make_pack, new_book_id, pack_lines, pack_remarks, put_pack

    book_ids = [new_book_id() for _book in range(tills + 1)]
    files = make_pack(
        source,
        templates=templates,
        as_pdf=as_pdf,
        prints_only=prints_only,
        tills=tills,
        book_ids=book_ids,
        stamp=_moment(source.reckoning.days.today),
    )
    paths = put_pack(files, folder, force=force, today=date.today(), source=source.book)
    for told in pack_lines(paths):
        click.echo(told)
    for remark in pack_remarks(source):
        print_error(remark)


def _moment(today: date | None) -> datetime:
    """Return this moment; where another day was said to be today, its midnight."""
    if today is None or today == date.today():
        return datetime.now(UTC)
    return datetime.combine(today, time(), UTC)
