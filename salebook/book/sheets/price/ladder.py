"""The part of the sheet Price that shows the whole sale at other prices, with its chart."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from openpyxl.chart import LineChart

from salebook.base.words import N_, _
from salebook.book.charts import drawn, dress
from salebook.book.page import Page
from salebook.book.references import Placed
from salebook.book.sheets.price.demand_lines import over_all_days, share_formula
from salebook.book.sheets.price.grades import grade_label
from salebook.book.sheets.price.pieces_to_sell import needed, or_none, pays_back
from salebook.book.style import BAR, CLAY, GREY, INK
from salebook.book.table import Table
from salebook.plan.model import Ware
from salebook.pricing.break_even import mean_contribution, pieces_to_earn
from salebook.pricing.good import Good, goods_of
from salebook.pricing.ladder import Rung, prices_at
from salebook.pricing.outcome import to_earn
from salebook.reckoning import Reckoning

OWN_COLUMN = 15
"""First column of the workings: for each of the maker's goods a price and the pieces expected to sell."""

CHART_CM, CHART_ROWS = 9.5, 20
CHANGE_FORMAT = "0;\N{MINUS SIGN}0"
"""Charts would break a line after a hyphen."""

SECOND_AXES = 200, 201
"""Up and across: any numbers that no other axis of a chart has."""


@dataclass(frozen=True, kw_only=True)
class LadderRow:
    """One rung, and what is for sale at its prices."""

    rung: Rung
    goods: Mapping[tuple[str, str], Good]
    mean: Decimal
    break_even: int | None
    pieces_needed: int | None

    def price(self, good: Good) -> Decimal:
        """Return the price of a good of the maker's own; 0 of seconds without one."""
        prices = self.rung.prices if good.grade == "first" else self.rung.seconds_prices
        return prices.get(good.code, Decimal(0))

    def sold(self, good: Good) -> Decimal:
        """Return the pieces of a good expected to sell; 0 where there are none."""
        there = self.goods.get((good.code, good.grade))
        return there.expected_sold if there else Decimal(0)


def ladder_table(own: Sequence[Good], given: Sequence[int], target: Decimal) -> Table[LadderRow]:
    """Declare the table of rungs, and right of the printed page what each of the maker's own goods does.

    `given` are the places of pieces that others give among the goods, after the maker's `own`.
    """
    table: Table[LadderRow] = Table("ladder", N_("Price"))
    each = [_each(n, good) for n, good in enumerate(own, start=1)]
    sold = [f"[{_key('expected', good)}]" for good in own]
    brings = [f"{pieces}*{one}" for pieces, one in zip(sold, each, strict=True)]
    if_all = [f"INDEX(good_counts,{n})*{one}" for n, one in enumerate(each, start=1)]
    sold += [f"INDEX(good_expected,{n})" for n in given]
    brings += [f"INDEX(good_brings,{n})" for n in given]
    if_all += [f"INDEX(good_counts,{n})*INDEX(good_contributions,{n})" for n in given]
    net, mean = (
        f"{_sum(brings)}-fixed_sale+other_income_expected",
        f"({_sum(if_all)})/MAX(1,SUM(good_counts))",
    )
    table.fixed("change", _("Change, per cent"), "label whole", lambda row: row.rung.change)
    table.live(
        *("expected_sold", _("Pieces expected"), "tenths", _sum(sold), lambda row: row.rung.expected_sold),
        alarm="[expected_sold]<N([break_even])",
    )
    table.live(
        *("expected_net", _("Expected for the groups"), "strong money", net),
        lambda row: row.rung.expected_net,
        well="[expected_net]>=[target]",
    )
    table.live("target", _("The target"), "money", "target", lambda _row: target)
    table.fixed("chance", _("Chance"), "worked percents", lambda row: row.rung.chance)
    table.live("mean", _("One brings in, on average"), "worked rate", mean)
    table.live(
        *("break_even", _("Pieces that pay back the table"), "whole", pays_back("[mean]")),
        lambda row: or_none(row.break_even),
    )
    table.live(
        *("pieces_needed", _("Pieces for the target"), "whole", needed("to_earn", "[mean]")),
        lambda row: or_none(row.pieces_needed),
    )
    table.skip_to(OWN_COLUMN)
    for n, good in enumerate(own, start=1):
        _add_own(table, n, good)
    return table


def _add_own(table: Table[LadderRow], n: int, good: Good) -> None:
    """Add the price of one of the maker's own goods, the n-th of all, and the pieces expected to sell."""
    text = _("{code} {grade}: price").format(code=good.code, grade=grade_label(good.grade))
    # A product of the price and a whole number of per cent rounds alike in every program.
    price = f"CEILING(ROUND(INDEX(good_prices,{n})*(100+[change])/100,9),price_step)"
    table.live(_key("price", good), text, "worked money", price, lambda row: row.price(good))
    table.live(
        *(_key("expected", good), _("sells"), "worked tenths", _expected(n, good)), lambda row: row.sold(good)
    )


def _key(key: str, good: Good, grade: str = "") -> str:
    return f"{key}.{good.code}.{grade or good.grade}"


def _each(n: int, good: Good) -> str:
    price = f"[{_key('price', good)}]"
    return f"({price}-(fee_share*{price}+fee_fixed)-INDEX(good_costs,{n}))"


def _expected(n: int, good: Good) -> str:
    share = f"INDEX(good_shares,{n})"
    if isinstance(good.source, Ware) and good.source.demand:
        # A ware's firsts and seconds stand one after the other.
        first_price = f"[{_key('price', good, 'first')}]"
        share = f"({share_formula(first_price, (n + 1) // 2)})"
    return f"INDEX(good_sure,{n})+(INDEX(good_counts,{n})-INDEX(good_sure,{n}))*{over_all_days(share)}"


def _sum(terms: Sequence[str]) -> str:
    return "+".join(terms) or "0"


def put_ladder(page: Page, reckoning: Reckoning, goods: tuple[Good, ...]) -> None:
    """Write a row for each change of price: pieces and net live, the chance as worked out."""
    own = [good for good in goods if good.grade != "donated"]
    page.band(_("At other prices"))
    page.paragraph(
        _(
            "All your own prices changed by so much, each rounded up to the price step; given pieces keep "
            "theirs. Green: the target can be expected. Red: not even the table is paid back."
        ),
        "note",
    )
    table = ladder_table(own, range(len(own) + 1, len(goods) + 1), reckoning.plan.sale.target)
    placed = table.write(page, [_row(reckoning, rung) for rung in reckoning.advice.ladder])
    page.row += 1
    _net_chart(page, placed)
    _pieces_chart(page, placed)
    page.row += CHART_ROWS


def _row(reckoning: Reckoning, rung: Rung) -> LadderRow:
    plan, costs = reckoning.plan, reckoning.costs
    goods = goods_of(plan, reckoning.studio.runs, costs, prices_at(plan, rung.change))
    mean = mean_contribution(goods, costs, "sale")
    return LadderRow(
        rung=rung,
        goods={(good.code, good.grade): good for good in goods},
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
    """Draw the pieces expected beside those that pay back the table and those that make the target."""
    chart: Any = _lines(page, placed, "expected_sold", "break_even", "pieces_needed")
    dress(
        chart,
        title=_("Pieces: break-even and target"),
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
