"""The part of the sheet Price that shows the whole sale at other prices, with its chart."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from openpyxl.chart import LineChart, Reference
from openpyxl.utils import get_column_letter

from salebook.base.words import _
from salebook.book.charts import dress
from salebook.book.figure import Figure
from salebook.book.page import Page
from salebook.book.sheets.price.demand_lines import over_all_days, share_formula
from salebook.book.sheets.price.grades import grade_label
from salebook.book.sheets.price.pieces_to_sell import needed, or_none, pays_back
from salebook.book.style import BAR, CLAY, GREY, INK
from salebook.plan.model import Plan, Ware
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
    texts = [
        _("Change, per cent"),
        _("Pieces expected"),
        _("Expected for the groups"),
        _("The target"),
        _("Chance"),
        _("One brings in, on average"),
        _("Pieces that pay back the table"),
        _("Pieces for the target"),
    ]
    keys = ["change", "expected_sold", "expected_net", "target", "chance"]
    keys += ["mean", "break_even", "pieces_needed"]
    headings = page.headings(keys, texts, section="ladder")
    _head_own(page, headings, own)
    first = page.row
    for rung in reckoning.advice.ladder:
        _rung(page, reckoning, rung, own)
    last = page.row - 1
    page.highlight(f"D{first}:D{last}", f"D{first}>=E{first}", colour="22313F", fill="DCE9E4")
    page.highlight(f"C{first}:C{last}", f"C{first}<N(H{first})")
    page.row += 1
    _net_chart(page, first, last)
    _pieces_chart(page, first, last)
    page.row += CHART_ROWS


def _head_own(page: Page, row: int, own: Sequence[Good]) -> None:
    """Write the headings of what each of the maker's own goods costs and sells, right of the printed page."""
    for at, good in enumerate(own):
        column = OWN_COLUMN + 2 * at
        price = _("{code} {grade}: price").format(code=good.code, grade=grade_label(good.grade))
        for n, (key, text) in enumerate((("price", price), ("expected", _("sells")))):
            page.put(row - 1, column + n, f"{key}.{good.code}.{good.grade}", "key")
            page.put(row, column + n, text, "number-heading")


@dataclass(frozen=True, kw_only=True)
class Terms:
    """What a rung adds up: formulas of the pieces sold, of what they bring, and of what all would bring."""

    sold: tuple[str, ...]
    brings: tuple[str, ...]
    if_all: tuple[str, ...]


def _rung(page: Page, reckoning: Reckoning, rung: Rung, own: Sequence[Good]) -> None:
    row, plan, costs = page.row, reckoning.plan, reckoning.costs
    goods = goods_of(plan, reckoning.studio.runs, costs, prices_at(plan, rung.change))
    _put_own(page, plan, rung, own, {(good.code, good.grade): good for good in goods})
    terms = _terms(row, own, range(len(own) + 1, len(own) + len(plan.donated) + 1))
    mean = mean_contribution(goods, costs, "sale")
    pays = pieces_to_earn(costs.fixed("sale"), mean) if mean > 0 else None
    makes = pieces_to_earn(to_earn(plan, costs), mean)
    net = f"{_sum(terms.brings)}-fixed_sale+other_income_expected"
    page.put_row(
        (
            ("ladder", "key"),
            (rung.change, "label whole"),
            (Figure(f"={_sum(terms.sold)}", rung.expected_sold), "result tenths"),
            (Figure(f"={net}", rung.expected_net), "strong money"),
            (Figure("=target", plan.sale.target), "result money"),
            (rung.chance, "worked percents"),
            (Figure(f"=({_sum(terms.if_all)})/SUM(good_counts)", mean), "worked rate"),
            (Figure(f"={pays_back(f'G{row}')}", or_none(pays)), "result whole"),
            (Figure(f"={needed('to_earn', f'G{row}')}", or_none(makes)), "result whole"),
        )
    )


def _put_own(
    page: Page, plan: Plan, rung: Rung, own: Sequence[Good], goods: Mapping[tuple[str, str], Good]
) -> None:
    row = page.row
    wares = {ware.code: n for n, ware in enumerate(plan.wares, start=1)}
    for at, good in enumerate(own):
        changed = goods.get((good.code, good.grade))
        # A product of the price and a whole number of per cent rounds alike in every program.
        price = f"=CEILING(ROUND({_planned(page, good)}*(100+B{row})/100,9),price_step)"
        first_price = _own_cell(at if good.grade == "first" else at - 1, row)
        expected = _expected(plan.wares[wares[good.code] - 1], wares[good.code], at + 1, first_price)
        sold = changed.expected_sold if changed else Decimal(0)
        page.put(row, OWN_COLUMN + 2 * at, Figure(price, _price(rung, good)), "worked money")
        page.put(row, OWN_COLUMN + 2 * at + 1, Figure(f"={expected}", sold), "worked tenths")


def _terms(row: int, own: Sequence[Good], donated: range) -> Terms:
    prices = [_own_cell(at, row) for at in range(len(own))]
    sold = [_own_cell(at, row, sold=True) for at in range(len(own))]
    each = [
        f"({price}-(fee_share*{price}+fee_fixed)-INDEX(good_costs,{n}))"
        for n, price in enumerate(prices, start=1)
    ]
    return Terms(
        sold=(*sold, *(f"INDEX(good_expected,{n})" for n in donated)),
        brings=(
            *(f"{pieces}*{one}" for pieces, one in zip(sold, each, strict=True)),
            *(f"INDEX(good_brings,{n})" for n in donated),
        ),
        if_all=(
            *(f"INDEX(good_counts,{n})*{one}" for n, one in enumerate(each, start=1)),
            *(f"INDEX(good_counts,{n})*INDEX(good_contributions,{n})" for n in donated),
        ),
    )


def _own_cell(at: int, row: int, *, sold: bool = False) -> str:
    """Return the address of the price, or of the pieces expected, of one of the maker's goods."""
    return f"{get_column_letter(OWN_COLUMN + 2 * at + sold)}{row}"


def _sum(terms: Sequence[str]) -> str:
    return "+".join(terms) or "0"


def _planned(page: Page, good: Good) -> str:
    key = "price" if good.grade == "first" else "seconds_price"
    return f"N({page.book.addresses['wares', good.code, key]})"


def _price(rung: Rung, good: Good) -> Decimal:
    prices = rung.prices if good.grade == "first" else rung.seconds_prices
    return prices.get(good.code, Decimal(0))


def _expected(ware: Ware, ware_number: int, n: int, first_price: str) -> str:
    share = share_formula(first_price, ware_number) if ware.demand else f"INDEX(good_shares,{n})"
    if ware.demand:
        share = f"({share})"
    return f"INDEX(good_sure,{n})+(INDEX(good_counts,{n})-INDEX(good_sure,{n}))*{over_all_days(share)}"


def _net_chart(page: Page, first: int, last: int) -> None:
    """Draw what the groups can expect beside the target, and the chance on a scale of its own."""
    chart: Any = _lines(page, (4, 5), first, last)
    chance: Any = _lines(page, (6, 6), first, last)
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
    page.sheet.add_chart(chart, f"B{page.row}")


def _pieces_chart(page: Page, first: int, last: int) -> None:
    """Draw the pieces expected beside those that pay back the table and those that make the target."""
    chart: Any = _lines(page, (3, 3), first, last)
    for column in (8, 9):
        chart.add_data(_column(page, column, column, first, last), titles_from_data=True)
    dress(
        chart,
        title=_("Pieces: break-even and target"),
        across=_("Change of price, per cent"),
        up=_("Pieces"),
        colours=(BAR, GREY, CLAY),
    )
    chart.width, chart.height = 13, CHART_CM
    page.sheet.add_chart(chart, f"H{page.row}")


def _lines(page: Page, columns: tuple[int, int], first: int, last: int) -> LineChart:
    chart = LineChart()
    chart.add_data(_column(page, *columns, first, last), titles_from_data=True)
    chart.set_categories(Reference(page.sheet, min_col=2, min_row=first, max_row=last))
    chart.x_axis.number_format = CHANGE_FORMAT
    return chart


def _column(page: Page, left: int, right: int, first: int, last: int) -> Reference:
    return Reference(page.sheet, min_col=left, max_col=right, min_row=first - 1, max_row=last)
