"""The answer of `salebook price BOOK --json`: the plan's, and how the sale stands from a moment on."""

from decimal import Decimal
from typing import Any

from salebook.forecast.forecast import Forecast
from salebook.forecast.rungs import RungLeft
from salebook.forecast.state import Offered, SaleState
from salebook.jobs.price_json import JsonObject, json_money, json_prices, must_fetch_json, price_json
from salebook.plan.model import Outlook
from salebook.say.from_here_on import option_text
from salebook.say.leans_on import leans_on, odd_in_book


def forecast_json(forecast: Forecast) -> JsonObject:
    """Return everything of the plan in the book, and under "now" where the sale stands.

    "state" holds plain numbers, unrounded, from which anyone can reckon the figures; all other money is text
    with the currency's digits.
    """
    digits = forecast.plan.sale.digits
    return {**price_json(forecast.reckoning), "now": _now(forecast, digits)}


def _now(forecast: Forecast, digits: int) -> JsonObject:
    return {
        "at": forecast.now.isoformat(timespec="minutes"),
        "over": float(forecast.standing.over),
        "state": _plain(forecast.as_it_is.state),
        "figures": _figures(forecast.as_it_is, digits),
        "must_fetch": must_fetch_json(forecast.must_fetch, digits),
        "ladder": [_rung(rung, digits) for rung in forecast.ladder],
        "options": [
            {
                "what": option_text(option, forecast),
                "expected_net": json_money(option.expected_net, digits),
                "chance": option.chance,
            }
            for option in forecast.options
        ],
        "if_first_day_is": [
            {"share": float(share), "chance": chance} for share, chance in forecast.if_first_day_is
        ],
        "leans_on": list(leans_on(forecast)),
        "warnings": list(odd_in_book(forecast)),
    }


def _plain(value: Any) -> Any:
    """Return a state, or a part of one, as JSON holds it: its fields by their names, amounts as numbers."""
    if isinstance(value, SaleState | Offered | Outlook):
        return {name: _plain(part) for name, part in vars(value).items()}
    if isinstance(value, tuple):
        return [_plain(part) for part in value]
    return float(value) if isinstance(value, Decimal) else value


def _figures(rung: RungLeft, digits: int) -> JsonObject:
    figures = rung.figures
    return {
        "outlooks": [float(weight) for weight in figures.outlooks],
        "still_needed": json_money(rung.state.still_needed, digits),
        "expected_more_sold": float(figures.expected_more_sold),
        "expected_net": json_money(figures.expected_net, digits),
        "chance": figures.chance,
    }


def _rung(rung: RungLeft, digits: int) -> JsonObject:
    return {
        "change": rung.change,
        "prices": json_prices(rung.prices.firsts, digits),
        "seconds_prices": json_prices(rung.prices.seconds, digits),
        "figures": _figures(rung, digits),
        "if_all_sell": json_money(rung.if_all_sell, digits),
    }
