"""How the commands say something."""

import json
from typing import TYPE_CHECKING

import click

from salebook.base.errors import DONE, NOT_FINAL
from salebook.base.terminal import printable
from salebook.base.words import _

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from salebook.event.question import Question


def tell(lines: "Iterable[str]") -> None:
    """Say some lines."""
    for line in lines:
        click.echo(printable(line))


def ask_about(questions: "Sequence[Question]") -> int:
    """Say what a person has to look at, and return the exit code."""
    from salebook.event.question import question_line

    for question in questions:
        print_error(_("  to look at: {place}").format(place=question_line(question)))
    return NOT_FINAL if questions else DONE


def print_json(values: object) -> None:
    """Print one JSON object and nothing else."""
    click.echo(json.dumps(values, indent=2))


def print_error(message: str) -> None:
    """Say something on standard error."""
    click.echo(printable(message), err=True)
