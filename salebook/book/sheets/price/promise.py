"""The part of the sheet Price that says what the labels may promise, and from how many pieces on."""

from decimal import Decimal

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import quoted
from salebook.book.page import Page
from salebook.book.sheets.price.grades import grade_label
from salebook.book.sheets.price.pieces_to_sell import or_none
from salebook.book.sheets.sums_in_words import live_sentence, money_part, put_parts
from salebook.book.table import Table, put_line
from salebook.plan.tables import table_of
from salebook.pricing.fees import dearest_fee
from salebook.pricing.good import Good
from salebook.pricing.promise import Promise, PromisedSum, dearest_contribution, promise_of
from salebook.reckoning import Reckoning


def promise_table(ways: int) -> Table[PromisedSum]:
    """Declare the table of what each label may promise, where there are so many ways to pay."""
    table: Table[PromisedSum] = Table("promise", N_("Price"))
    for section in ("wares", "donated", "carried"):
        table.join(section, lambda row: row.good.code)

    def name(row: PromisedSum) -> str:
        return f"[{table_of(type(row.good.source))}.name]"

    fees = ",".join(f"[price]*[way_percents@{n}]/100+[way_fixed@{n}]" for n in range(1, ways + 1))
    brings = "ROUND([price]*(1-[good_keeps@#])-[fee]-[good_costs@#],9)"
    # Those that bring less, and of those that bring as much the ones above.
    before = "SUMPRODUCT(([brings:]<[brings])*[count:])+SUMPRODUCT(([brings^]=[brings])*[count^])-[count]"
    may = "AND([count]>0,[brings]>0,promise_left>0)"
    promise = f"IF({may},INT(ROUND([brings]*promise_left,9)),{quoted(_('none'))})"
    table.live("name", _("Piece"), "wrapped", name, lambda row: row.good.name)
    table.fixed("grade", _("Grade"), "label", lambda row: grade_label(row.good.grade))
    table.live("price", _("Price"), "money", "[good_prices@#]", lambda row: row.good.price)
    table.live(
        *("count", _("For sale"), "whole", "[good_counts@#]", lambda row: row.good.count),
        name="promise_counts",
    )
    table.live("fee", _("Dearest fee"), "worked rate", f"MAX({fees})")
    table.live("brings", _("One brings in at least"), "rate", brings, name="promise_brings")
    counted = f"MAX(0,MIN([count],promise_pieces-({before})))"
    table.live("counted", _("of those that bring least"), "worked whole", counted)
    table.live(
        *("together", _("bring in"), "worked money", "[counted]*[brings]"),
        lambda row: row.counted * row.brings,
        name="promise_together",
    )
    table.live("promise", _("May promise"), "strong money", promise, lambda row: or_none(row.sum))
    return table


def put_promise(page: Page, reckoning: Reckoning, goods: tuple[Good, ...]) -> None:
    """Write what each label may promise, live; `goods` holds a line for every ware's seconds, sold or not."""
    promise = promise_of(reckoning.advice.goods, reckoning.plan, reckoning.costs)
    page.band(_("What a label may promise"))
    page.paragraph(
        _(
            "At least so much of the price goes to the groups, once so many pieces are sold at list price "
            "and the costs met by the sale are not above plan: the print names that number. A sum of 0 is "
            "not printed."
        ),
        "note",
    )
    rows = [_promised(reckoning, promise, good) for good in goods]
    promise_table(len(reckoning.plan.payments)).write(page, rows)
    _in_all(page, reckoning, promise)


def _promised(reckoning: Reckoning, promise: Promise, good: Good) -> PromisedSum:
    """Return the sum of a good; of seconds that are not sold, what none of them brings."""
    there = (one for one in promise.sums if (one.good.code, one.good.grade) == (good.code, good.grade))
    nothing = PromisedSum(
        good=good,
        fee=dearest_fee(good.price, reckoning.plan.payments),
        brings=dearest_contribution(good, reckoning.plan, reckoning.costs),
        counted=0,
        sum=None,
    )
    return next(there, nothing)


def _in_all(page: Page, reckoning: Reckoning, promise: Promise) -> None:
    loss = "SUMPRODUCT((promise_counts>0)*(promise_brings<0))>0"
    left = f"IF(OR(ROUND(promise_least-fixed_sale,9)<=0,{loss}),0,1-fixed_sale/promise_least)"
    rows = (
        ("promise_pieces", _("Holds from so many pieces sold"), _pieces(reckoning), promise.pieces, "whole"),
        (
            "promise_least",
            _("These bring in at least"),
            "=SUM(promise_together)",
            promise.contributions,
            "money",
        ),
        (
            "promise_left",
            _("Share of it that is left for the groups"),
            f"={left}",
            Decimal(promise.share_left.numerator) / promise.share_left.denominator,
            "percent",
        ),
    )
    for name, label, formula, value, style in rows:
        put_line(page, label, Figure(formula, value), f"total {style}", name=name)
    _sentence(page, reckoning, promise)
    page.row += 1


def _pieces(reckoning: Reckoning) -> str:
    """Return the formula of the pieces expected on the quietest kind of day; of half of all where one is."""
    if len(reckoning.plan.outlooks) == 1:
        return "=INT(SUM(good_counts)/2)"
    return "=INT(ROUND(SUM(good_on_quietest),9))"


def _sentence(page: Page, reckoning: Reckoning, promise: Promise) -> None:
    digits, fixed = reckoning.plan.sale.digits, reckoning.costs.fixed("sale")
    money = put_parts(
        page,
        least=money_part("promise_least", promise.contributions, digits),
        fixed=money_part("fixed_sale", fixed, digits),
    )
    formula, said = live_sentence(
        _(
            "{pieces} pieces, those that bring in least, bring in {least}, of which {fixed} pays what the "
            "sale has to pay; the rest is the groups'."
        ),
        pieces=("promise_pieces", str(promise.pieces)),
        **money,
    )
    page.paragraph(Figure(f"={formula}", said), "note")
