"""The commands before the sale: start, check, price."""
# ruff: noqa: PLC0415  each command imports the rooms that it needs, so that --help is quick

import os
import sys
from contextlib import suppress
from datetime import date
from pathlib import Path

import click

from salebook.commands.shared import (
    JSON,
    PLAN,
    TODAY,
    Place,
    answer,
    day_of,
    harmless,
)


@click.command()
@click.argument("file", default="plan.toml", type=Place())
@click.option("--blank", is_flag=True, help="Ask nothing: write a plan with example values to change.")
@click.option("--all", "every", is_flag=True, help="Ask all questions, not only the dozen that matter most.")
def start(file: Path, *, blank: bool, every: bool) -> None:
    """Ask a dozen questions and write a plan.

    What they leave open is assumed and marked; more at the end, or --all, asks that too. Ctrl-C keeps the
    answers: the same command goes on with them.

    FILE is where the plan goes; without it, plan.toml. With --blank it may be -, standard output.

    \b
    Examples:
      salebook start
      salebook start spring.toml --all
      salebook start spring.toml --blank
    """
    from salebook.first_plan import ask_for_plan, write_blank_plan
    from salebook.start.home import home_of

    home = home_of(os.environ, today=date.today())
    if blank:
        write_blank_plan(file, home, say=click.echo)
    else:
        ask_for_plan(file, home, ask=_ask, say=click.echo, on_terminal=_is_on_terminal(), every=every)


def _ask(prompt: str) -> str:
    with suppress(ImportError):
        import readline  # noqa: F401  lets the arrow keys work while one types
    return input(prompt)


def _is_on_terminal() -> bool:
    streams = (sys.stdin, sys.stdout)
    return all(stream is not None and stream.isatty() for stream in streams)


@click.command()
@click.argument("files", metavar="FILE...", nargs=-1, required=True, type=Place())
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
    from salebook.checking import check_answer, check_file, check_lines

    checks = [check_file(file) for file in files]
    if as_json:
        answer({"files": [check_answer(each) for each in checks]})
    else:
        for each in checks:
            # What is wrong with a plan is this command's answer; only a file that cannot be read is an error.
            click.echo(harmless("\n".join(check_lines(each))), err=bool(each.trouble))
    return max(each.exit_code for each in checks)


@click.command()
@PLAN
@TODAY
@JSON
def price(plan: Path, *, today: date | None, as_json: bool) -> None:
    """Show the costing and the price advice.

    PLAN is a .toml file, - for standard input, or a workbook made by salebook.

    \b
    Examples:
      salebook price plan.toml
      salebook price plan.toml --today 2027-03-01
      salebook price plan.toml --json
    """
    from salebook.source import reckoning_from

    reckoning = reckoning_from(plan, today=day_of(today))
    if as_json:
        from salebook.answer import price_answer

        answer(price_answer(reckoning))
    else:
        from salebook.terminal import open_console, show_price

        show_price(reckoning, open_console())
