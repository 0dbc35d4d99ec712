"""How charts look: the palette, axes that show, no ornament."""

from collections.abc import Callable, Sequence
from typing import Any

from openpyxl.chart import BarChart, LineChart, Reference
from openpyxl.chart.axis import ChartLines
from openpyxl.chart.data_source import NumData, NumVal, StrData, StrVal
from openpyxl.chart.legend import Legend
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.title import title_maker
from openpyxl.drawing.line import LineProperties
from openpyxl.worksheet.worksheet import Worksheet

from salebook.book.figure import Value
from salebook.book.references import Placed, cells_of
from salebook.book.style import INK, RULE

LINE_WIDTH = 28_000
"""English metric units: 12 700 to the point."""

TITLE_SIZE = 1_200
"""Hundredths of a point."""


def dress(chart: BarChart | LineChart, *, title: str, across: str, up: str, colours: Sequence[str]) -> None:
    """Give a chart its title, its axes' titles and the palette; one colour for each series."""
    heading: Any = title_maker(title)
    for paragraph in heading.tx.rich.paragraphs:
        paragraph.pPr.defRPr.sz = TITLE_SIZE
    chart.title = heading
    chart.x_axis.title, chart.y_axis.title = across, up
    # Left to itself openpyxl marks the axes as deleted, and some programs then show none.
    chart.x_axis.delete = chart.y_axis.delete = False
    chart.x_axis.tickLblPos = "low"
    chart.y_axis.majorGridlines = ChartLines(spPr=GraphicalProperties(ln=LineProperties(solidFill=RULE)))
    chart.height, chart.width = 8.5, 20
    chart.legend = Legend(legendPos="b")
    for series, colour in zip(chart.series, colours, strict=False):
        if isinstance(chart, LineChart):
            series.graphicalProperties = GraphicalProperties(
                ln=LineProperties(solidFill=colour, w=LINE_WIDTH)
            )
            series.smooth = False
        else:
            series.graphicalProperties = GraphicalProperties(
                solidFill=colour, ln=LineProperties(solidFill=INK)
            )


def drawn(sheet: Worksheet, table: Placed, key: str, *, headed: bool = False) -> Reference:
    """Return a column of a table as a chart draws it, with its heading where that names the line."""
    return Reference(sheet, min_col=table.column(key), min_row=table.first - headed, max_row=table.last)


def store_values(chart: Any, shown: Callable[[str, str], Value | None]) -> None:
    """Put beside each reference of a chart what its cells show, for programs that draw it without reckoning.

    `shown` returns what a cell shows, by its sheet and address.
    """
    for part in chart._charts:
        for series in part.series:
            for numbers in (series.val.numRef, series.cat.numRef):
                found = [shown(sheet, cell) for sheet, cell in cells_of(numbers.f)]
                points = [NumVal(idx=n, v=value) for n, value in enumerate(found) if _is_number(value)]
                numbers.numCache = NumData(ptCount=len(found), pt=points)
            if series.tx:
                words = [str(shown(sheet, cell)) for sheet, cell in cells_of(series.tx.strRef.f)]
                said = [StrVal(idx=n, v=word) for n, word in enumerate(words)]
                series.tx.strRef.strCache = StrData(ptCount=len(words), pt=said)


def _is_number(value: Value | None) -> bool:
    return value is not None and not isinstance(value, str | bool)
