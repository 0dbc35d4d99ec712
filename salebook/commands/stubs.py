"""The command stubs: photographs of torn-off stubs into lines of takings."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path

import click

from salebook.base.words import _
from salebook.commands.options import BOOK, NEW_BOOK, Place, read_day, refuse
from salebook.commands.output import ask_about, print_error, tell


def read_counts(ctx: click.Context, param: click.Parameter, values: tuple[str, ...]) -> dict[str, int]:
    """Read how many stubs were counted, by the name of their pile."""
    counts = {}
    for value in values:
        name, _sign, number = value.rpartition("=")
        if not name or not (number.isascii() and number.isdigit() and len(number) < 6):
            expected = _("is {value}: expected a pile and how many stubs it has, such as cash=38")
            refuse(expected.format(value=value), param, ctx)
        counts[name] = int(number)
    return counts


@click.command()
@BOOK
@click.argument("piles", metavar="PILE...", nargs=-1, required=True, type=Place())
@click.option("--paid", metavar="WAY", help="How all was paid that lies in no folder of that name.")
@click.option(
    "--day",
    callback=read_day,
    metavar="DAY",
    help="The day of the sale, as year-month-day; needed where it has several.",
)
@click.option(
    "--count",
    "counts",
    multiple=True,
    callback=read_counts,
    metavar="PILE=NUMBER",
    help="How many stubs you counted in a pile; may be given for each.",
)
@click.option(
    "-o", "--out", type=NEW_BOOK, help="The workbook to write.  [BOOK's name with -stubs, beside it]"
)
@click.option("--dry-run", "is_dry", is_flag=True, help="Say what would be done, and write nothing.")
def stubs(
    book: Path,
    piles: tuple[Path, ...],
    *,
    paid: str | None,
    day: date | None,
    counts: Mapping[str, int],
    out: Path | None,
    is_dry: bool,
) -> int:
    """Make lines of Takings from photographs of stubs.

    PILE is a folder of photographs named after its way to pay, or other for what was sold at another price or
    with a gift; or photographs, with --paid. JPEG, PNG or HEIC. BOOK stays as it is; a fresh one has a line
    for each stub, and beside it lies a picture of each photograph with all that was read outlined. The exit
    code is 3 where stubs or lines need a person.

    \b
    Examples:
      salebook stubs sale.xlsx piles/cash piles/card --day 2027-06-19 --count cash=38 --count card=21
      salebook stubs sale.xlsx IMG_2041.jpg IMG_2042.jpg --paid cash --day 2027-06-19 -o saturday.xlsx
    """
    from salebook.photos.extra import require_photos

    require_photos()
    from salebook.jobs.piles import Asked
    from salebook.jobs.stubs import how_to_read_more, read_stubs, stubs_lines

    asked = Asked(places=piles, paid=paid, day=day, counts=counts)
    made = read_stubs(book, asked, out=out, is_dry=is_dry, today=date.today())
    tell(stubs_lines(made, book))
    code = ask_about(made.questions)
    if made.falls_short:
        print_error(how_to_read_more())
    return code
