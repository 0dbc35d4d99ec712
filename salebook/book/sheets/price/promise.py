"""The part of the sheet Price that says what the labels may promise, and from how many pieces on."""

from decimal import Decimal

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.formulas import quoted
from salebook.book.page import Page
from salebook.book.sheets.price.grades import grade_label
from salebook.book.sheets.price.pieces_to_sell import or_none
from salebook.book.sheets.row_height import named_row
from salebook.book.sheets.sums_in_words import live_sentence, money_part
from salebook.pricing.fees import dearest_fee
from salebook.pricing.good import Good
from salebook.pricing.promise import Promise, PromisedSum, dearest_contribution, promise_of
from salebook.reckoning import Reckoning


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
    _table(page, reckoning, goods, promise)
    _in_all(page, reckoning, promise)


def _table(page: Page, reckoning: Reckoning, goods: tuple[Good, ...], promise: Promise) -> None:
    page.headings(
        ("name", "grade", "price", "count", "fee", "brings", "counted", "together", "promise"),
        (
            _("Piece"),
            _("Grade"),
            _("Price"),
            _("For sale"),
            _("Dearest fee"),
            _("One brings in at least"),
            _("of those that bring least"),
            _("bring in"),
            _("May promise"),
        ),
        section="promise",
    )
    first = page.row
    for k, good in enumerate(goods, start=1):
        _row(page, reckoning, _promised(reckoning, promise, good), k=k, rows=(first, first + len(goods) - 1))
    for column, name in ((5, "promise_counts"), (7, "promise_brings"), (9, "promise_together")):
        page.name(name, first, column, last_row=page.row - 1)


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


def _row(page: Page, reckoning: Reckoning, promised: PromisedSum, *, k: int, rows: tuple[int, int]) -> None:
    row, (first, last), good = page.row, rows, promised.good
    section = "donated" if good.grade == "donated" else "wares"
    ways = range(1, len(reckoning.plan.payments) + 1)
    fee = ",".join(f"D{row}*INDEX(way_percents,{w})/100+INDEX(way_fixed,{w})" for w in ways)
    brings = f"D{row}*(1-INDEX(good_keeps,{k}))-F{row}-INDEX(good_costs,{k})"
    before = f"SUMPRODUCT((G{first}:G{last}<G{row})*E{first}:E{last})"
    if row > first:
        before += f"+SUMPRODUCT((G{first}:G{row - 1}=G{row})*E{first}:E{row - 1})"
    may, none = f"AND(E{row}>0,G{row}>0,promise_left>0)", quoted(_("none"))
    page.put_row(
        (
            ("promise", "key"),
            (Figure(f"={page.book.addresses[section, good.code, 'name']}", good.name), "result wrapped"),
            (grade_label(good.grade), "label"),
            (Figure(f"=INDEX(good_prices,{k})", good.price), "result money"),
            (Figure(f"=INDEX(good_counts,{k})", good.count), "result whole"),
            (Figure(f"=MAX({fee})", promised.fee), "worked rate"),
            (Figure(f"=ROUND({brings},9)", promised.brings), "result rate"),
            (Figure(f"=MAX(0,MIN(E{row},promise_pieces-({before})))", promised.counted), "worked whole"),
            (Figure(f"=H{row}*G{row}", promised.counted * promised.brings), "worked money"),
            (
                Figure(f"=IF({may},INT(ROUND(G{row}*promise_left,9)),{none})", or_none(promised.sum)),
                "strong money",
            ),
        )
    )


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
        named_row(page, name, label, Figure(formula, value), f"total {style}")
    _sentence(page, reckoning, promise)
    page.row += 1


def _pieces(reckoning: Reckoning) -> str:
    """Return the formula of the pieces expected on the quietest kind of day; of half of all where one is."""
    if len(reckoning.plan.outlooks) == 1:
        return "=INT(SUM(good_counts)/2)"
    share = "good_shares*MIN(outlook_factors)"
    sold = f"good_sure+(good_counts-good_sure)*(({share}<1)*{share}+({share}>=1))"
    return f"=INT(ROUND(SUMPRODUCT({sold}),9))"


def _sentence(page: Page, reckoning: Reckoning, promise: Promise) -> None:
    digits, fixed = reckoning.plan.sale.digits, reckoning.costs.fixed("sale")
    formula, said = live_sentence(
        _(
            "{pieces} pieces, those that bring in least, bring in {least}, of which {fixed} pays what the "
            "sale has to pay; the rest is the groups'."
        ),
        pieces=("promise_pieces", str(promise.pieces)),
        least=money_part("promise_least", promise.contributions, digits),
        fixed=money_part("fixed_sale", fixed, digits),
    )
    page.paragraph(Figure(f"={formula}", said), "note")
