"""The answer of `salebook price` on a workbook: read, reckoned from a moment on, and shown."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from rich.console import Console
from rich.table import Table
from rich.text import Text

from salebook.base.words import _
from salebook.book.read import read_book
from salebook.event.question import Question
from salebook.forecast.forecast import Forecast, forecast_of, has_nothing_filled_in, usual_moment
from salebook.forecast.rungs import RungLeft
from salebook.forecast.selling_time import evening_of
from salebook.jobs.answer import Answer, show_answer
from salebook.jobs.columns import add_note_on_guesses, bar_mark, titled_table
from salebook.jobs.price import must_fetch_table, price_answer
from salebook.jobs.report import report_in
from salebook.jobs.source import reckoning_of
from salebook.plan.money import rounded
from salebook.pricing.outcome import reaches
from salebook.pricing.warnings import not_known
from salebook.say.from_here_on import forecast_sentences, option_text, price_of_rest
from salebook.say.leans_on import leans_on, odd_in_book
from salebook.say.price import changed

BAR_WIDTH = 10


@dataclass(frozen=True, kw_only=True)
class BookForecast:
    """What is asked of a workbook from a moment on, and how many of its rows need a person."""

    file: Path
    forecast: Forecast
    is_empty: bool
    """Whether it says no more than its plan."""
    to_look_at: int
    questions: tuple[Question, ...]
    """What needs a person, row by row."""


def forecast_from(book: Path, *, now: datetime | None, today: date | None, clock: datetime) -> BookForecast:
    """Read a workbook and reckon from a moment on: the one that is named, else the evening of the day.

    Where neither is named it is the clock's, after the last line of takings at least. Raises as `read_book`
    and `reckoning_of` do.
    """
    read = read_book(book)
    day = now.date() if now else today or clock.date()
    reckoning = reckoning_of(read.plan, file=book, today=day, said="--now" if now else "--today")
    report = report_in(read, reckoning)
    event = report.event
    evening = evening_of(today, read.plan.sale) if today else usual_moment(reckoning, event, clock)
    return BookForecast(
        file=book,
        forecast=forecast_of(reckoning, event, now or evening),
        is_empty=has_nothing_filled_in(read.entries),
        to_look_at=report.to_look_at,
        questions=report.questions,
    )


def show_forecast(asked: BookForecast, console: Console) -> None:
    """Show where a sale stands: sentences, what is left at other prices, what can be done, what to mind."""
    show_answer(forecast_answer(asked, bar_mark(console)), console)


def forecast_answer(asked: BookForecast, mark: str) -> Answer:
    """Return where a sale stands, its bars made of a mark.

    Of a book that says no more than its plan it is the plan's answer, until the sale begins.
    """
    forecast = asked.forecast
    if asked.is_empty and not forecast.has_begun:
        return price_answer(forecast.reckoning, mark)
    return Answer(
        title=forecast.plan.sale.title,
        sentences=tuple(forecast_sentences(forecast)),
        tables=tuple(_tables(forecast, mark)),
        lists={
            _("What this leans on"): leans_on(forecast),
            _("What it does not know"): (
                () if forecast.is_over else not_known(forecast.plan, forecast.reckoning.studio)
            ),
            _("Please note"): [*odd_in_book(forecast), *_questions(asked)],
        },
    )


def _questions(asked: BookForecast) -> Iterator[str]:
    if asked.to_look_at:
        text = _("Something in the workbook needs a look first ({count}): salebook check {file}")
        yield text.format(count=asked.to_look_at, file=asked.file)


def _tables(forecast: Forecast, mark: str) -> Iterator[Table]:
    if forecast.is_over or not forecast.as_it_is.state.to_sell:
        return
    yield _ladder(forecast, mark)
    if forecast.options:
        yield _options(forecast)
    if not reaches(forecast.as_it_is.figures.expected_net, forecast.plan.sale.target):
        yield must_fetch_table(forecast.plan, forecast.must_fetch)


def _ladder(forecast: Forecast, mark: str) -> Table:
    has_price = bool(price_of_rest(forecast.as_it_is, forecast))
    counted = (_("more sold"), _("for the groups"), _("if all sell"), _("chance"))
    table = titled_table(
        _("What is left, at other prices"), _("prices"), *([_("each")] if has_price else []), *counted
    )
    table.columns[0].no_wrap = True
    table.add_column()
    for rung in forecast.ladder:
        _add_rung(table, forecast.as_it_is if rung.change == 0 else rung, forecast, mark)
    add_note_on_guesses(table, (rung.is_guessed for rung in forecast.ladder))
    return table


def _add_rung(table: Table, rung: RungLeft, forecast: Forecast, mark: str) -> None:
    sale, figures = forecast.plan.sale, rung.figures
    price, prices = price_of_rest(rung, forecast), changed(rung.change or 0)
    table.add_row(
        f"{prices} ?" if rung.is_guessed else prices,
        *([price] if price else []),
        f"{rounded(figures.expected_more_sold, 1)}",
        sale.format_money(figures.expected_net),
        sale.format_money(rung.if_all_sell),
        f"{figures.chance:.0%}",
        Text(mark * round(figures.chance * BAR_WIDTH), style="cyan"),
        style="dim" if rung.is_guessed else "bold" if rung.change is None else "",
    )


def _options(forecast: Forecast) -> Table:
    sale = forecast.plan.sale
    table = titled_table(_("What can be done"), _("what"), _("for the groups"), _("chance"))
    now = forecast.as_it_is.figures
    table.add_row(_("as things stand"), sale.format_money(now.expected_net), f"{now.chance:.0%}")
    for option in forecast.options:
        what = option_text(option, forecast)
        table.add_row(what, sale.format_money(option.expected_net), f"{option.chance:.0%}")
    return table
