"""The charts of Progress: the money as it came in, by the time of day or line by line, and day by day."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from typing import Any, Final, NamedTuple

from openpyxl.chart import BarChart, LineChart

from salebook.base.words import N_, _
from salebook.book.charts import drawn, dress
from salebook.book.figure import Figure, serial, serial_moment
from salebook.book.formulas import quoted
from salebook.book.page import Content, Page
from salebook.book.references import Placed
from salebook.book.style import ALARM, BAR, CLAY, GREY, INK
from salebook.book.table import Table, put_line
from salebook.event.event import Event
from salebook.event.posted_line import PostedLine
from salebook.event.receipts import (
    in_order_of_time,
    last_line_with_money,
    moments_of,
    money_in,
    sampled_lines,
)
from salebook.event.state import EventState
from salebook.forecast.selling_time import opening_of
from salebook.plan.dates import clock_text
from salebook.plan.model import Plan
from salebook.plan.money import ZERO

STEPS_MINUTES: Final = (15, 30, 60, 120, 240)
"""From one point of the chart to the next."""
MOST_POINTS: Final = 48
MOST_LABELS: Final = 10
"""So many points have something written below them."""
CHART_CENTIMETRES: Final = (8.0, 12.0)
"""Height and width of a chart."""
CHART_ROWS: Final = 17
"""Rows that a chart covers."""
TILL_COLOURS: Final = (BAR, CLAY, INK, GREY, ALARM)
MINUTES_A_DAY: Final = 24 * 60
WITHOUT_MONEY: Final = '[<=1]"";'
"""Before a number format: no labels beside an axis that reaches to 1, as it does before any money came in."""


class Mark(NamedTuple):
    """A moment of the sale: on which of its days, what the clock shows, until which minute lines count."""

    day_number: int
    clock: int
    until: int


@dataclass(frozen=True, kw_only=True)
class Point:
    """One point of the chart: which, the line of Takings and the moment that it stands for, and the money."""

    point: int
    line: int
    mark: Mark
    day: date
    says: str
    is_last: bool
    by_lines: bool
    moment: float
    sums: tuple[Decimal, ...]
    """What had come in by then, at each till."""

    @property
    def across(self) -> str | int:
        """What stands below the point."""
        return self.line if self.says and self.by_lines else self.says


def points_table(tills: Sequence[str]) -> Table[Point]:
    """Declare the table of the points that are drawn, with a column of money for each till."""
    table: Table[Point] = Table("points", N_("Progress"))
    moment = "[day]+[time]"
    table.fixed("=point", _("Point"), "worked whole")
    table.live("=line", _("Lines so far"), "worked whole", "ROUND(last_line*[point]/MAX([point:]),0)")
    table.live(
        *("=day", _("Day"), "worked date", lambda row: f"[sale_days@{row.mark.day_number}]"),
        lambda row: serial(row.day),
    )
    table.fixed("=time", _("Time"), "worked number", lambda row: _time(row.mark))
    table.live(
        *("=moment", _("Moment"), "worked number"),
        lambda row: f"MAX({moment},MAX(takings_moment)+1)" if row.is_last else moment,
    )
    table.fixed("=says", _("Time of day"), "worked text")
    table.live("=across", _("Below the line"), "worked text", 'IF([says]="","",IF(by_lines=1,[line],[says]))')
    for n, till in enumerate(tills):
        says = _("Till {till}").format(till=till) if len(tills) > 1 else _("Money that came in")
        of_till = f"takings_till,{quoted(till)}," if len(tills) > 1 else ""
        _declare_money(table, n, says, of_till)
    return table


def _declare_money(table: Table[Point], n: int, says: str, of_till: str) -> None:
    by_lines, by_time = (
        f'SUMIFS(takings_money,{of_till}{column},"<="&{upto})'
        for column, upto in (("takings_place", "[line]"), ("takings_moment", "[moment]"))
    )
    formula = f"IF(by_lines=1,{by_lines},{by_time})"
    table.live(f"={_money(n)}", says, "worked money", formula, lambda row: row.sums[n])


def _money(till: int) -> str:
    """Return the key of a till's money."""
    return f"money_{'i' * (till + 1)}"


def _time(mark: Mark) -> float:
    """Return a mark's time: half a minute late, so that a line of that very minute is before it."""
    return (mark.until + 0.5) / MINUTES_A_DAY


def days_table() -> Table[tuple[date, Decimal]]:
    """Declare the table of the money of each day."""
    table: Table[tuple[date, Decimal]] = Table("money_days", N_("Progress"))
    money = "SUMPRODUCT((takings_day=[day])*1,takings_money)"
    table.live("=day", _("Day"), "worked date", "[sale_days@#]", lambda row: serial(row[0]))
    table.live("=money", _("Money that came in"), "worked money", money, lambda row: row[1])
    return table


def write_charts(page: Page, plan: Plan, event: Event, constants: Sequence[tuple[str, str, Content]]) -> None:
    """Draw the charts; below them stands what they draw, with constants of the sheet."""
    page.band(_("Through the sale"))
    top = page.row
    page.row += CHART_ROWS
    page.print_so_far()
    page.band(_("What the charts draw"))
    by_lines = "=IF(AND(times_typed=0,last_line>0),1,0)"
    worked_out: tuple[tuple[str, str, Content], ...] = (
        *constants,
        (
            "last_line",
            _("Last line with money"),
            Figure("=MAX(takings_place)", last_line_with_money(event.state)),
        ),
        ("by_lines", _("No times are typed: 1"), Figure(by_lines, int(_is_by_lines(event.state)))),
    )
    for name, label, content in worked_out:
        put_line(page, label, content, "worked whole", name=name, label_style="worked")
    _through_the_sale(page, plan, event.state, top)
    if len(plan.sale.days) > 1:
        _day_by_day(page, plan, event.state, top)


def _through_the_sale(page: Page, plan: Plan, state: EventState, top: int) -> None:
    tills = sorted({line.line.till for line in state.lines} or {"1"}, key=lambda till: (len(till), till))
    placed = points_table(tills).write(page, list(points_of(plan, state, tills)))
    page.row += 1
    chart = LineChart()
    for n in range(len(tills)):
        chart.add_data(drawn(page.sheet, placed, _money(n), headed=True), titles_from_data=True)
    titles = _("Money as it came in"), _("Time of day, or line of Takings")
    _put(page, chart, placed, "across", at=(top, 2), titles=titles, colours=TILL_COLOURS)
    chart.x_axis.tickLblSkip = 1  # type: ignore[attr-defined] # a text axis has it
    if len(tills) == 1:
        chart.legend = None


def _day_by_day(page: Page, plan: Plan, state: EventState, top: int) -> None:
    placed = days_table().write(page, [(day, money_in(state, day=day)) for day in plan.sale.days])
    chart = BarChart()
    chart.add_data(drawn(page.sheet, placed, "money"))
    titles = _("Money in, day by day"), _("Day")
    _put(page, chart, placed, "day", at=(top, 5), titles=titles, colours=(BAR,))
    chart.legend = None
    chart.y_axis.scaling.min = 0  # cut-off bars would make a small difference look large


def _put(
    page: Page,
    chart: LineChart | BarChart,
    table: Placed,
    across: str,
    *,
    at: tuple[int, int],
    titles: tuple[str, str],
    colours: Sequence[str],
) -> None:
    """Put a chart on its place, over the column `across`; `titles` are its own and its lower axis's."""
    chart.set_categories(drawn(page.sheet, table, across))
    dress(chart, title=titles[0], across=titles[1], up=_("Money"), colours=colours)
    money: Any = page.sheet.cell(table.first, table.column("money" if across == "day" else _money(0)))
    chart.y_axis.number_format = f"{WITHOUT_MONEY}{money.number_format.partition(';')[0]}"
    chart.height, chart.width = CHART_CENTIMETRES  # type: ignore[assignment] # the stubs want whole ones
    page.sheet.add_chart(chart, page.sheet.cell(*at).coordinate)


def _is_by_lines(state: EventState) -> bool:
    return last_line_with_money(state) > 0 and all(line.line.at is None for line in state.lines)


def _marks(plan: Plan) -> Iterator[Mark]:
    """Yield the marks of all days, from opening to close; at the close all of the day counts."""
    opening, days = opening_of(plan.sale), len(plan.sale.days)
    lasts = opening.closes - opening.opens
    fitting = (step for step in STEPS_MINUTES if days * (lasts // step + 1) <= MOST_POINTS)
    step = next(fitting, STEPS_MINUTES[-1])
    for day_number in range(1, days + 1):
        for clock in range(opening.opens, opening.closes, step):
            yield Mark(day_number, clock, clock)
        yield Mark(day_number, opening.closes, MINUTES_A_DAY)


def points_of(plan: Plan, state: EventState, tills: Sequence[str]) -> Iterator[Point]:
    """Yield the points, and what had come in by each."""
    marks, by_lines = list(_marks(plan)), _is_by_lines(state)
    lines = sampled_lines(last_line_with_money(state), len(marks) - 1)
    places = {id(line): n for n, line in enumerate(in_order_of_time(state), start=1)}
    timed = [(one.line, serial_moment(*one.moment)) for one in moments_of(state)]
    latest = max((moment for _line, moment in timed), default=0.0)
    for point, mark in enumerate(marks):
        day, is_last = plan.sale.days[mark.day_number - 1], point == len(marks) - 1
        at = serial_moment(day, time(0)) + _time(mark)
        moment = max(at, latest + 1) if is_last else at
        there = [
            line
            for line, its_moment in timed
            if (places[id(line)] <= lines[point] if by_lines else its_moment <= moment)
        ]
        yield Point(
            point=point,
            line=lines[point],
            mark=mark,
            day=day,
            says=_says(mark, plan),
            is_last=is_last,
            by_lines=by_lines,
            moment=moment,
            sums=tuple(_money_at(there, till) for till in tills),
        )


def _money_at(lines: Sequence[PostedLine], till: str) -> Decimal:
    return sum((line.arrived for line in lines if line.line.till == till), ZERO)


def _says(mark: Mark, plan: Plan) -> str:
    """Say the time of a mark below the chart: of some, with the number of the day where each begins."""
    opening, days = opening_of(plan.sale), len(plan.sale.days)
    if days > 1 and mark.clock == opening.opens:
        return _("day {n}").format(n=mark.day_number)
    hours = -(-days * (opening.closes - opening.opens) // (60 * MOST_LABELS))
    return "" if mark.clock % (60 * hours) else clock_text(mark.clock)
