"""The command verify: a report's list of lines, added up again."""

from pathlib import Path

import click

from salebook.base.errors import DONE, NOT_FINAL
from salebook.base.terminal import printable
from salebook.commands.options import JSON, Place
from salebook.commands.output import print_error, print_json


@click.command()
@click.argument("lines", type=Place())
@click.option(
    "--fingerprint",
    "letter",
    default="",
    metavar="LETTERS",
    help="The twenty letters on your letter, the statement or the evening's page.",
)
@JSON
def verify(lines: Path, *, letter: str, as_json: bool) -> int:
    """Add a report's list up again, and compare it with a letter.

    LINES is the file lines.csv of a report, also as a spreadsheet program has saved it. The exit code is 3
    when something differs.

    \b
    Examples:
      salebook verify accounts/lines.csv
      salebook verify lines.csv --fingerprint SE72-JVZG-9XJA-EDCF-7TSZ
      salebook verify lines.csv --json
    """
    from salebook.jobs.verify import (
        remarks,
        tables_of,
        verdict,
        verification_json,
        verify_list,
        what_is_wrong,
    )

    found = verify_list(lines, letter)
    wrong = list(what_is_wrong(found, str(lines)))
    if as_json:
        print_json(verification_json(found))
    else:
        from salebook.jobs.answer import open_console
        from salebook.jobs.columns import show_tables

        click.echo(printable("\n".join([verdict(found), *remarks(found)])))
        show_tables(tables_of(found), open_console())
    if wrong:
        print_error("\n".join(wrong))
    return DONE if found.is_sound else NOT_FINAL
