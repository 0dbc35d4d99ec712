"""The part of the sheet Price that shows the whole sale at other prices, with its chart."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from operator import attrgetter
from typing import Any

from openpyxl.chart import LineChart

from salebook.base.words import N_, _
from salebook.book.charts import drawn, dress
from salebook.book.formulas import sum_of
from salebook.book.page import Page
from salebook.book.references import Placed
from salebook.book.sheets.price.demand_lines import over_all_days, share_formula
from salebook.book.sheets.price.grades import grade_label
from salebook.book.sheets.price.pieces_to_sell import needed, or_none, pays_back
from salebook.book.style import BAR, CLAY, GREY, INK
from salebook.book.table import Table
from salebook.plan.model import Outlook, Ware
from salebook.pricing.break_even import mean_contribution, pieces_to_earn
from salebook.pricing.demand import expected_sold
from salebook.pricing.good import Good, Prices, goods_of, second_of
from salebook.pricing.ladder import Rung, prices_at
from salebook.pricing.outcome import to_earn
from salebook.reckoning import Reckoning

OWN_COLUMN = 15
"""First column of the workings, in which each of the maker's goods has a column for each step."""

CHART_CM, CHART_ROWS = 9.5, 20
CHANGE_FORMAT = "0;\N{MINUS SIGN}0"
"""Charts would break a line after a hyphen."""

SECOND_AXES = 200, 201
"""Up and across: any numbers that no other axis of a chart has."""


@dataclass(frozen=True, kw_only=True)
class LadderRow:
    """One rung, and everything of the maker's own at its prices."""

    rung: Rung
    goods: Mapping[tuple[str, str], Good]
    outlooks: Sequence[Outlook]
    mean: Decimal
    break_even: int | None
    pieces_needed: int | None

    def at(self, good: Good) -> Good:
        """Return a good as it is at the rung's prices."""
        return self.goods[good.code, good.grade]

    def sells(self, good: Good) -> Decimal:
        """Return the share of a good that sells over all kinds of day."""
        return expected_sold(count=1, sure=0, share=self.at(good).share, outlooks=self.outlooks)


def ladder_table(
    own: Sequence[Good], given: Sequence[int], target: Decimal, chances: Mapping[int, float]
) -> Table[LadderRow]:
    """Declare the table of rungs, and right of the printed page what each of the maker's own goods does.

    `given` are the places of pieces given or left over, after the maker's `own`; `chances` are those of the
    rungs, by their changes.
    """
    table: Table[LadderRow] = Table("ladder", N_("Price"))
    sold, brings, if_all = (
        f"{_sum_of_own(key, own)}+{sum_of(column, given)}"
        for key, column in (
            ("expected", "good_expected"),
            ("together", "good_brings"),
            ("all", "good_if_all"),
        )
    )
    net, mean = f"{brings}-fixed_sale+other_income_expected", f"({if_all})/MAX(1,SUM(good_counts))"
    table.fixed("change", _("Change, per cent"), "label whole", lambda row: row.rung.change)
    table.live(
        *("expected_sold", _("Pieces expected"), "tenths", sold, lambda row: row.rung.expected_sold),
        alarm="[expected_sold]<SUM([break_even])",
    )
    table.live(
        *("expected_net", _("Expected for the groups"), "strong money", net),
        lambda row: row.rung.expected_net,
        well="[expected_net]>=[target]",
    )
    table.live("target", _("The target"), "money", "target", lambda _row: target)
    table.live("chance", _("Chance"), "percents", "[chances.chance]", lambda row: chances[row.rung.change])
    table.live("mean", _("One brings in, on average"), "worked rate", mean)
    table.live(
        *("break_even", _("Pieces that cover the costs"), "whole", pays_back("[mean]")),
        lambda row: or_none(row.break_even),
    )
    table.live(
        *("pieces_needed", _("Pieces for the target"), "whole", needed("to_earn", "[mean]")),
        lambda row: or_none(row.pieces_needed),
    )
    table.skip_to(OWN_COLUMN)
    _add_own(table, own)
    return table


def _add_own(table: Table[LadderRow], own: Sequence[Good]) -> None:
    """Add what the maker's own goods do: the prices of all, then the share of each ware that sells …."""
    firsts = own[::2]  # each ware's firsts, and then its seconds, which sell alike

    def add(
        key: str, says: str, style: str, *, of: Callable[[int, Good], str], value: Callable[[Good], Decimal]
    ) -> None:
        for n, good in enumerate(firsts if key == "share" else own, start=1):
            heading = says.format(good=_named(good))
            table.live(_key(key, good), heading, f"worked {style}", of(n, good), partial(_at, good, value))

    add("price", _("{good}: price"), "money", of=_price, value=attrgetter("price"))
    add("share", _("{good}: share"), "percent", of=_share, value=attrgetter("share"))
    for good in firsts:
        sells, name = over_all_days(f"[{_key('share', good)}]"), _("{good}: over all days")
        heading = name.format(good=_named(good))
        table.live(_key("sells", good), heading, "worked percent", sells, partial(_sells, good))
    add("expected", _("{good}: sells"), "tenths", of=_expected, value=attrgetter("expected_sold"))
    add("brings", _("{good}: one brings in"), "rate", of=_brings, value=attrgetter("contribution"))
    add(
        *("together", _("{good}: bring in"), "money"),
        of=lambda _n, good: f"[{_key('expected', good)}]*[{_key('brings', good)}]",
        value=lambda good: good.expected_sold * good.contribution,
    )
    add(
        *("all", _("{good}: if all are sold"), "money"),
        of=lambda n, good: f"[good_counts@{n}]*[{_key('brings', good)}]",
        value=lambda good: good.count * good.contribution,
    )


def _price(n: int, _good: Good) -> str:
    # A product of the price and a whole number of per cent rounds alike in every program.
    return f"CEILING(ROUND([good_prices@{n}]*(100+[change])/100,9),price_step)"


def _share(ware_number: int, good: Good) -> str:
    if isinstance(good.source, Ware) and good.source.demand:
        return share_formula(f"[{_key('price', good)}]", ware_number)
    return f"[good_shares@{2 * ware_number - 1}]"


def _expected(n: int, good: Good) -> str:
    return f"[good_sure@{n}]+([good_counts@{n}]-[good_sure@{n}])*[{_key('sells', good, 'first')}]"


def _brings(n: int, good: Good) -> str:
    price = f"[{_key('price', good)}]"
    return f"{price}-(fee_share*{price}+fee_fixed)-[good_costs@{n}]"


def _at(good: Good, value: Callable[[Good], Decimal], row: LadderRow) -> Decimal:
    return value(row.at(good))


def _sells(good: Good, row: LadderRow) -> Decimal:
    return row.sells(good)


def _key(key: str, good: Good, grade: str = "") -> str:
    return f"{key}.{good.code}.{grade or good.grade}"


def _named(good: Good) -> str:
    return f"{good.code} {grade_label(good.grade)}"


def _sum_of_own(key: str, own: Sequence[Good]) -> str:
    return f"SUM([{_key(key, own[0])}]:[{_key(key, own[-1])}])" if own else "0"


def ladder_rows(reckoning: Reckoning) -> tuple[LadderRow, ...]:
    """Return the rungs with everything of the maker's own."""
    return tuple(_row(reckoning, rung) for rung in reckoning.advice.ladder)


def goods_at(reckoning: Reckoning, prices: Prices) -> Mapping[tuple[str, str], Good]:
    """Return everything for sale at other prices by code and grade, seconds of every ware too."""
    plan, costs, runs = reckoning.plan, reckoning.costs, reckoning.studio.runs
    seconds = (second_of(plan, run, costs, prices) for run in runs)
    return {(good.code, good.grade): good for good in (*seconds, *goods_of(plan, runs, costs, prices))}


def put_ladder(
    page: Page,
    rows: Sequence[LadderRow],
    goods: Sequence[Good],
    chances: Mapping[int, float],
    target: Decimal,
) -> None:
    """Write a row for each change of price, all live."""
    own = [good for good in goods if good.is_made]
    page.band(_("At other prices"))
    page.paragraph(
        _(
            "All your own prices changed by so much, each rounded up to the price step; pieces given or "
            "left over keep theirs. Green: the target can be expected. Red: not even the costs are covered."
        ),
        "note",
    )
    placed = ladder_table(own, range(len(own) + 1, len(goods) + 1), target, chances).write(page, rows)
    page.row += 1
    _net_chart(page, placed)
    _pieces_chart(page, placed)
    page.row += CHART_ROWS


def _row(reckoning: Reckoning, rung: Rung) -> LadderRow:
    plan, costs = reckoning.plan, reckoning.costs
    prices = prices_at(plan, rung.change)
    mean = mean_contribution(goods_of(plan, reckoning.studio.runs, costs, prices), costs, "sale")
    return LadderRow(
        rung=rung,
        goods=goods_at(reckoning, prices),
        outlooks=plan.outlooks,
        mean=mean,
        break_even=pieces_to_earn(costs.fixed("sale"), mean) if mean > 0 else None,
        pieces_needed=pieces_to_earn(to_earn(plan, costs), mean),
    )


def _net_chart(page: Page, placed: Placed) -> None:
    """Draw what the groups can expect beside the target, and the chance on a scale of its own."""
    chart: Any = _lines(page, placed, "expected_net", "target")
    chance: Any = _lines(page, placed, "chance")
    dress(
        chart,
        title=_("For the groups, and the chance"),
        across=_("Change of price, per cent"),
        up=_("Money"),
        colours=(BAR, CLAY),
    )
    dress(chance, title="", across="", up=_("Chance"), colours=(INK,))
    chance.title = chance.x_axis.title = chance.y_axis.majorGridlines = None
    chance.x_axis.delete = True
    chance.y_axis.axId, chance.x_axis.axId = chance.x_axis.crossAx, chance.y_axis.crossAx = SECOND_AXES
    chance.y_axis.crosses = "max"
    chance.y_axis.number_format = "0%"
    chance.y_axis.scaling.min, chance.y_axis.scaling.max = 0, 1
    chart += chance
    chart.width, chart.height = 16.5, CHART_CM
    page.sheet.add_chart(chart, page.sheet.cell(page.row, 2).coordinate)


def _pieces_chart(page: Page, placed: Placed) -> None:
    """Draw the pieces expected beside those that pay the costs and those that make the target."""
    chart: Any = _lines(page, placed, "expected_sold", "break_even", "pieces_needed")
    dress(
        chart,
        title=_("Pieces that cover the costs, and that make the target"),
        across=_("Change of price, per cent"),
        up=_("Pieces"),
        colours=(BAR, GREY, CLAY),
    )
    chart.width, chart.height = 13, CHART_CM
    page.sheet.add_chart(chart, page.sheet.cell(page.row, placed.column("break_even")).coordinate)


def _lines(page: Page, placed: Placed, *keys: str) -> LineChart:
    chart = LineChart()
    for key in keys:
        chart.add_data(drawn(page.sheet, placed, key, headed=True), titles_from_data=True)
    chart.set_categories(drawn(page.sheet, placed, "change"))
    chart.x_axis.number_format = CHANGE_FORMAT
    return chart
