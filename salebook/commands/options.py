"""What the commands take: their arguments and options."""

import unicodedata
from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import Any, NoReturn

import click

from salebook.base.words import _


class Place(click.Path):
    """A file or folder that is named: an empty text, which would mean the present folder, is refused."""

    def __init__(self) -> None:
        # Whether it can be read is found out by those who read it, and said in their words.
        super().__init__(readable=False, path_type=Path)

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path that was given."""
        if value == "":
            refuse(_("is empty: name a file or folder"), param, ctx)
        return super().convert(value, param, ctx)


class Folder(Place):
    """A folder that is named: "-" would be standard output, which holds one file at most."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path that was given."""
        if value == "-":
            refuse(_("is standard output, which cannot hold several files: name a folder"), param, ctx)
        return super().convert(value, param, ctx)


class FilledIn(Place):
    """A workbook that is named, to be read: standard input would not do, since it has no place beside it."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path that was given."""
        if value == "-":
            refuse(_("is standard input, which cannot hold a workbook: name its file"), param, ctx)
        return super().convert(value, param, ctx)


class NewBook(Place):
    """A workbook that is named, to be written: spreadsheet programs go by the ending."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path that was given."""
        if str(value) and not str(value).lower().endswith(".xlsx"):
            says = _("is {value}, which is no name for a workbook: let it end in .xlsx")
            refuse(says.format(value=value), param, ctx)
        return super().convert(value, param, ctx)


def read_day(ctx: click.Context, param: click.Parameter, value: str | None) -> date | None:
    """Read the date that an option was given."""
    try:
        return None if value is None else datetime.strptime(value, "%Y-%m-%d").date()
    except ValueError:
        refuse(_found(value, _("a date as year-month-day, such as 2027-06-12")), param, ctx)


def read_number(most: int) -> Callable[[click.Context, click.Parameter, str], int]:
    """Return what reads the whole number that an option was given, from 0 to `most`."""

    def read(ctx: click.Context, param: click.Parameter, value: str) -> int:
        from salebook.base.errors import UnfitError  # noqa: PLC0415  as in each command
        from salebook.plan.fields import Number  # noqa: PLC0415

        number = Number(0, most, whole=True)
        try:
            return int(number(value))
        except UnfitError:
            refuse(_found(value, number.expected()), param, ctx)

    return read


def refuse(says: str, param: click.Parameter | None, ctx: click.Context | None) -> NoReturn:
    """Refuse what was given for an argument; raises click.UsageError.

    What click itself says of a bad argument begins with words for programmers.
    """
    raise click.UsageError(f"{param.get_error_hint(ctx)} {says}" if param and ctx else says, ctx)


def _found(value: object, expected: str) -> str:
    return _("is {value}: expected {expected}").format(value=value, expected=expected)


PLAN = click.argument("plan", type=Place())

FOLDER = Folder()

BOOK = FilledIn()

NEW_BOOK = NewBook()

FORCE = click.option(
    "--force", is_flag=True, help="Overwrite a workbook with entries in it, and keep a dated copy."
)

TODAY = click.option(
    "--today",
    callback=read_day,
    metavar="DAY",
    help="The day from which to reckon if there is time, as year-month-day; without it, the computer's date.",
)

TEMPLATES = click.option("--templates", type=FOLDER, help="Folder of your own templates, which come first.")

PDF = click.option(
    "--pdf", "as_pdf", is_flag=True, help="PDF as well; needs: .venv/bin/pip install '.[pdf]'."
)

JSON = click.option("--json", "as_json", is_flag=True, help="Print one JSON object and nothing else.")


def in_its_place(letter: str) -> str:
    """Return a plain space for the narrow and unbroken ones that stand in amounts, else a mark."""
    return " " if unicodedata.category(letter) == "Zs" else "\N{REPLACEMENT CHARACTER}"


def day_of(given: date | None) -> date:
    """Return the day that was given, else the computer's date."""
    return given or date.today()
