"""The command price: the costing and the price advice."""

from datetime import date
from pathlib import Path

import click

from salebook.commands.options import JSON, PLAN, TODAY
from salebook.commands.output import print_json


@click.command()
@PLAN
@TODAY
@JSON
def price(plan: Path, *, today: date, as_json: bool) -> None:
    """Show the costing and the price advice.

    PLAN is a .toml file, - for standard input, or a workbook made by salebook.

    \b
    Examples:
      salebook price plan.toml
      salebook price plan.toml --today 2027-03-01
      salebook price plan.toml --json
    """
    from salebook.jobs.source import reckoning_from

    reckoning = reckoning_from(plan, today=today)
    if as_json:
        from salebook.jobs.price_json import price_json

        print_json(price_json(reckoning))
    else:
        from salebook.jobs.price import open_console, show_price

        show_price(reckoning, open_console())
