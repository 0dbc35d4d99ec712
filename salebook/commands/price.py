"""The command price: the costing and the price advice."""

from datetime import date, datetime
from pathlib import Path

import click
from click.core import ParameterSource

from salebook.base.words import _
from salebook.commands.options import JSON, PLAN, TODAY, refuse
from salebook.commands.output import print_json


def read_moment(ctx: click.Context, param: click.Parameter, value: str | None) -> datetime | None:
    """Read the day and time that an option was given."""
    try:
        return None if value is None else datetime.strptime(value.replace("T", " "), "%Y-%m-%d %H:%M")
    except ValueError:
        says = _('is {value}: expected a day and a time, such as "2027-06-19 17:30"')
        refuse(says.format(value=value), param, ctx)


NOW = click.option(
    "--now",
    callback=read_moment,
    metavar="MOMENT",
    help='For a workbook: the day and time from which to look ahead, such as "2027-06-19 17:30".',
)


@click.command()
@PLAN
@NOW
@TODAY
@JSON
@click.pass_context
def price(ctx: click.Context, plan: Path, *, now: datetime | None, today: date, as_json: bool) -> None:
    """Show the costing and the price advice.

    PLAN is a .toml file, - for standard input, or a workbook made by salebook. Of a workbook that is filled
    in it says where the sale stands, what can be expected from here on, and what can still be done; --today
    then means the evening of that day.

    \b
    Examples:
      salebook price plan.toml
      salebook price plan.toml --today 2027-03-01
      salebook price plan.toml --json
      salebook price pack/sale.xlsx
      salebook price pack/sale.xlsx --now "2027-06-19 17:30"
    """
    from salebook.jobs.source import is_workbook, reckoning_from

    is_day_given = ctx.get_parameter_source("today") is not ParameterSource.DEFAULT
    if now and is_day_given:
        refuse(_("--now says the day too: leave out --today"), None, ctx)
    if is_workbook(plan):
        _of_book(plan, now=now, today=today if is_day_given else None, as_json=as_json)
        return
    day = now.date() if now else today
    reckoning = reckoning_from(plan, today=day, said="--now" if now else "--today")
    if as_json:
        from salebook.jobs.price_json import price_json

        print_json(price_json(reckoning))
    else:
        from salebook.jobs.answer import open_console
        from salebook.jobs.price import show_price

        show_price(reckoning, open_console())


def _of_book(book: Path, *, now: datetime | None, today: date | None, as_json: bool) -> None:
    from salebook.jobs.forecast import forecast_from, show_forecast

    asked = forecast_from(book, now=now, today=today, clock=datetime.now())
    if as_json:
        from salebook.jobs.forecast_json import forecast_json

        print_json(forecast_json(asked.forecast))
    else:
        from salebook.jobs.answer import open_console

        show_forecast(asked, open_console())
