"""The part of the sheet Price where one types other prices and sees at once what they would bring."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.base.words import _
from salebook.book.figure import Figure, Value
from salebook.book.page import Page
from salebook.book.sheets.price.demand_lines import over_all_days, share_formula
from salebook.book.sheets.price.group_shares import put_group_shares
from salebook.book.sheets.price.pieces_to_sell import needed, or_none, pays_back
from salebook.book.table import Table, put_line
from salebook.plan.model import Outlook, Ware
from salebook.pricing.demand import expected_sold
from salebook.pricing.good import Good
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class TriedWare:
    """The n-th ware, whose firsts and seconds are the goods at 2n - 1 and 2n."""

    ware: Ware
    n: int
    first: Good
    second: Good
    outlooks: Sequence[Outlook]

    def of_first(self, column: str) -> str:
        """Return the formula of what a column of goods says of the ware's firsts."""
        return f"INDEX(good_{column},{2 * self.n - 1})"

    def of_second(self, column: str) -> str:
        """Return the formula of what a column of goods says of the ware's seconds."""
        return f"INDEX(good_{column},{2 * self.n})"

    @property
    def firsts_sold(self) -> str:
        """The formula of the firsts expected to sell."""
        sure = self.of_first("sure")
        return f"({sure}+({self.of_first('counts')}-{sure})*[sells])"

    @property
    def share_formula(self) -> str:
        """The formula of the share that sells at the price that is tried."""
        return share_formula("[price]", self.n) if self.ware.demand else self.of_first("shares")

    @property
    def over_all(self) -> Decimal:
        """The share of the firsts that sells over all kinds of day."""
        return expected_sold(count=1, sure=0, share=self.first.share, outlooks=self.outlooks)

    @property
    def expected(self) -> Decimal:
        """The pieces of both grades expected to sell."""
        return self.first.expected_sold + self.second.expected_sold

    @property
    def together(self) -> Decimal:
        """What these bring in."""
        return sum((good.expected_sold * good.contribution for good in (self.first, self.second)), Decimal(0))

    @property
    def if_all(self) -> Decimal:
        """What all would bring in."""
        return sum((good.count * good.contribution for good in (self.first, self.second)), Decimal(0))


def try_table() -> Table[TriedWare]:
    """Declare the table of prices to try."""
    table: Table[TriedWare] = Table("try_it", _("Price"), record=lambda row: row.ware.code)
    says = _("A price, not below 0, is expected here")

    def brings(row: TriedWare) -> str:
        return f"[price]-(fee_share*[price]+fee_fixed)-{row.of_first('costs')}"

    def expected(row: TriedWare) -> str:
        return f"{row.firsts_sold}+{row.of_second('counts')}*[sells]"

    def together(row: TriedWare) -> str:
        seconds = f"{row.of_second('counts')}*[sells]*{row.of_second('contributions')}"
        return f"{row.firsts_sold}*[brings]+{seconds}"

    def if_all(row: TriedWare) -> str:
        seconds = f"{row.of_second('counts')}*{row.of_second('contributions')}"
        return f"{row.of_first('counts')}*[brings]+{seconds}"

    table.live("name", _("Piece"), "wrapped", "[wares.name]", lambda row: row.ware.name)
    table.live("planned", _("On Plan"), "money", "[wares.price]", lambda row: row.first.price)
    table.input("try", _("Try"), "money", lambda _row: None, says=says)
    table.live(
        *("price", _("Reckoned with"), "worked money", "IF(N([try])>0,[try],[planned])"),
        lambda row: row.first.price,
    )
    table.live(
        *("share", _("Share that sells"), "worked percent", lambda row: row.share_formula),
        lambda row: row.first.share,
    )
    table.live(
        *("sells", _("Over all days"), "worked percent", over_all_days("[share]")), lambda row: row.over_all
    )
    table.live("expected", _("Expected to sell"), "tenths", expected)
    table.live("brings", _("One brings in"), "rate", brings, lambda row: row.first.contribution)
    table.live("together", _("bring in"), "money", together)
    table.live("all", _("if all are sold"), "worked money", if_all, lambda row: row.if_all)
    return table


def put_try_it(page: Page, reckoning: Reckoning, goods: tuple[Good, ...]) -> None:
    """Write a price to type for each ware, and what the sale would bring; nothing where there are no wares.

    `goods` holds for each ware its firsts and then its seconds, and then the donated pieces.
    """
    plan = reckoning.plan
    if not plan.wares:
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
    pairs = zip(plan.wares, goods[::2], goods[1::2], strict=False)
    rows = [
        TriedWare(ware=ware, n=n, first=first, second=second, outlooks=plan.outlooks)
        for n, (ware, first, second) in enumerate(pairs, start=1)
    ]
    try_table().write(page, rows)
    _put_results(page, reckoning, range(2 * len(plan.wares) + 1, len(goods) + 1))
    put_group_shares(page, plan, reckoning.advice.share_out, section="try_shares", net="try_net")


def _put_results(page: Page, reckoning: Reckoning, given: range) -> None:
    """Write what the sale would bring; `given` are the places of pieces that others give among the goods."""
    advice, target = reckoning.advice, reckoning.advice.target
    sold = "".join(f"+INDEX(good_expected,{k})" for k in given)
    brings = "".join(f"+INDEX(good_brings,{k})" for k in given)
    if_all = "".join(f"+INDEX(good_counts,{k})*INDEX(good_contributions,{k})" for k in given)
    net = f"SUM([try_it.together:]){brings}-fixed_sale+other_income_expected"
    mean = f"(SUM([try_it.all:]){if_all})/SUM(good_counts)"
    lines: tuple[tuple[str, str, str, Value, str], ...] = (
        (
            "try_expected",
            _("Pieces expected to sell"),
            f"SUM([try_it.expected:]){sold}",
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
            _("Pieces that pay back the table"),
            pays_back("try_mean"),
            or_none(advice.break_even.sale),
            "whole",
        ),
    )
    for name, label, formula, value, style in lines:
        put_line(page, label, Figure(f"={formula}", value), f"total {style}", name=name)
    page.row += 1
