"""The command start: questions, and a plan from the answers."""

import os
import sys
from contextlib import suppress
from datetime import date
from pathlib import Path

import click

from salebook.commands.options import FILE


@click.command()
@click.argument("file", default="plan.toml", type=FILE)
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
    from salebook.jobs.start import ask_for_plan, write_blank_plan
    from salebook.start.locale_defaults import locale_defaults_of

    defaults = locale_defaults_of(os.environ, today=date.today())
    if blank:
        write_blank_plan(file, defaults, say=click.echo)
    else:
        ask_for_plan(file, defaults, ask=_ask, say=click.echo, on_terminal=_is_on_terminal(), every=every)


def _ask(prompt: str) -> str:
    with suppress(ImportError):
        import readline  # noqa: F401  lets the arrow keys work while one types
    return input(prompt)


def _is_on_terminal() -> bool:
    streams = (sys.stdin, sys.stdout)
    return all(stream is not None and stream.isatty() for stream in streams)
