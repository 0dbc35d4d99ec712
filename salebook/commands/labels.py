"""The command labels: labels and tags by themselves."""

from pathlib import Path
from typing import Any, Final

import click

from salebook.base.errors import DONE, NOT_FINAL
from salebook.commands.options import FILE, TEMPLATES, number_option
from salebook.commands.output import print_error

MOST_LABELS: Final = 1_000_000
"""On the largest sheet that a plan can describe."""


@click.command()
@click.argument("source", metavar="PLAN|BOOK", type=FILE)
@click.option(
    "-o", "--out", "file", type=FILE, help="A .html or .pdf to write; - is standard output.  [labels.html]"
)
@click.option("--only", help='Some pieces: "LAN-003,LAN-007..012".')
@click.option("--made", is_flag=True, help="From a workbook: only wares whose count out of the kiln is in.")
@click.option("--without-reserved", is_flag=True, help="From a workbook: leave out what is spoken for.")
@number_option("--skip", MOST_LABELS, "Labels at the start of the first sheet that are used already.")
@click.option("--nudge", default="0,0", help='Move all labels, mm to the right and down: "0.5,-1".')
@click.option(
    "--outline", is_flag=True, help="Print the outlines and a ruler instead, to try on plain paper."
)
@click.option("--tags", is_flag=True, help="Tie-on cards with a stub in place of labels.")
@click.option("--claim-slips", is_flag=True, help="The same with a slip for who fetches the piece later.")
@click.option(
    "--addresses",
    is_flag=True,
    help="From a workbook: address labels for what is to be sent, with names; delete the file afterwards.",
)
@TEMPLATES
@click.option(
    "--pdf", "as_pdf", is_flag=True, help="PDF in place of HTML; needs: .venv/bin/pip install '.[pdf]'."
)
def labels(
    source: Path, *, file: Path | None, made: bool, without_reserved: bool, as_pdf: bool, **given: Any
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
      salebook labels sale.xlsx --addresses --skip 3
    """
    from salebook.jobs.labels import (
        LabelOptions,
        addressing_from,
        comes_as_pdf,
        labelling_from,
        print_remarks,
        printed,
    )

    options = LabelOptions(**given, as_pdf=comes_as_pdf(file, asked=as_pdf))
    if options.addresses:
        labelling = addressing_from(source, options, chosen_by_state=made or without_reserved)
    else:
        labelling = labelling_from(
            source, only=options.only, only_made=made, without_reserved=without_reserved
        )
    _put(printed(labelling, options), file or options.usual_file)
    for remark in print_remarks(labelling, options):
        print_error(remark)
    return NOT_FINAL if labelling.questions else DONE


def _put(content: bytes, file: Path) -> None:
    from salebook.base.files import made_file, write_atomically
    from salebook.jobs.source import DASH

    if file == DASH:
        click.echo(content, nl=False)
        return
    write_atomically(file, content)
    click.echo(made_file(file))
