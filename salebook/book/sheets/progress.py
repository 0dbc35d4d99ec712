"""The sheet Progress: how far the sale has come, to be read across a room."""

from fractions import Fraction
from typing import Final

from openpyxl.chart import BarChart, LineChart, Reference

from salebook.base.words import _
from salebook.book.charts import dress
from salebook.book.figure import Figure, Value, serial
from salebook.book.formulas import quoted
from salebook.book.page import Book, Page
from salebook.book.sheets.row_height import new_page
from salebook.book.style import BAR
from salebook.event.event import Event
from salebook.event.progress import Progress, progress_of
from salebook.event.receipts import money_in, money_line_by_line, sampled_lines
from salebook.plan.model import Plan
from salebook.plan.money import HALF
from salebook.reckoning import Reckoning

WIDTHS: Final = (3, 34, 17, 17, 17, 17, 17)
BAR_BLOCKS: Final = 40
GROUP_BAR_BLOCKS: Final = 20
CHART_POINTS: Final = 40
"""Day 0 of a spreadsheet."""
CHART_CENTIMETRES: Final = (8.0, 12.0)
"""Height and width of a chart."""
CHART_ROWS: Final = 17
"""Rows that a chart covers."""


def write_progress(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Progress."""
    plan = reckoning.plan
    page = book.page(_("Progress"), widths=WIDTHS, landscape=True)
    page.title(_("Progress"))
    progress = progress_of(plan, event.state, event.share_out)
    _write_raised(page, progress)
    _write_left(page, progress)
    _write_groups(page, event)
    _write_charts(page, plan, event)


def _write_raised(page: Page, progress: Progress) -> None:
    row = page.row
    raised = Figure("=MAX(0,pool)+named_total+direct_total", progress.raised)
    share = Figure("=IF(target>0,raised/target,1)", float(progress.share_of_target))
    for column, text in ((2, _("Raised for the groups")), (4, _("of the target")), (6, _("that is"))):
        page.put(row, column, text, "lead")
    page.put_wide(row + 1, (2, 3), raised, "big money")
    page.put_wide(row + 1, (4, 5), Figure("=target", progress.target), "big money")
    page.put_wide(row + 1, (6, 7), share, "big percents")
    page.name("raised", row + 1, 2)
    page.name("share_of_target", row + 1, 6)
    page.sheet.row_dimensions[row + 1].height = 40
    page.put(row + 2, 2, _bar(progress.share_of_target), "bar")
    page.sheet.row_dimensions[row + 2].height = 32
    short = _("The takings do not yet meet the costs. Still to earn back before there is anything to share:")
    page.put(
        row + 3,
        2,
        Figure(f'=IF(pool<0,{quoted(short)},"")', short if progress.to_earn_back else ""),
        "remark",
    )
    page.put(row + 3, 5, Figure('=IF(pool<0,-pool,"")', progress.to_earn_back or ""), "result money")
    page.row = row + 5


def _bar(share: Fraction) -> Figure:
    # More was given back than came in for a group: then the bar is empty.
    count = max(0, min(BAR_BLOCKS, _nearest(share * BAR_BLOCKS)))
    length = "MAX(0,MIN(bar_blocks,ROUND(share_of_target*bar_blocks,0)))"
    bar = "█" * count + "░" * (BAR_BLOCKS - count)
    return Figure(f'=REPT("█",{length})&REPT("░",bar_blocks-{length})', bar)


def _nearest(value: Fraction) -> int:
    return int(value + HALF)


def _write_left(page: Page, progress: Progress) -> None:
    page.band(_("What is left to do"))
    each = "" if progress.each_must_bring is None else progress.each_must_bring
    needed = "=MAX(0,ROUND(target-pool-named_total-direct_total,6))"
    rows: tuple[tuple[str, str, str, Value, str], ...] = (
        ("still_needed", _("Still needed for the target"), needed, progress.still_needed, "money"),
        ("pieces_left", _("Pieces left on the table"), "=SUM(tally_here)", progress.on_the_table, "whole"),
        (
            "each_must_bring",
            _("What each of them must bring"),
            '=IF(pieces_left>0,ROUNDUP(ROUND(still_needed*minor_units/pieces_left,6),0)/minor_units,"")',
            each,
            "money",
        ),
        ("pieces_sold_count", _("Pieces sold"), "=SUM(tally_sold)", progress.sold, "whole"),
        (
            "pieces_promised",
            _("Pieces promised (reserved, or part paid)"),
            "=SUM(tally_reserved)+SUM(tally_deposit)",
            progress.promised,
            "whole",
        ),
        ("pieces_to_make", _("Ordered and still to make"), "=SUM(tally_to_make)", progress.to_make, "whole"),
    )
    for name, label, formula, value, style in rows:
        row = page.put_row(((label, "label"), (Figure(formula, value), f"bigger {style}")), first_column=2)
        page.sheet.row_dimensions[row].height = 22
        page.name(name, row, 3)
    page.paragraph(
        _(
            "What each must bring is what is left of its price after the fees and the costs "
            "for each piece sold."
        ),
        "note",
    )
    page.row += 1


def _write_groups(page: Page, event: Event) -> None:
    page.band(_("Each group so far"))
    page.headings(
        ("=group", "=total", "=direct", "=together", "=bar"),
        (
            _("Group"),
            _("From the sale"),
            _("Straight from givers"),
            _("Together"),
            _("Of all that is raised"),
        ),
        section="groups",
    )
    raised = event.share_out.reached
    for number, group in enumerate(event.share_out.groups, start=1):
        row = page.row
        together = group.total + group.direct
        share = Fraction(together) / Fraction(raised) if raised > 0 else Fraction(0)
        page.put_row(
            (
                ("groups", "key"),
                (Figure(f"=INDEX(group_names,{number})", group.group.name), "result text"),
                (Figure(f"=INDEX(group_so_far,{number})", group.total), "bigger money"),
                (Figure(f"=INDEX(group_direct,{number})", group.direct), "bigger money"),
                (Figure(f"=C{row}+D{row}", together), "bigger money"),
                (
                    Figure(
                        f'=IF(raised>0,REPT("█",MAX(0,ROUND(E{row}/raised*group_bar_blocks,0))),"")',
                        "█" * max(0, _nearest(share * GROUP_BAR_BLOCKS)),
                    ),
                    "bar",
                ),
            )
        )
        page.sheet.row_dimensions[row].height = 32
    page.row += 1


def _write_charts(page: Page, plan: Plan, event: Event) -> None:
    new_page(page)
    page.band(_("Through the sale"))
    top = page.row
    several_days = len(plan.sale.days) > 1
    page.row += CHART_ROWS
    page.sheet.print_area = f"A1:G{page.row - 1}"
    page.band(_("What the charts draw"))
    lines = _write_points(page, event)
    _put_chart(
        page,
        LineChart(),
        f"B{top}",
        (_("Money in, line by line"), _("Lines of Takings, one after another")),
        columns=(3, 4),
        rows=lines,
    )
    if several_days:
        days = _write_days(page, plan, event)
        _put_chart(
            page,
            BarChart(),
            f"E{top}",
            (_("Money in, day by day"), _("Day")),
            columns=(2, 3),
            rows=days,
        )


def _put_chart(
    page: Page,
    chart: LineChart | BarChart,
    anchor: str,
    titles: tuple[str, str],
    *,
    columns: tuple[int, int],
    rows: tuple[int, int],
) -> None:
    """Draw one column over another; `titles` are the chart's and its lower axis's."""
    categories, values = columns
    first, last = rows
    chart.add_data(Reference(page.sheet, min_col=values, min_row=first, max_row=last))
    chart.set_categories(Reference(page.sheet, min_col=categories, min_row=first, max_row=last))
    dress(chart, title=titles[0], across=titles[1], up=_("Money"), colours=[BAR])
    chart.legend = None
    chart.height, chart.width = CHART_CENTIMETRES  # type: ignore[assignment] # the stubs want whole ones
    if isinstance(chart, BarChart):
        chart.y_axis.scaling.min = 0  # cut-off bars would make a small difference look large
    else:
        chart.x_axis.tickLblSkip = CHART_POINTS // 8  # type: ignore[attr-defined] # a text axis has it
    page.sheet.add_chart(chart, anchor)


def _write_points(page: Page, event: Event) -> tuple[int, int]:
    sums = money_line_by_line(event.state)
    last = len(sums) - 1
    for name, label, blocks in (
        ("bar_blocks", _("Blocks in the bar on top"), BAR_BLOCKS),
        ("group_bar_blocks", _("Blocks in a group's bar"), GROUP_BAR_BLOCKS),
    ):
        row = page.put_row(((label, "worked"), (blocks, "worked whole")), first_column=2)
        page.name(name, row, 3)
    place = "(ROW(takings_money)-MIN(ROW(takings_money))+1)"
    found = f"SUMPRODUCT(MAX(ISNUMBER(takings_money)*(takings_money<>0)*{place}))"
    row = page.put_row(
        ((_("Last line with money"), "worked"), (Figure(f"={found}", last), "worked whole")), first_column=2
    )
    page.name("last_line", row, 3)
    page.headings(
        ("=point", "=line", "=money"),
        (_("Point"), _("Lines so far"), _("Money that came in")),
        section="points",
    )
    first = page.row
    end = first + CHART_POINTS
    for point, line in enumerate(sampled_lines(last, CHART_POINTS)):
        row = page.row
        page.put_row(
            (
                ("points", "key"),
                (point, "worked whole"),
                (Figure(f"=ROUND(last_line*B{row}/B${end},0)", line), "worked whole"),
                (Figure(f"=SUMPRODUCT(({place}<=C{row})*1,takings_money)", sums[line]), "worked money"),
            )
        )
    page.row += 1
    return first, end


def _write_days(page: Page, plan: Plan, event: Event) -> tuple[int, int]:
    page.headings(("=day", "=money"), (_("Day"), _("Money that came in")), section="days")
    first = page.row
    for number, day in enumerate(plan.sale.days, start=1):
        row = page.row
        money = money_in(event.state, day=day)
        page.put_row(
            (
                ("days", "key"),
                (Figure(f"=INDEX(sale_days,{number})", serial(day)), "worked date"),
                (Figure(f"=SUMPRODUCT((takings_day=B{row})*1,takings_money)", money), "worked money"),
            )
        )
    return first, page.row - 1
