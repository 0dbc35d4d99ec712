"""The part of the sheet Price where one types other prices and sees at once what they would bring."""

from decimal import Decimal

from salebook.base.words import _
from salebook.book.figure import Figure, Value
from salebook.book.page import Page
from salebook.book.sheets.price.demand_lines import over_all_days, share_formula
from salebook.book.sheets.price.group_shares import put_group_shares
from salebook.book.sheets.price.pieces_to_sell import needed, or_none, pays_back
from salebook.book.sheets.row_height import named_row
from salebook.pricing.demand import expected_sold
from salebook.pricing.good import Good
from salebook.reckoning import Reckoning


def put_try_it(page: Page, reckoning: Reckoning, goods: tuple[Good, ...]) -> None:
    """Write a price to type for each ware, and what the sale would bring; nothing where there are no wares.

    `goods` holds for each ware its firsts and then its seconds, and then the donated pieces.
    """
    wares = reckoning.plan.wares
    if not wares:
        return
    # Empty at first, and then the prices on Plan: a copy of them would go stale.
    page.band(_("Try it: other prices"))
    page.paragraph(
        _(
            "Type a price for each ware in the straw-coloured cells and see what follows below; nothing else "
            "in the workbook changes. Empty means the price on Plan. Seconds and given pieces keep their "
            "prices. Prices that you like go on Plan."
        ),
        "note",
    )
    _headings(page)
    first = page.row
    for n in range(1, len(wares) + 1):
        _ware(page, reckoning, goods, n)
    last = page.row - 1
    page.number_only(f"D{first}:D{last}", says=_("A price, not below 0, is expected here"))
    _results(page, reckoning, goods, (first, last))
    put_group_shares(page, reckoning.plan, reckoning.advice.share_out, section="try_shares", net="try_net")


def _headings(page: Page) -> None:
    page.headings(
        ("name", "planned", "try", "price", "share", "sells", "expected", "brings", "together", "all"),
        (
            _("Piece"),
            _("On Plan"),
            _("Try"),
            _("Reckoned with"),
            _("Share that sells"),
            _("Over all days"),
            _("Expected to sell"),
            _("One brings in"),
            _("bring in"),
            _("if all are sold"),
        ),
        section="try_it",
    )


def _ware(page: Page, reckoning: Reckoning, goods: tuple[Good, ...], n: int) -> None:
    """Write the row of the n-th ware, whose firsts and seconds are the goods at 2n - 1 and 2n."""
    plan, row, at = reckoning.plan, page.row, 2 * n - 1
    one, second = goods[at - 1], goods[at]
    share = share_formula(f"E{row}", n) if plan.wares[n - 1].demand else f"INDEX(good_shares,{at})"
    firsts = f"(INDEX(good_sure,{at})+(INDEX(good_counts,{at})-INDEX(good_sure,{at}))*G{row})"
    seconds, second_brings = f"INDEX(good_counts,{at + 1})", f"INDEX(good_contributions,{at + 1})"
    over_all = expected_sold(count=1, sure=0, share=one.share, outlooks=plan.outlooks)
    together = one.expected_sold * one.contribution + second.expected_sold * second.contribution
    if_all = one.count * one.contribution + second.count * second.contribution
    places = page.book.addresses
    page.put_row(
        (
            ("try_it", "key"),
            (Figure(f"={places['wares', one.code, 'name']}", one.name), "result wrapped"),
            (Figure(f"={places['wares', one.code, 'price']}", one.price), "result money"),
            (None, "input money"),
            (Figure(f"=IF(N(D{row})>0,D{row},C{row})", one.price), "worked money"),
            (Figure(f"={share}", one.share), "worked percent"),
            (Figure(f"={over_all_days(f'F{row}')}", over_all), "worked percent"),
            (
                Figure(f"={firsts}+{seconds}*G{row}", one.expected_sold + second.expected_sold),
                "result tenths",
            ),
            (
                Figure(f"=E{row}-(fee_share*E{row}+fee_fixed)-INDEX(good_costs,{at})", one.contribution),
                "result rate",
            ),
            (Figure(f"={firsts}*I{row}+{seconds}*G{row}*{second_brings}", together), "result money"),
            (
                Figure(f"=INDEX(good_counts,{at})*I{row}+{seconds}*{second_brings}", if_all),
                "worked money",
            ),
        )
    )


def _results(page: Page, reckoning: Reckoning, goods: tuple[Good, ...], rows: tuple[int, int]) -> None:
    first, last = rows
    advice, target = reckoning.advice, reckoning.advice.target
    given = range(2 * len(reckoning.plan.wares) + 1, len(goods) + 1)
    sold, brings = _sum_of("good_expected", given), _sum_of("good_brings", given)
    if_all = "".join(f"+INDEX(good_counts,{k})*INDEX(good_contributions,{k})" for k in given)
    rows_of: tuple[tuple[str, str, str, Value, str], ...] = (
        (
            "try_expected",
            _("Pieces expected to sell"),
            f"=SUM(H{first}:H{last}){sold}",
            target.expected_sold,
            "tenths",
        ),
        (
            "try_net",
            _("To be expected for the groups"),
            f"=SUM(J{first}:J{last}){brings}-fixed_sale+other_income_expected",
            target.expected_net,
            "money",
        ),
        (
            "try_more",
            _("more than at the prices on Plan"),
            "=ROUND(try_net-expected_net,6)",
            Decimal(0),
            "money",
        ),
        (
            "try_mean",
            _("One piece brings in, on average"),
            f"=(SUM(K{first}:K{last}){if_all})/SUM(good_counts)",
            advice.mean_contribution,
            "rate",
        ),
        (
            "try_needed",
            _("Pieces to sell for the target"),
            f"={needed('to_earn', 'try_mean')}",
            or_none(target.pieces_needed),
            "whole",
        ),
        (
            "try_pays_back",
            _("Pieces that pay back the table"),
            f"={pays_back('try_mean')}",
            or_none(advice.break_even.sale),
            "whole",
        ),
    )
    for name, label, formula, value, style in rows_of:
        named_row(page, name, label, Figure(formula, value), f"total {style}")
    page.row += 1


def _sum_of(name: str, places: range) -> str:
    return "".join(f"+INDEX({name},{place})" for place in places)
