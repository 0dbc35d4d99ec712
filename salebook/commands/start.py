"""The command start: questions, and a plan from the answers."""

import os
import sys
from contextlib import suppress
from datetime import date, datetime
from pathlib import Path

import click
from click.core import ParameterSource

from salebook.base.errors import DONE
from salebook.base.words import _
from salebook.commands.options import FILE, FILLED_IN, refuse, today_option
from salebook.commands.output import ask_about


@click.command()
@click.argument("file", default="plan.toml", type=FILE)
@click.option("--blank", is_flag=True, help="Ask nothing: write a plan with example values to change.")
@click.option("--all", "every", is_flag=True, help="Ask all questions, not only the dozen that matter most.")
@click.option("--from", "book", type=FILLED_IN, metavar="BOOK", help="Plan the next sale from this workbook.")
@click.option("--yes", "as_proposed", is_flag=True, help="With --from: ask nothing, take what is proposed.")
@today_option("The day on which you plan, and up to which --from reads")
@click.pass_context
def start(
    ctx: click.Context,
    file: Path,
    *,
    blank: bool,
    every: bool,
    book: Path | None,
    as_proposed: bool,
    today: date,
) -> int:
    """Ask a dozen questions and write a plan.

    What they leave open is assumed and marked; more at the end, or --all, asks that too. Ctrl-C keeps the
    answers: the same command goes on with them.

    FILE is where the plan goes; without it, plan.toml. With --blank it may be -, standard output.

    With --from the plan of the next sale comes from BOOK, the filled-in workbook of the last one: it says
    what was learned, from how many, and asks only what changes.

    \b
    Examples:
      salebook start
      salebook start spring.toml --all
      salebook start spring.toml --blank
      salebook start --from pack/sale.xlsx next.toml
      salebook start --from pack/sale.xlsx next.toml --yes
    """
    _refuse_what_goes_not_together(ctx, blank=blank, every=every, book=book, as_proposed=as_proposed)
    if book is not None:
        is_day_given = ctx.get_parameter_source("today") is not ParameterSource.DEFAULT
        return _next_sale(book, file, today=today if is_day_given else None, as_proposed=as_proposed)
    from salebook.jobs.start import ask_for_plan, write_blank_plan
    from salebook.start.locale_defaults import locale_defaults_of

    defaults = locale_defaults_of(os.environ, today=today)
    if blank:
        write_blank_plan(file, defaults, say=click.echo)
    else:
        ask_for_plan(file, defaults, ask=_ask, say=click.echo, on_terminal=_is_on_terminal(), every=every)
    return DONE


def _refuse_what_goes_not_together(
    ctx: click.Context, *, blank: bool, every: bool, book: Path | None, as_proposed: bool
) -> None:
    if book is not None and (blank or every):
        refuse(_("--from asks only what changes: leave out --blank and --all"), None, ctx)
    if as_proposed and book is None:
        refuse(_("--yes takes what --from BOOK proposes: name the workbook"), None, ctx)


def _next_sale(book: Path, file: Path, *, today: date | None, as_proposed: bool) -> int:
    from salebook.jobs.start_from import ask_for_next_plan, write_as_proposed

    clock = datetime.now()
    if as_proposed:
        questions = write_as_proposed(book, file, today=today, clock=clock, say=click.echo)
    else:
        questions = ask_for_next_plan(
            *(book, file),
            today=today,
            clock=clock,
            ask=_ask,
            say=click.echo,
            on_terminal=_is_on_terminal(),
        )
    return ask_about(questions)


def _ask(prompt: str) -> str:
    with suppress(ImportError):
        import readline  # noqa: F401  lets the arrow keys work while one types
    return input(prompt)


def _is_on_terminal() -> bool:
    streams = (sys.stdin, sys.stdout)
    return all(stream is not None and stream.isatty() for stream in streams)
