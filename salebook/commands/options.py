"""What the commands take: their arguments and options."""

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path
from typing import Any, NoReturn

import click

from salebook.base.words import N_, _

Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]


class Place(click.Path):
    """A file or folder that is named: an empty text, which would mean the present folder, is refused.

    So is "-" where `no_dash` says why, and a name without the `ending` that spreadsheet programs go by.
    """

    def __init__(self, *, no_dash: str = "", ending: str = "") -> None:
        # Whether it can be read is found out by those who read it, and said in their words.
        super().__init__(readable=False, path_type=Path)
        self._no_dash, self._ending = no_dash, ending

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the path that was given."""
        if value == "":
            refuse(_("is empty: name a file or folder"), param, ctx)
        if value == "-" and self._no_dash:
            refuse(_(self._no_dash), param, ctx)
        if not str(value).lower().endswith(self._ending):
            says = _("is {value}, which is no name for a workbook: let it end in .xlsx")
            refuse(says.format(value=value), param, ctx)
        return super().convert(value, param, ctx)


def read_day(ctx: click.Context, param: click.Parameter, value: str | None) -> date | None:
    """Read the date that an option was given."""
    try:
        return None if value is None else datetime.strptime(value, "%Y-%m-%d").date()
    except ValueError:
        refuse(_found(value, _("a date as year-month-day, such as 2027-06-12")), param, ctx)


def read_today(ctx: click.Context, param: click.Parameter, value: str | None) -> date:
    """Read the date that an option was given, else take the computer's."""
    return read_day(ctx, param, value) or date.today()


def refuse(says: str, param: click.Parameter | None, ctx: click.Context | None) -> NoReturn:
    """Refuse what was given for an argument; raises click.UsageError.

    What click itself says of a bad argument begins with words for programmers.
    """
    raise click.UsageError(f"{param.get_error_hint(ctx)} {says}" if param and ctx else says, ctx)


def _found(value: object, expected: str) -> str:
    return _("is {value}: expected {expected}").format(value=value, expected=expected)


FILE = Place()
FOLDER = Place(no_dash=N_("is standard output, which cannot hold several files: name a folder"))
FILLED_IN = Place(no_dash=N_("is standard input, which cannot hold a workbook: name its file"))
NEW_BOOK = Place(ending=".xlsx")

PLAN = click.argument("plan", type=FILE)
BOOK = click.argument("book", type=FILLED_IN)
FORCE = click.option(
    "--force", is_flag=True, help="Overwrite a workbook with entries in it, and keep a dated copy."
)
TEMPLATES = click.option("--templates", type=FOLDER, help="Folder of your own templates, which come first.")
PDF = click.option(
    "--pdf", "as_pdf", is_flag=True, help="PDF as well; needs: .venv/bin/pip install '.[pdf]'."
)
JSON = click.option("--json", "as_json", is_flag=True, help="Print one JSON object and nothing else.")


def today_option(meaning: str) -> Decorator:
    """Return the option for a day that is today where it is not given."""
    says = f"{meaning}, as year-month-day; without it, the computer's date."
    return click.option("--today", callback=read_today, metavar="DAY", help=says)


def number_option(name: str, most: int, meaning: str) -> Decorator:
    """Return an option for a whole number from 0 to `most`."""

    def read(ctx: click.Context, param: click.Parameter, value: str) -> int:
        from salebook.base.errors import UnfitError
        from salebook.plan.fields import Number

        kind = Number(0, most, whole=True)
        try:
            return int(kind(value))
        except UnfitError:
            refuse(_found(value, kind.expected()), param, ctx)

    return click.option(name, callback=read, metavar="NUMBER", default="0", help=meaning)


TODAY = today_option("The day from which to reckon if there is time")
