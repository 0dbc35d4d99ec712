"""How the commands say something."""

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from salebook.base.errors import DONE, NOT_FINAL
from salebook.base.terminal import printable
from salebook.base.words import _

if TYPE_CHECKING:
    from collections.abc import Sequence

    from salebook.event.question import Question


def tell_copy(copy: Path | None) -> None:
    """Say where the workbook is that stood there before."""
    if copy:
        click.echo(_("The workbook that stood there before is now {copy}.").format(copy=copy))


def ask_about(questions: "Sequence[Question]") -> int:
    """Say what a person has to look at, and return the exit code."""
    from salebook.event.question import question_line

    for question in questions:
        print_error(_("  to look at: {place}").format(place=question_line(question)))
    return NOT_FINAL if questions else DONE


def print_json(values: object) -> None:
    """Print one JSON object and nothing else."""
    click.echo(json.dumps(values, indent=2))


def made_file(path: Path) -> str:
    """Say that a file was written."""
    return _("Made {file}").format(file=path)


def print_error(message: str) -> None:
    """Say something on standard error."""
    click.echo(printable(message), err=True)
