"""The command demo: all of it on the full sample."""

from datetime import date
from pathlib import Path

import click

from salebook.base.words import _, ngettext
from salebook.commands.make import make_and_tell
from salebook.commands.options import FOLDER, FORCE


@click.command()
@click.argument("folder", default="demo", type=FOLDER)
@FORCE
def demo(folder: Path, *, force: bool) -> None:
    """Make all of it on the full sample.

    That is its plan, the sale pack, a workbook filled in over a weekend, the accounts, and a photograph of
    stubs. FOLDER is made where it is missing; without it, demo.

    \b
    Examples:
      salebook demo
      salebook demo somewhere
    """
    from salebook.jobs.make import pack_source
    from salebook.jobs.samples import FULL, packaged_samples

    make_and_tell(pack_source(packaged_samples() / FULL, today=date.today()), folder, force=force)
    _show_afterwards(folder)


def _show_afterwards(folder: Path) -> None:
    """Put the sample's plan and its filled-in workbook into a folder, and the accounts made from that."""
    from salebook.base.files import write_atomically
    from salebook.base.folders import make_folder
    from salebook.jobs.make import BOOK
    from salebook.jobs.report import report_on, write_report
    from salebook.jobs.samples import FILLED, FULL, STUBS, packaged_samples

    pile = folder / "piles" / "cash"
    make_folder(pile)
    for name, path in ((FULL, folder / FULL), (FILLED, folder / FILLED), (STUBS, pile / STUBS)):
        if not path.exists():
            write_atomically(path, (packaged_samples() / name).read_bytes())
    made = report_on(folder / FILLED)
    paths = write_report(made, folder / "accounts", today=date.today())
    count = len(paths)
    says = (
        _("The plan: {plan}"),
        _("The workbook after the weekend, some of it wrong on purpose: {book}"),
        ngettext(
            "What came of it, {count} file: {accounts}", "What came of it, {count} files: {accounts}", count
        ),
        ngettext(
            "{lines} line needs a look: salebook check {book}",
            "{lines} lines need a look: salebook check {book}",
            made.to_look_at,
        ),
        _("A photograph of stubs, to make lines of: salebook stubs {sale} {pile} --day {day}"),
    )
    more = {"sale": folder / BOOK, "pile": pile, "day": made.plan.sale.days[0].isoformat()}
    names = {"plan": folder / FULL, "book": folder / FILLED, "accounts": folder / "accounts"}
    click.echo("\n".join(says).format(**names, **more, count=count, lines=made.to_look_at))
