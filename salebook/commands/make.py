"""The command make: the sale pack."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from salebook.base.words import _
from salebook.commands.options import FOLDER, FORCE, PDF, PLAN, TEMPLATES, TODAY, number_option
from salebook.commands.output import made_file, print_error

if TYPE_CHECKING:
    from salebook.reckoning import Reckoning

MOST_TILLS: Final = 50


@click.command()
@PLAN
@click.option(
    "-o", "--out", "folder", required=True, type=FOLDER, help="Folder for the pack; made where missing."
)
@TODAY
@FORCE
@TEMPLATES
@PDF
@number_option("--tills", MOST_TILLS, "A workbook for each of so many tables too; join them afterwards.")
def make(plan: Path, folder: Path, *, today: date, **options: Any) -> None:
    """Make the sale pack: the workbook and the prints.

    PLAN is a .toml file, - for standard input, or a workbook made by salebook.

    \b
    Examples:
      salebook make plan.toml -o pack
      salebook make plan.toml -o pack --tills 2
      salebook make plan.toml -o pack --pdf
    """
    from salebook.jobs.source import reckoning_from

    make_and_tell(reckoning_from(plan, today=today), folder, **options)


def make_and_tell(
    reckoning: "Reckoning",
    folder: Path,
    *,
    force: bool,
    templates: Path | None = None,
    as_pdf: bool = False,
    tills: int = 0,
) -> None:
    """Make the pack in a folder, and say what was made."""
    from salebook.jobs.make import make_pack, new_book_id, put_pack
    from salebook.photos.extra import can_read_photos, how_to_install
    from salebook.prints.labels.labels import label_remarks

    book_ids = [new_book_id() for _book in range(tills + 1)]
    files = make_pack(reckoning, templates=templates, as_pdf=as_pdf, tills=tills, book_ids=book_ids)
    book, *prints = put_pack(files, folder, force=force, today=date.today())
    click.echo(_("Made {book}: open it first and begin at its sheet Start here.").format(book=book))
    for path in prints:
        click.echo(made_file(path))
    if not can_read_photos():
        click.echo(how_to_install())
    for remark in label_remarks(reckoning):
        print_error(remark)
