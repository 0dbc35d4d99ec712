"""The command check: what is wrong in a plan or a workbook."""

from pathlib import Path

import click

from salebook.base.terminal import printable
from salebook.commands.options import FILE, JSON
from salebook.commands.output import print_json


@click.command()
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=FILE)
@JSON
def check(files: tuple[Path, ...], *, as_json: bool) -> int:
    """List all that is wrong in a plan or a workbook; changes nothing.

    FILE is a plan (.toml), - for standard input, or a workbook made by salebook. The exit code is 3 where
    rows of a workbook need a person.

    \b
    Examples:
      salebook check plan.toml
      salebook check sale.xlsx
    """
    from salebook.jobs.check import check_file, check_json, check_lines

    checks = [check_file(file) for file in files]
    if as_json:
        print_json({"files": [check_json(each) for each in checks]})
    else:
        for each in checks:
            # What is wrong with a plan is this command's answer; only a file that cannot be read is an error.
            click.echo(printable("\n".join(check_lines(each))), err=bool(each.trouble))
    return max(each.exit_code for each in checks)
