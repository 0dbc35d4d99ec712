"""The commands that make files for the sale: make, labels, demo."""
# ruff: noqa: PLC0415  each command imports the rooms that it needs, so that --help is quick

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from salebook.commands.shared import (
    FOLDER,
    FORCE,
    PDF,
    PLAN,
    TEMPLATES,
    TODAY,
    Place,
    complain,
    day_of,
    made_file,
    read_number,
)
from salebook.errors import DONE, NOT_FINAL
from salebook.words import _

if TYPE_CHECKING:
    from salebook.reckoning import Reckoning

MOST_TILLS: Final = 50
MOST_LABELS: Final = 1_000_000
"""On the largest sheet that a plan can describe."""


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
    from salebook.source import reckoning_from

    reckoning = reckoning_from(plan, today=day_of(today))
    _make(reckoning, folder, force=force, templates=templates, as_pdf=as_pdf, tills=tills)


@click.command()
@click.argument("source", metavar="PLAN|BOOK", type=Place())
@click.option(
    "-o",
    "--out",
    "file",
    type=Place(),
    help="A .html or .pdf to write; - is standard output.  [labels.html]",
)
@click.option("--only", help='Some pieces: "LAN-003,LAN-007..012".')
@click.option("--made", is_flag=True, help="From a workbook: only wares whose count out of the kiln is in.")
@click.option("--without-reserved", is_flag=True, help="From a workbook: leave out what is spoken for.")
@click.option(
    "--skip",
    callback=read_number(MOST_LABELS),
    metavar="NUMBER",
    default="0",
    help="Labels at the start of the first sheet that are used already.",
)
@click.option("--nudge", default="0,0", help='Move all labels, mm to the right and down: "0.5,-1".')
@click.option(
    "--outline", is_flag=True, help="Print the outlines and a ruler instead, to try on plain paper."
)
@click.option("--tags", is_flag=True, help="Tie-on cards with a stub in place of labels.")
@click.option("--claim-slips", is_flag=True, help="The same with a slip for who fetches the piece later.")
@TEMPLATES
@click.option(
    "--pdf", "as_pdf", is_flag=True, help="PDF in place of HTML; needs: .venv/bin/pip install '.[pdf]'."
)
def labels(
    source: Path,
    *,
    file: Path | None,
    only: str | None,
    made: bool,
    without_reserved: bool,
    skip: int,
    nudge: str,
    outline: bool,
    tags: bool,
    claim_slips: bool,
    templates: Path | None,
    as_pdf: bool,
) -> int:
    """Print labels, or tie-on cards, for all pieces or some.

    PLAN is a .toml file, - is standard input; BOOK is a sale's workbook, whose pieces that are sold or were
    not made get no label unless --only names them.

    \b
    Examples:
      salebook labels plan.toml
      salebook labels plan.toml --outline -o outline.html
      salebook labels sale.xlsx --only LAN-003,LAN-007..012 --skip 5 --nudge 0.5,-1
      salebook labels sale.xlsx --made --claim-slips -o tags.pdf
    """
    from salebook.labelling import LabelOptions, comes_as_pdf, labelling_from, print_remarks, printed

    options = LabelOptions(
        only=only,
        skip=skip,
        nudge=nudge,
        outline=outline,
        tags=tags or claim_slips,
        claim_slips=claim_slips,
        templates=templates,
        as_pdf=comes_as_pdf(file, asked=as_pdf),
    )
    labelling = labelling_from(source, only=only, only_made=made, without_reserved=without_reserved)
    _put(printed(labelling, options), file or options.usual_file)
    for remark in print_remarks(labelling, options):
        complain(remark)
    return NOT_FINAL if labelling.questions else DONE


def _put(content: bytes, file: Path) -> None:
    from salebook.book.safe_file import write_whole
    from salebook.source import DASH

    if file == DASH:
        click.echo(content, nl=False)
        return
    write_whole(file, content)
    click.echo(made_file(file))


@click.command()
@click.argument("folder", default="demo", type=FOLDER)
@FORCE
def demo(folder: Path, *, force: bool) -> None:
    """Make all of it on the full sample.

    That is its plan, the sale pack, a workbook filled in over a weekend, and the accounts. FOLDER is made
    where it is missing; without it, demo.

    \b
    Examples:
      salebook demo
      salebook demo somewhere
    """
    from salebook.samples import FULL, own_samples
    from salebook.source import reckoning_from

    _make(reckoning_from(own_samples() / FULL, today=date.today()), folder, force=force)
    _show_afterwards(folder)


def _show_afterwards(folder: Path) -> None:
    """Put the sample's plan and its filled-in workbook into a folder, and the accounts made from that."""
    from salebook.book.safe_file import write_whole
    from salebook.report import report_on, write_report
    from salebook.samples import FILLED, FULL, own_samples

    for name in (FULL, FILLED):
        if not (folder / name).exists():
            write_whole(folder / name, (own_samples() / name).read_bytes())
    made = report_on(folder / FILLED)
    paths = write_report(made, folder / "accounts", today=date.today())
    says = (
        _("The plan: {plan}"),
        _("The workbook after the weekend, some of it wrong on purpose: {book}"),
        _("What came of it, {count} files: {accounts}"),
        _("{lines} lines need a look: salebook check {book}"),
    )
    names = {"plan": folder / FULL, "book": folder / FILLED, "accounts": folder / "accounts"}
    click.echo("\n".join(says).format(**names, count=len(paths), lines=made.to_look_at))


def _make(
    reckoning: "Reckoning",
    folder: Path,
    *,
    force: bool,
    templates: Path | None = None,
    as_pdf: bool = False,
    tills: int = 0,
) -> None:
    from salebook.pack import make_pack, new_mark, put_pack
    from salebook.prints.labels import label_remarks

    marks = [new_mark() for _book in range(tills + 1)]
    files = make_pack(reckoning, templates=templates, as_pdf=as_pdf, tills=tills, marks=marks)
    book, *prints = put_pack(files, folder, force=force, today=date.today())
    click.echo(_("Made {book}: open it first and begin at its sheet Start here.").format(book=book))
    for path in prints:
        click.echo(made_file(path))
    for remark in label_remarks(reckoning):
        complain(remark)
