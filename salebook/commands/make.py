"""The command make: the sale pack."""
# ruff: noqa: PLC0415  a command imports the rooms that it needs itself, so that --help is quick

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from salebook.base.words import _
from salebook.commands.options import FOLDER, FORCE, PDF, PLAN, TEMPLATES, TODAY, day_of, read_number
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
@click.option(
    "--tills",
    callback=read_number(MOST_TILLS),
    metavar="NUMBER",
    default="0",
    help="A workbook for each of so many tables too; join them afterwards.",
)
def make(
    plan: Path,
    folder: Path,
    *,
    today: date | None,
    force: bool,
    templates: Path | None,
    as_pdf: bool,
    tills: int,
) -> None:
    """Make the sale pack: the workbook and the prints.

    PLAN is a .toml file, - for standard input, or a workbook made by salebook.

    \b
    Examples:
      salebook make plan.toml -o pack
      salebook make plan.toml -o pack --tills 2
      salebook make plan.toml -o pack --pdf
    """
    from salebook.jobs.source import reckoning_from

    reckoning = reckoning_from(plan, today=day_of(today))
    make_and_tell(reckoning, folder, force=force, templates=templates, as_pdf=as_pdf, tills=tills)


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
    from salebook.jobs.make import make_pack, new_mark, put_pack
    from salebook.photos.extra import can_read_photos, how_to_install
    from salebook.prints.labels.labels import label_remarks

    marks = [new_mark() for _book in range(tills + 1)]
    files = make_pack(reckoning, templates=templates, as_pdf=as_pdf, tills=tills, marks=marks)
    book, *prints = put_pack(files, folder, force=force, today=date.today())
    click.echo(_("Made {book}: open it first and begin at its sheet Start here.").format(book=book))
    for path in prints:
        click.echo(made_file(path))
    if not can_read_photos():
        click.echo(how_to_install())
    for remark in label_remarks(reckoning):
        print_error(remark)
