"""The command report: the accounts after the sale."""

from datetime import date
from pathlib import Path
from typing import Any

import click

from salebook.base.errors import DONE, NOT_FINAL
from salebook.base.terminal import printable
from salebook.base.words import _
from salebook.commands.options import BOOK, FOLDER, JSON, PDF, TEMPLATES, read_day, today_option
from salebook.commands.output import print_error, print_json


@click.command()
@BOOK
@click.option("-o", "--out", "folder", type=FOLDER, help="Folder for the prints; made where missing.")
@click.option(
    "--up-to",
    callback=read_day,
    metavar="DAY",
    help="An interim report: the sale as it stood on the evening of this day, as year-month-day.",
)
@click.option(
    "--evening",
    callback=read_day,
    metavar="DAY",
    help="Only the page of this day's evening: its sums and its fingerprint, for two people to sign.",
)
@today_option("The day that stands on letters and statement")
@click.option("--final", is_flag=True, help="Write nothing while anything still needs a look.")
@click.option(
    "--hours", "with_hours", is_flag=True, help="Say on the statement how many hours the maker gave."
)
@click.option(
    "--forget", is_flag=True, help="With -o: put a copy of the book there in which Hand over is empty."
)
@TEMPLATES
@PDF
@JSON
def report(
    book: Path,
    folder: Path | None,
    *,
    up_to: date | None,
    evening: date | None,
    final: bool,
    forget: bool,
    as_json: bool,
    **options: Any,
) -> int:
    """Make the accounts after the sale.

    These are the statement, letters, thanks, a poster, and the list of what is to hand over. BOOK is the
    filled-in workbook. The exit code is 3 while lines need a look: the figures are not final.

    \b
    Examples:
      salebook report sale.xlsx -o accounts
      salebook report sale.xlsx -o interim --up-to 2027-06-19
      salebook report sale.xlsx -o evenings --evening 2027-06-19
      salebook report sale.xlsx --json
      salebook report sale.xlsx -o accounts --final --forget
    """
    from salebook.base.files import made_file
    from salebook.jobs.report import (
        before_forgetting,
        needs_a_look,
        refuse_unless_final,
        report_lines,
        report_on,
        write_report,
    )

    if evening:
        hours = options.pop("with_hours")
        _refuse_with_evening(up_to=up_to, final=final, as_json=as_json, forget=forget, hours=hours)
        return _evening(book, evening, folder, **options)
    _refuse_to_mix(folder, up_to, final=final, as_json=as_json, forget=forget)
    made = report_on(book, up_to=up_to)
    if final:
        refuse_unless_final(made)
    if folder and forget and (waits := before_forgetting(made, book, folder)):
        print_error("\n".join(waits))
    said = list(report_lines(made))
    if folder:
        said += [made_file(path) for path in write_report(made, folder, with_people=not forget, **options)]
    if folder and forget:
        said += _forget(book, folder)
    if as_json:
        from salebook.jobs.report_json import report_json

        print_json(report_json(made))
    else:
        click.echo(printable("\n".join(said)))
    if made.questions:
        print_error("\n".join(needs_a_look(made)))
    return NOT_FINAL if made.questions else DONE


def _refuse_to_mix(
    folder: Path | None, up_to: date | None, *, final: bool, as_json: bool, forget: bool
) -> None:
    if folder is None and forget:
        raise click.UsageError(_("'--forget' needs '-o': the folder for the copy of the book."))
    if folder is None and not as_json:
        says = _("Missing option '-o': the folder for the prints. Without it there is --json.")
        raise click.UsageError(says)
    if final and up_to:
        says = _("'--final' and '--up-to' do not go together: an interim report is not final.")
        raise click.UsageError(says)


def _refuse_with_evening(**others: object) -> None:
    given = [f"--{name.replace('_', '-').removeprefix('as-')}" for name, value in others.items() if value]
    if given:
        says = _("'--evening' makes one page and does not go together with {options}.")
        raise click.UsageError(says.format(options=", ".join(given)))


def _evening(
    book: Path,
    day: date,
    folder: Path | None,
    *,
    today: date,
    templates: Path | None,
    as_pdf: bool,
) -> int:
    from salebook.base.files import made_file
    from salebook.jobs.report import needs_a_look, report_on, write_evening

    if folder is None:
        raise click.UsageError(_("'--evening' needs '-o': the folder for its page."))
    made = report_on(book)
    for path in write_evening(made, day, folder, today=today, templates=templates, as_pdf=as_pdf):
        click.echo(printable(made_file(path)))
    if made.questions:
        print_error("\n".join(needs_a_look(made)))
    return NOT_FINAL if made.questions else DONE


def _forget(book: Path, folder: Path) -> list[str]:
    from salebook.jobs.report import without_people_line, write_without_people

    return [without_people_line(write_without_people(book, folder))]
