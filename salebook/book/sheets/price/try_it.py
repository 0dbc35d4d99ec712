"""The part of the sheet Price where one types other prices and sees at once what they would bring."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from salebook.base.words import N_, _
from salebook.book.figure import Figure, Value
from salebook.book.formulas import sum_of
from salebook.book.page import Page
from salebook.book.row_height import new_page
from salebook.book.sheets.live_chance import Case, LiveChances, put_chance
from salebook.book.sheets.price.demand_lines import over_all_days, share_formula
from salebook.book.sheets.price.group_shares import put_group_shares
from salebook.book.sheets.price.pieces_to_sell import needed, or_none, pays_back
from salebook.book.table import Table, put_line
from salebook.plan.model import Outlook, Ware
from salebook.pricing.demand import expected_sold
from salebook.pricing.good import Good
from salebook.reckoning import Reckoning

COLUMNS: Final = ("counts", "shares", "sure", "costs", "contributions")
"""Columns of the goods that formulas here name."""


@dataclass(frozen=True, kw_only=True)
class TriedWare:
    """The n-th ware, whose firsts and seconds are the goods at 2n - 1 and 2n."""

    ware: Ware
    n: int
    first: Good
    second: Good


def _of_goods(formula: str) -> Callable[[TriedWare], str]:
    """Fill in a formula: {counts} is that column of the ware's firsts, {second_counts} of its seconds."""

    def filled(row: TriedWare) -> str:
        firsts = {column: f"[good_{column}@{2 * row.n - 1}]" for column in COLUMNS}
        seconds = {f"second_{column}": f"[good_{column}@{2 * row.n}]" for column in COLUMNS}
        return formula.format(**firsts, **seconds)

    return filled


def _of_both(amount: Callable[[Good], Decimal]) -> Callable[[TriedWare], Decimal]:
    return lambda row: amount(row.first) + amount(row.second)


def try_table(outlooks: Sequence[Outlook]) -> Table[TriedWare]:
    """Declare the table of prices to try, at these kinds of day."""
    table: Table[TriedWare] = Table("try_it", N_("Price"), record=lambda row: row.ware.code)
    sold = "({sure}+({counts}-{sure})*[sells])"
    together = f"{sold}*[brings]+{{second_counts}}*[sells]*{{second_contributions}}"

    def share(row: TriedWare) -> str:
        return share_formula("[price]", row.n) if row.ware.demand else _of_goods("{shares}")(row)

    def over_all(row: TriedWare) -> Decimal:
        return expected_sold(count=1, sure=0, share=row.first.share, outlooks=outlooks)

    table.live("name", _("Piece"), "wrapped", "[wares.name]", lambda row: row.ware.name)
    table.live("planned", _("On Plan"), "money", "[wares.price]", lambda row: row.first.price)
    says = _("A price, not below 0, is expected here")
    table.input("try", _("Try"), "money", lambda _row: None, says=says)
    price = "IF(SUM([try])>0,[try],[planned])"
    table.live("price", _("Reckoned with"), "worked money", price, lambda row: row.first.price)
    table.live("share", _("Share that sells"), "worked percent", share, lambda row: row.first.share)
    table.live("sells", _("Over all days"), "worked percent", over_all_days("[share]"), over_all)
    expected = _of_goods(f"{sold}+{{second_counts}}*[sells]")
    table.live(
        "expected", _("Expected to sell"), "tenths", expected, _of_both(lambda good: good.expected_sold)
    )
    brings = _of_goods("[price]-(fee_share*[price]+fee_fixed)-{costs}")
    table.live("brings", _("One brings in"), "rate", brings, lambda row: row.first.contribution)
    bring = _of_both(lambda good: good.expected_sold * good.contribution)
    table.live("together", _("bring in"), "money", _of_goods(together), bring)
    all_of_them = _of_goods("{counts}*[brings]+{second_counts}*{second_contributions}")
    all_bring = _of_both(lambda good: good.count * good.contribution)
    table.live("all", _("if all are sold"), "worked money", all_of_them, all_bring)
    return table


def put_try_it(
    page: Page, reckoning: Reckoning, goods: tuple[Good, ...], chances: LiveChances, tried: Case | None
) -> None:
    """Write a price to type for each ware, and what the sale would bring; nothing where there are no wares.

    `goods` holds for each ware its firsts and then its seconds, and then the others.
    """
    plan = reckoning.plan
    if tried is None:
        return
    new_page(page)
    # Empty at first, and then the prices on Plan: a copy of them would go stale.
    page.band(_("Try it: other prices"))
    page.paragraph(
        _(
            "Type a price for each ware in the yellow boxes and see what follows below; nothing else "
            "in the workbook changes. Empty means the price on Plan. Seconds and pieces given or left over "
            "keep their prices. Prices that you like go on Plan."
        ),
        "note",
    )
    pairs = zip(plan.wares, goods[::2], goods[1::2], strict=False)
    rows = [
        TriedWare(ware=ware, n=n, first=first, second=second)
        for n, (ware, first, second) in enumerate(pairs, start=1)
    ]
    try_table(plan.outlooks).write(page, rows)
    _put_results(page, reckoning, range(2 * len(plan.wares) + 1, len(goods) + 1))
    put_chance(page, _("Chance of the target"), chances, tried, name="try_chance")
    page.row += 1
    put_group_shares(page, plan, reckoning.advice.share_out, section="try_shares", net="try_net")


def _put_results(page: Page, reckoning: Reckoning, given: range) -> None:
    """Write what the sale would bring; `given` are the places of what is given or left over."""
    advice, target = reckoning.advice, reckoning.advice.target
    sold, brings, if_all = (
        sum_of(column, given) for column in ("good_expected", "good_brings", "good_if_all")
    )
    net = f"SUM([try_it.together:])+{brings}-fixed_sale+other_income_expected"
    mean = f"(SUM([try_it.all:])+{if_all})/MAX(1,SUM(good_counts))"
    lines: tuple[tuple[str, str, str, Value, str], ...] = (
        (
            "try_expected",
            _("Pieces expected to sell"),
            f"SUM([try_it.expected:])+{sold}",
            target.expected_sold,
            "tenths",
        ),
        ("try_net", _("To be expected for the groups"), net, target.expected_net, "money"),
        (
            "try_more",
            _("more than at the prices on Plan"),
            "ROUND(try_net-expected_net,6)",
            Decimal(0),
            "money",
        ),
        ("try_mean", _("One piece brings in, on average"), mean, advice.mean_contribution, "rate"),
        (
            "try_needed",
            _("Pieces to sell for the target"),
            needed("to_earn", "try_mean"),
            or_none(target.pieces_needed),
            "whole",
        ),
        (
            "try_pays_back",
            _("Pieces that cover the costs"),
            pays_back("try_mean"),
            or_none(advice.break_even.sale),
            "whole",
        ),
    )
    for name, label, formula, value, style in lines:
        put_line(page, label, Figure(f"={formula}", value), f"total {style}", name=name)
