"""The part of Progress that looks ahead: the chance from here on, also at other prices for the rest."""

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import Final

from salebook.base.words import N_, _
from salebook.book.figure import Figure, Value, serial
from salebook.book.formulas import quoted
from salebook.book.page import Page
from salebook.book.sheets.goods_left import PRICE, Ahead, GoodLeft, goods_left_table
from salebook.book.sheets.live_chance import Case, CasePieces, Live, LiveChances, words_of
from salebook.book.sheets.price.grades import grade_label
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.book.table import Table, put_line
from salebook.forecast.figures import chance_in_the_rest
from salebook.forecast.live_standing import (
    MOST_SHARE,
    as_share,
    live_standing,
    over_by_lines,
    still_due,
)
from salebook.forecast.state import Offered, SaleState
from salebook.plan.model import Outlook
from salebook.pricing.demand import share_on

SECTION: Final = "rest_chances"
NOW, REST = "now", "rest"
FITS: Final = "SUM([left_days.likelihood:])*1E+200>0"
"""Whether what has sold could come about; where some programs compare, a number near 0 is none."""


def from_here_table(wares: int = 0) -> Table[Ahead]:
    """Declare the row to type in: with a single ware another price of it, else a share of all prices."""
    table: Table[Ahead] = Table("from_here", N_("Progress"))
    offered = "SUMPRODUCT((sale_days<=rest_last_day)*1)/ROWS(sale_days)"
    says = _("A share is expected here, such as 50 %")
    table.fixed("label", "", "label", lambda _row: _("From here on"))
    table.input("over", _("Selling time that is over"), "percents", _typed("over"), says=says)
    table.live("offered", _("by the last day with a line"), "percents", offered, _offered)
    if wares == 1:
        says, heading, style = _("An amount is expected here"), _("Another price for the rest"), "money"
    else:
        heading, style = _("Prices for the rest, as a share of list prices"), "percents"
    table.input("other", heading, style, _typed("other"), says=says)
    return table


def _typed(key: str) -> Callable[[Ahead], Decimal | None]:
    def typed(row: Ahead) -> Decimal | None:
        found: Decimal | None = getattr(row.event.entries.from_here, key)
        return found

    return typed


def _offered(row: Ahead) -> Decimal:
    return over_by_lines(row.reckoning.plan, row.event)


def put_from_here(page: Page, ahead: Ahead, cases: Sequence[Case]) -> None:
    """Write what to type, the chance as it stands, and what other prices for the rest would do."""
    page.band(_("From here on"))
    from_here_table(len(ahead.reckoning.plan.wares)).write(page, [ahead])
    now, rest = cases
    _put_all(page, _("If all sell at list price, it comes to"), "if_all_sell", ahead, then=False)
    _put_chance(page, _("Chance of the target"), "rest_chance", ahead, now)
    if ahead.reckoning.plan.wares:
        _put_all(page, _("At the other price, if all sell"), "if_all_sell_then", ahead, then=True)
        _put_chance(page, _("Chance at the other price"), "rest_chance_then", ahead, rest)
    odd = _("The sale goes better or worse than any kind of day on Plan: how likely each is stays as there.")
    page.paragraph(Figure(f'=IF(rest_fits=1,"",{quoted(odd)})', "" if ahead.fits else odd), "remark")
    page.paragraph(
        _(
            "Of a ware not yet counted out of the kiln all that are planned count as there; “salebook price” "
            "with this book goes by what is on the way, and reckons exactly. The kinds of day are weighed "
            "anew by what has sold."
        ),
        "note",
    )
    page.row += 1


def _put_all(page: Page, label: str, name: str, ahead: Ahead, *, then: bool) -> None:
    brings = f"[left_goods.brings{'_then' if then else ''}:]"
    formula = "+".join(
        ("rest_sure", *(f"SUMPRODUCT([left_goods.{key}:],{brings})" for key in ("left", "waiting")))
    )
    value: Value = (ahead.then if then else ahead.now).if_all_sell
    if then:
        formula, value = f'IF(rest_typed=1,{formula},"")', value if ahead.has_other_prices else ""
    page.sheet.row_dimensions[page.row].height = 22
    put_line(page, label, Figure(f"={formula}", value), "bigger money", name=name)


def _put_chance(page: Page, label: str, name: str, ahead: Ahead, case: Case) -> None:
    at = f"@{case.key}]"
    chance, words, rough = (f"[{SECTION}.{key}{at}" for key in ("chance", "words", "rough"))
    reached, missed = _("reached"), _("not reached, and the sale is over")
    after = f"IF({chance}>0.5,{quoted(reached)},{quoted(missed)})"
    reckoned = case.reckoned
    likely = words_of(reckoned.chance)
    few, roughly = live_sentence(_("{likely} (rough: few pieces decide)"), likely=(words, likely))
    formula = f"IF(rest_over>=1,{after},IF({rough}=1,{few},{words}))"
    said = roughly if reckoned.is_rough else likely
    if ahead.over >= 1:
        said = reached if reckoned.chance > 0.5 else missed
    shown: Value = reckoned.chance
    if case.key == REST:
        chance, formula = (f'IF(rest_typed=1,{each},"")' for each in (chance, formula))
        shown, said = (shown, said) if ahead.has_other_prices else ("", "")
    page.sheet.row_dimensions[page.row].height = 22
    put_line(
        *(page, label, Figure(f"={chance}", shown), "bigger percents"),
        name=name,
        note=(Figure(f"={formula}", said), "result text"),
    )


def left_chances(ahead: Ahead) -> LiveChances:
    """Return the tables of the chances from here on."""
    names = [str(day.name) for day in ahead.reckoning.plan.outlooks]
    return LiveChances(section=SECTION, sheet=N_("Progress"), days=names)


def left_cases(ahead: Ahead) -> tuple[Case, Case]:
    """Return the cases: at the list prices, and at the prices typed for the rest."""
    return _case(NOW, _("list prices"), ahead, ahead.now), _case(REST, _("other prices"), ahead, ahead.then)


def _case(key: str, name: str, ahead: Ahead, state: SaleState) -> Case:
    to_bring = float(state.target) - float(_sure(state))
    suffix = "" if key == NOW else "_then"
    weights = ahead.weights
    return Case(
        key=key,
        name=name,
        to_bring=Live("target-rest_sure", to_bring),
        pieces=tuple(
            _pieces(good, good.now if key == NOW else good.then, ahead, suffix) for good in ahead.goods
        ),
        weights=tuple(Live(f"[left_days.weight@{n}]", weight) for n, weight in enumerate(weights, start=1)),
    )


def _sure(state: SaleState) -> Decimal:
    return state.reached + state.other_left + state.held_brings


def _pieces(good: GoodLeft, offered: Offered, ahead: Ahead, suffix: str) -> CasePieces:
    def cell(key: str) -> str:
        return f"[left_goods.{key}@{good.n}]"

    def sells(n: int, day: Outlook) -> Live:
        share, then = (f"MIN(1,{cell(key)}*[outlook_factors@{n}])" for key in ("share", f"share{suffix}"))
        chance = chance_in_the_rest(
            share=share_on(offered.share, day.factor),
            share_then=share_on(offered.share_then, day.factor),
            over=ahead.over,
        )
        return Live(f"IF(rest_over>=1,0,{then}*(1-rest_over)/(1-{share}*rest_over))", chance)

    days = enumerate(ahead.reckoning.plan.outlooks, start=1)
    return CasePieces(
        name=f"{good.good.code} {grade_label(good.good.grade)}",
        left=Live(cell("left"), offered.left),
        sure=Live(cell("waiting"), offered.promised),
        brings=Live(cell(f"brings{suffix}"), offered.brings_then),
        sells=tuple(sells(n, day) for n, day in days),
    )


def put_workings(page: Page, ahead: Ahead, chances: LiveChances, cases: Sequence[Case]) -> None:
    """Write all that the chance is worked out from, folded away below what is printed."""
    page.row += 1
    first = page.row
    page.band(_("What the look ahead is worked out from"))
    outlooks = ahead.reckoning.plan.outlooks
    goods_left_table(outlooks).write(page, ahead.goods)
    days = list(zip(range(len(outlooks)), outlooks, ahead.likelihoods, ahead.weights, strict=True))
    _days_table().write(page, days)
    _put_sums(page, ahead)
    page.fold(first, page.row)
    chances.put(page, cases)


def _days_table() -> Table[tuple[int, Outlook, float, float]]:
    table: Table[tuple[int, Outlook, float, float]] = Table("left_days", N_("Progress"))
    table.fixed("name", _("Kind of day"), "small text", lambda row: str(row[1].name))
    table.live(
        *("likelihood", _("Likely so far"), "small number"),
        lambda row: f"[outlook_weights@#]*PRODUCT([left_goods.odds{row[0]}:])",
        lambda row: row[2],
    )
    weight = f"IF({FITS},[likelihood],[outlook_weights@#])"
    table.live("weight", _("How likely now"), "small number", weight, lambda row: row[3])
    return table


_Sum = tuple[str, str, str, Value, str]
"""A name, a label, a formula with its value, and a style."""


def _put_sums(page: Page, ahead: Ahead) -> None:
    for name, label, formula, value, style in (*_as_typed(ahead), *_still_to_come(ahead)):
        figure = Figure(f"={formula}", value)
        put_line(page, label, figure, f"small {style}", name=name, label_style="small text")


def _as_typed(ahead: Ahead) -> tuple[_Sum, ...]:
    """Return how much of the time is over and what other prices are asked, as they were typed."""
    plan, event = ahead.reckoning.plan, ahead.event
    other = event.entries.from_here.other or Decimal(0)
    last = max((line.day for line in event.state.lines), default=None)
    over = "[from_here.over@1]"
    in_use = f"IF(ISNUMBER({over}),MIN(1,{_share_in(over)}),[from_here.offered@1])"
    is_typed, share = "IF(rest_share>0,1,0)", (_share_in(PRICE), as_share(other))
    if len(plan.wares) < 2:
        is_typed, share = f"IF({PRICE}>0,1,0)" if plan.wares else "0", ("0", Decimal(0))
    fits = f"IF({FITS},1,0)"
    return (
        ("rest_last_day", _("Last day with a line"), "MAX(takings_day)", serial(last) or 0, "date"),
        ("rest_over", _("Selling time over, in use"), in_use, ahead.over, "percent"),
        ("rest_share", _("Other prices, of list prices"), *share, "percent"),
        ("rest_typed", _("Another price is typed"), is_typed, int(ahead.has_other_prices), "whole"),
        ("rest_fits", _("A kind of day fits"), fits, int(ahead.fits), "whole"),
    )


def _share_in(cell: str) -> str:
    """Return the formula of a share: a number that is too large for one is taken as per cent."""
    return f"IF({cell}>{MOST_SHARE},{cell}/100,{cell})"


def _still_to_come(ahead: Ahead) -> tuple[_Sum, ...]:
    """Return what comes in on any account: raised, promised, ordered and on its way, less what that costs."""
    due = still_due(ahead.reckoning.plan, ahead.event, live_standing(ahead.reckoning, ahead.event).costs)
    orders = '(takings_kind="order")*(takings_same=0)'
    ordered, paid = (f"SUMPRODUCT({orders},{column})" for column in ("takings_list", "takings_amount"))
    filled = "SUMPRODUCT(pieces_fills_order,pieces_price)"
    used = 'pieces_fills_order*(pieces_status="sold")*(pieces_price>pieces_paid)'
    unfilled = f"MAX(0,{ordered}-{filled})"
    paid_ahead = f"MAX(0,{paid}-SUMPRODUCT({used},pieces_price-pieces_paid))"
    to_pay = "MAX(0,SUM(pieces_to_pay)+rest_unfilled-rest_paid_ahead)"
    payments = 'COUNTIF(pieces_to_pay,">0")+SUM(tally_to_make)'
    fees = "IF(rest_to_pay>0,rest_to_pay*fee_share+rest_payments*fee_fixed,0)"
    costs = "SUMPRODUCT([left_goods.held:]+[left_goods.to_make:],[left_goods.costs:])"
    waiting = "[ways.waiting:]"
    fees_on_way = f'({waiting}>0)*([ways.paid_to:]="")*({waiting}*way_percents/100+way_fixed)'
    arriving = f"SUM({waiting})-SUMPRODUCT({fees_on_way})"
    sure = (
        "pool+named_total+direct_total+other_income_expected*(1-rest_over)"
        "+rest_to_pay-rest_fees-rest_costs-SUM([left_goods.to_givers:])+rest_arriving"
    )
    return (
        ("rest_unfilled", _("Ordered, no piece put aside"), unfilled, due.unfilled, "money"),
        ("rest_paid_ahead", _("Paid ahead on orders"), paid_ahead, due.paid_ahead, "money"),
        ("rest_to_pay", _("Still to pay by claims"), to_pay, due.to_pay, "money"),
        ("rest_payments", _("in so many payments"), payments, due.payments, "whole"),
        ("rest_fees", _("fees on them"), fees, due.fees, "money"),
        ("rest_costs", _("costs as they are handed over"), costs, due.costs, "money"),
        ("rest_arriving", _("Money on its way"), arriving, due.on_its_way, "money"),
        ("rest_sure", _("Comes in in any case"), sure, _sure(ahead.now), "money"),
    )
