"""The answer of `salebook price BOOK --json`: the plan's, and how the sale stands from a moment on."""

from salebook.forecast.figures import Figures
from salebook.forecast.forecast import Forecast
from salebook.forecast.rungs import RungLeft
from salebook.forecast.state import Offered, SaleState
from salebook.jobs.price_json import JsonObject, json_money, json_prices, must_fetch_json, price_json
from salebook.say.from_here_on import option_text
from salebook.say.leans_on import FIRST_DAY, leans_on, odd_in_book


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
        "state": _state(forecast.as_it_is.state),
        "figures": _figures(forecast.as_it_is.figures, digits),
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
        "if_first_day_is": _first_day(forecast),
        "leans_on": list(leans_on(forecast)),
        "warnings": list(odd_in_book(forecast)),
    }


def _first_day(forecast: Forecast) -> list[JsonObject]:
    if forecast.is_over or not forecast.standing.over or len(forecast.plan.sale.days) == 1:
        return []
    return [{"share": float(share), "chance": forecast.chance_if_first_day_is(share)} for share in FIRST_DAY]


def _state(state: SaleState) -> JsonObject:
    return {
        "over": float(state.over),
        "target": float(state.target),
        "reached": float(state.reached),
        "other_left": float(state.other_left),
        "held_brings": float(state.held_brings),
        "outlooks": [
            {"name": outlook.name, "weight": float(outlook.weight), "factor": float(outlook.factor)}
            for outlook in state.outlooks
        ],
        "goods": [_offered(good) for good in state.goods],
    }


def _offered(good: Offered) -> JsonObject:
    return {
        "code": good.code,
        "grade": good.grade,
        "offered": good.offered,
        "gone": good.gone,
        "spoken_for": good.spoken_for,
        "sold": good.sold,
        "held": good.held,
        "share": float(good.share),
        "price_then": float(good.price_then),
        "share_then": float(good.share_then),
        "brings_then": float(good.brings_then),
        "on_the_way": [[count, float(comes)] for count, comes in good.on_the_way],
    }


def _figures(figures: Figures, digits: int) -> JsonObject:
    return {
        "outlooks": [float(weight) for weight in figures.outlooks],
        "still_needed": json_money(figures.still_needed, digits),
        "expected_more_sold": float(figures.expected_more_sold),
        "expected_net": json_money(figures.expected_net, digits),
        "chance": figures.chance,
    }


def _rung(rung: RungLeft, digits: int) -> JsonObject:
    return {
        "change": rung.change,
        "prices": json_prices(rung.prices.firsts, digits),
        "seconds_prices": json_prices(rung.prices.seconds, digits),
        "figures": _figures(rung.figures, digits),
        "if_all_sell": json_money(rung.if_all_sell, digits),
    }
