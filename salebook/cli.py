"""The frame of the command line: one command with its parts, and how trouble is told; no arithmetic."""

import io
import os
import sys
import traceback
import warnings
from collections.abc import Sequence

import click

from salebook import __version__
from salebook.base.errors import COULD_NOT, DONE, SalebookError
from salebook.base.trouble import TRACE, trouble_text
from salebook.base.words import _
from salebook.commands.check import check
from salebook.commands.demo import demo
from salebook.commands.join import join
from salebook.commands.labels import labels
from salebook.commands.make import make
from salebook.commands.output import print_error
from salebook.commands.page import page
from salebook.commands.price import price
from salebook.commands.renew import renew
from salebook.commands.report import report
from salebook.commands.start import start
from salebook.commands.stubs import stubs
from salebook.commands.verify import verify


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code.

    0 done, 1 could not, 2 wrong use or a faulty plan, 3 done but lines need a person.

    Whatever goes wrong is said in plain words on standard error; where the environment has SALEBOOK_TRACE,
    the traceback of what nobody foresaw follows.
    """
    _bear_any_text()
    try:
        with warnings.catch_warnings():
            # What openpyxl remarks on a cell, salebook asks about in words of its own.
            warnings.filterwarnings("ignore", module=r"openpyxl\.")
            code = commands.main(args=arguments, prog_name="salebook", standalone_mode=False)
        _flush()
    # A reader that goes away (`| head`) and a full disk both come to light only at the last flush.
    except BrokenPipeError:
        return _let_go()
    except Exception as trouble:
        return _tell(trouble)
    return code if isinstance(code, int) else DONE


def _tell(trouble: Exception) -> int:
    """Say what went wrong in plain words and return the exit code."""
    match trouble:
        case click.ClickException():
            trouble.show()
            return trouble.exit_code
        case SalebookError():
            print_error(trouble_text(trouble))
            return trouble.exit_code
        case click.Abort():
            print_error(_("Stopped."))
        case OSError():
            print_error(trouble_text(trouble))
            return _let_go()
        case _:
            print_error(trouble_text(trouble))
            if os.environ.get(TRACE):
                traceback.print_exc()
    return COULD_NOT


class InOrder(click.Group):
    """Commands listed as a sale goes, not by the alphabet."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names of the commands in the order in which they were added."""
        del ctx
        return list(self.commands)


@click.group(name="salebook", cls=InOrder, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, message="%(prog)s %(version)s")
def commands() -> None:
    """From one plan to a charity sale of handmade pieces.

    Write a plan, look at its price advice, make the sale pack.

    \b
    Examples:
      salebook page
      salebook demo
      salebook start
      salebook check plan.toml
      salebook price plan.toml
      salebook make plan.toml -o pack
    """


for command in (page, start, check, price, make, renew, join, labels, stubs, report, verify, demo):
    commands.add_command(command)


def _bear_any_text() -> None:
    """Let a terminal that lacks a letter show something in its place instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def _flush() -> None:
    if sys.stdout is not None:
        sys.stdout.flush()


def _let_go() -> int:
    """Write what can still be written, and drop what cannot, which Python would complain of at its end."""
    try:
        _flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return COULD_NOT
