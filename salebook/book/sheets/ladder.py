"""The part of the sheet Price that shows the whole sale at other prices, with its chart."""

from decimal import Decimal

from openpyxl.chart import LineChart, Reference
from openpyxl.utils import get_column_letter

from salebook.book.charts import dress
from salebook.book.figure import Figure
from salebook.book.page import Page
from salebook.book.sheets.demand_lines import share_formula
from salebook.book.style import BAR, CLAY
from salebook.plan.model import Ware
from salebook.pricing.good import Good, goods_of
from salebook.pricing.ladder import Rung, prices_at
from salebook.reckoning import Reckoning
from salebook.words import _

OWN_COLUMN = 8
"""First column of the workings: for each of the maker's goods a price and the pieces expected to sell."""


def put_ladder(page: Page, reckoning: Reckoning, goods: tuple[Good, ...]) -> None:
    """Write a row for each change of price: pieces and net live, the chance as worked out."""
    own = [good for good in goods if good.grade != "donated"]
    page.band(_("At other prices"))
    page.paragraph(
        _("All your own prices changed by so much, each rounded up to the price step. Donated prices stand."),
        "note",
    )
    texts = [
        _("Change, per cent"),
        _("Pieces expected"),
        _("Expected for the groups"),
        _("The target"),
        _("Chance"),
    ]
    keys = ["change", "expected_sold", "expected_net", "target", "chance", "space"]
    for good in own:
        keys += [f"price.{good.code}.{good.grade}", f"expected.{good.code}.{good.grade}"]
        texts += [f"{good.code} {good.grade}: {_('price')}", _("sells")]
    texts.insert(5, "")
    page.headings(keys, texts, section="ladder")
    first = page.row
    for rung in reckoning.advice.ladder:
        _rung(page, reckoning, rung, own)
    last = page.row - 1
    page.mark(f"D{first}:D{last}", f"D{first}>=E{first}", colour="22313F", fill="DCE9E4")
    page.row += 1
    _chart(page, first, last)


def _rung(page: Page, reckoning: Reckoning, rung: Rung, own: list[Good]) -> None:
    row, plan = page.row, reckoning.plan
    there = {
        (good.code, good.grade): good
        for good in goods_of(plan, reckoning.studio.runs, reckoning.costs, prices_at(plan, rung.change))
    }
    brings, sells = [], []
    wares = {ware.code: n for n, ware in enumerate(plan.wares, start=1)}
    for at, good in enumerate(own):
        price_at, sold_at = OWN_COLUMN + 2 * at, OWN_COLUMN + 2 * at + 1
        price, sold = f"{get_column_letter(price_at)}{row}", f"{get_column_letter(sold_at)}{row}"
        first_price = f"{get_column_letter(OWN_COLUMN + 2 * (at if good.grade == 'first' else at - 1))}{row}"
        n = at + 1
        changed = there.get((good.code, good.grade))
        page.put(
            row,
            price_at,
            Figure(
                f"=CEILING(ROUND({_planned(page, good)}*(100+B{row})/100,9),price_step)",
                _price(rung, good),
            ),
            "worked money",
        )
        page.put(
            row,
            sold_at,
            Figure(
                f"={_expected(plan.wares[wares[good.code] - 1], wares[good.code], n, first_price)}",
                changed.expected_sold if changed else Decimal(0),
            ),
            "worked tenths",
        )
        sells.append(sold)
        brings.append(f"{sold}*({price}-(fee_share*{price}+fee_fixed)-INDEX(good_costs,{n}))")
    given = len(own)
    donated_sells = "+".join(f"INDEX(good_expected,{given + k})" for k in range(1, len(plan.donated) + 1))
    donated_brings = "+".join(f"INDEX(good_brings,{given + k})" for k in range(1, len(plan.donated) + 1))
    sold_all = "+".join([*sells, *([donated_sells] if donated_sells else [])]) or "0"
    net_all = "+".join([*brings, *([donated_brings] if donated_brings else [])]) or "0"
    page.put_row(
        (
            ("ladder", "key"),
            (rung.change, "label whole"),
            (Figure(f"={sold_all}", rung.expected_sold), "result tenths"),
            (Figure(f"={net_all}-fixed_sale+other_income_expected", rung.expected_net), "strong money"),
            (Figure("=target", plan.sale.target), "result money"),
            (rung.chance, "worked percents"),
        )
    )


def _planned(page: Page, good: Good) -> str:
    key = "price" if good.grade == "first" else "seconds_price"
    return f"N({page.book.places['wares', good.code, key]})"


def _price(rung: Rung, good: Good) -> Decimal:
    prices = rung.prices if good.grade == "first" else rung.seconds_prices
    return prices.get(good.code, Decimal(0))


def _expected(ware: Ware, ware_number: int, n: int, first_price: str) -> str:
    share = share_formula(first_price, ware_number) if ware.demand else f"INDEX(good_shares,{n})"
    if ware.demand:
        share = f"({share})"
    day = f"{share}*outlook_factors"
    sells = f"SUMPRODUCT(outlook_weights,({day}<1)*{day}+({day}>=1))/SUM(outlook_weights)"
    return f"INDEX(good_sure,{n})+(INDEX(good_counts,{n})-INDEX(good_sure,{n}))*{sells}"


def _chart(page: Page, first: int, last: int) -> None:
    chart = LineChart()
    sheet = page.sheet
    chart.add_data(
        Reference(sheet, min_col=4, max_col=5, min_row=first - 1, max_row=last), titles_from_data=True
    )
    chart.set_categories(Reference(sheet, min_col=2, min_row=first, max_row=last))
    dress(
        chart,
        title=_("Expected for the groups, at other prices"),
        across=_("change of price, per cent"),
        up=_("money"),
        colours=(BAR, CLAY),
    )
    sheet.add_chart(chart, f"B{page.row}")
    page.row += 18
