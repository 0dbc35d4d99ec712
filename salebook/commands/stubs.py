"""The command stubs: photographs of torn-off stubs into lines of takings."""

from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from salebook.base.terminal import printable
from salebook.base.words import _, ngettext
from salebook.commands.options import BOOK, NEW_BOOK, Place, read_day, refuse
from salebook.commands.output import ask_about, print_error, tell_copy

if TYPE_CHECKING:
    from collections.abc import Iterator

    from salebook.event.stubs import Pile
    from salebook.jobs.stubs import StubsRead


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
    from salebook.jobs.stubs import read_stubs

    asked = Asked(places=piles, paid=paid, day=day, counts=counts)
    made = read_stubs(book, asked, out=out, is_dry=is_dry, today=date.today())
    for told in _on_reading(made, book):
        click.echo(printable(told))
    tell_copy(made.kept_copy)
    code = ask_about(made.questions)
    if any(pile.falls_short for pile in made.piles):
        print_error(_advice())
    return code


def _on_reading(made: "StubsRead", book: Path) -> "Iterator[str]":
    for pile in made.piles:
        yield _on_pile(pile)
    yield from _on_others(made)
    if made.pictures:
        yield _("Made a picture of each photograph, with all that was read outlined:")
        yield from (f"  {picture}" for picture in made.pictures)
    lines = len(made.lines)
    if not made.is_written:
        yield _("No workbook was written; lines it would add: {lines}.").format(lines=lines)
        return
    says = ngettext(
        "Made {fresh}: {lines} line is added to all that {book} has. From now on use {fresh}.",
        "Made {fresh}: {lines} lines are added to all that {book} has. From now on use {fresh}.",
        lines,
    )
    yield says.format(fresh=made.path, lines=lines, book=book)


def _on_pile(pile: "Pile") -> str:
    read = len(pile.stubs)
    if pile.counted is None:
        says = ngettext(
            "{pile}: {read} stub was read; count yours.",
            "{pile}: {read} stubs were read; count yours.",
            read,
        )
    else:
        says = _("{pile}: stubs read: {read} of {counted}.")
    return says.format(pile=pile.name, read=read, counted=pile.counted)


def _on_others(made: "StubsRead") -> "Iterator[str]":
    for file in made.left_out:
        yield _("  left out, as it is no photograph of stubs: {file}").format(file=file)
    if of_no_stub := sum(pile.of_no_stub for pile in made.piles):
        yield _("  codes that are no stub's, left out: {count}").format(count=of_no_stub)


def _advice() -> str:
    return _(
        "What has no outline on the pictures was not read; its number is printed on the stub. Take it again "
        "closer, flatter, in better light, up to 60 stubs a photograph, 40 where it is dim, and send the "
        "original, not a messenger's copy. Or type it on Takings."
    )
