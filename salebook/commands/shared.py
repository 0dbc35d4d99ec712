"""What the commands share: their options, and how they say something."""

import json
from datetime import date, datetime
from pathlib import Path
from typing import Any, Final

import click

DONE: Final = 0
COULD_NOT: Final = 1
NOT_FINAL: Final = 3
"""Exit codes; 2, wrong use or a faulty plan, is an error's own."""


class Place(click.Path):
    """A file or folder that is named: an empty text, which would mean the present folder, is refused."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path that was given."""
        if value == "":
            self.fail("is empty: name a file or folder", param, ctx)
        return super().convert(value, param, ctx)


class Folder(Place):
    """A folder that is named: "-" would be standard output, which holds one file at most."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path that was given."""
        if value == "-":
            self.fail("is standard output, which cannot hold several files: name a folder", param, ctx)
        return super().convert(value, param, ctx)


class FilledIn(Place):
    """A workbook that is named, to be read: standard input would not do, since it has no place beside it."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path that was given."""
        if value == "-":
            self.fail("is standard input, which cannot hold a workbook: name its file", param, ctx)
        return super().convert(value, param, ctx)


class NewBook(Place):
    """A workbook that is named, to be written: spreadsheet programs go by the ending."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path that was given."""
        if str(value) and not str(value).lower().endswith(".xlsx"):
            self.fail(f"{value} is no name for a workbook: let it end in .xlsx", param, ctx)
        return super().convert(value, param, ctx)


PLAN = click.argument("plan", type=Place(path_type=Path))
FOLDER = Folder(path_type=Path)
BOOK = FilledIn(path_type=Path)
NEW_BOOK = NewBook(path_type=Path)
FORCE = click.option(
    "--force", is_flag=True, help="Overwrite a workbook with entries in it, and keep a dated copy."
)
TODAY = click.option(
    "--today",
    type=click.DateTime(formats=["%Y-%m-%d"]),
    help="The day from which to reckon if there is time, as year-month-day; without it, the computer's date.",
)
TEMPLATES = click.option("--templates", type=FOLDER, help="Folder of your own templates, which come first.")
PDF = click.option("--pdf", "as_pdf", is_flag=True, help="PDF as well; needs: pip install 'salebook[pdf]'.")
JSON = click.option("--json", "as_json", is_flag=True, help="Print one JSON object and nothing else.")


def answer(values: object) -> None:
    """Print one JSON object and nothing else."""
    click.echo(json.dumps(values, indent=2))


def complain(message: str) -> None:
    """Say something on standard error."""
    click.echo(harmless(message), err=True)


def harmless(text: str) -> str:
    """Return a text in which no letter can steer a terminal, whatever file or name it was found in."""
    return "".join(
        letter if letter == "\n" or letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in text
    )


def day_of(given: datetime | None) -> date:
    """Return the day that was given, else the computer's date."""
    return given.date() if given else date.today()
