"""What an answer in mid-sale leans on, and what in its book is odd, in sentences."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from babel.lists import format_list

from salebook.base.words import _, ngettext
from salebook.forecast.forecast import Forecast
from salebook.forecast.selling_time import USUAL_HOURS, closing_of
from salebook.plan.model import Ware
from salebook.plan.money import ZERO
from salebook.pricing.demand import share_of_ware
from salebook.say.time import format_day

NOTICED: Final = Decimal("0.01")
"""A share that sells is worth a sentence where it is so much another."""


def leans_on(forecast: Forecast) -> tuple[str, ...]:
    """Say what is taken for granted, and what the chance would be if the first day were another share."""
    if forecast.is_over or not forecast.as_it_is.state.to_sell:
        return ()
    return (
        *_on_time(forecast),
        *_on_kinds_of_day(forecast),
        *_on_demand(forecast),
        *_on_prices_so_far(forecast),
        *_on_counts(forecast),
    )


def odd_in_book(forecast: Forecast) -> tuple[str, ...]:
    """Say what in the book does not go together with the moment, or with itself."""
    return (*_on_days(forecast), *_on_pieces(forecast), *_on_money(forecast))


def _on_time(forecast: Forecast) -> Iterator[str]:
    sale = forecast.plan.sale
    if sale.open is None:
        text = _("The plan does not say when the sale is open: {hours} is assumed.")
        yield text.format(hours=USUAL_HOURS)
    if len(sale.days) == 1:
        yield _("Buyers are taken to come evenly through the hours in which the sale is open.")
        return
    yield _("All days are taken to be alike, and buyers to come evenly through the hours.")
    if forecast.if_first_day_is:
        (less, less_chance), (more, more_chance) = forecast.if_first_day_is
        text = _(
            "If the first day were {less} % of the whole sale, the chance of the target would be "
            "{less_chance} %; if it were {more} %, {more_chance} %."
        )
        yield text.format(
            less=round(less * 100),
            less_chance=round(less_chance * 100),
            more=round(more * 100),
            more_chance=round(more_chance * 100),
        )


def _on_kinds_of_day(forecast: Forecast) -> Iterator[str]:
    plan = forecast.plan
    if len(plan.outlooks) > 1 and len(plan.sale.days) > 1:
        yield _("One kind of day is taken for all days of the sale.")


def _on_demand(forecast: Forecast) -> Iterator[str]:
    if any(ware.demand for ware in forecast.plan.wares):
        yield _(
            "How many buy at which price is the plan's guess; what has sold changes only the kind of day."
        )


def _on_prices_so_far(forecast: Forecast) -> Iterator[str]:
    """Say of which wares so much more or less was paid that another share would have bought all along."""
    others = [ware.name for ware in forecast.plan.wares if _sold_otherwise(ware, forecast)]
    if others:
        text = _(
            "What {wares} sold for so far is not what is asked now: the time past is weighed as if it had "
            "been asked all along."
        )
        yield text.format(wares=format_list(others, locale=forecast.plan.sale.locale))


def _sold_otherwise(ware: Ware, forecast: Forecast) -> bool:
    pieces = [
        piece
        for piece in forecast.event.state.pieces
        if piece.piece.code == ware.code and piece.grade == "first" and piece.sold > 0
    ]
    if not pieces:
        return False
    each = sum((piece.account.settled for piece in pieces), ZERO) / sum(piece.sold for piece in pieces)
    return abs(share_of_ware(ware, each) - share_of_ware(ware, ware.price)) >= NOTICED


def _on_counts(forecast: Forecast) -> Iterator[str]:
    entries = forecast.event.entries
    counted = entries.made.keys() | forecast.ahead.tallied.keys()
    without = [ware.name for ware in forecast.plan.wares if ware.code not in counted]
    if without and forecast.has_begun:
        text = _(
            "What came out of the kiln is not filled in for {wares}: all that are planned are taken to be "
            "there."
        )
        yield text.format(wares=format_list(without, locale=forecast.plan.sale.locale))


def _on_days(forecast: Forecast) -> Iterator[str]:
    sale, now = forecast.plan.sale, forecast.now
    with_lines = {line.day for line in forecast.event.state.lines}
    for day in sale.days:
        if day not in with_lines and now >= closing_of(day, sale):
            text = _("{day} is past, and no line is written down for it: nothing is taken to have sold.")
            yield text.format(day=format_day(day, sale.locale))
    if forecast.last_line and forecast.last_line > now.date():
        text = _("Lines of days after {day} are left out, as this is asked for that day.")
        yield text.format(day=format_day(now.date(), sale.locale))


def _on_pieces(forecast: Forecast) -> Iterator[str]:
    for totals in forecast.event.state.piece_totals:
        gone = totals.sold + totals.reserved + totals.deposit + totals.gone
        if gone > totals.out:
            text = ngettext(
                "{name}: {gone} is sold, held or gone, and there are only {out}.",
                "{name}: {gone} are sold, held or gone, and there are only {out}.",
                gone,
            )
            yield text.format(name=totals.name, gone=gone, out=totals.out)


def _on_money(forecast: Forecast) -> Iterator[str]:
    if forecast.event.share_out.takings < 0:
        yield _("More was given back than has come in.")
