"""The sheet Price: what the prices bring, what they must bring, and what other prices would."""

from decimal import Decimal

from salebook.base.words import _
from salebook.book.figure import Figure, Value
from salebook.book.page import Book, Page
from salebook.book.sheets.price.demand_lines import over_all_days, put_demand_lines, share_formula
from salebook.book.sheets.price.grades import grade_label
from salebook.book.sheets.price.group_shares import put_group_shares
from salebook.book.sheets.price.ladder import put_ladder
from salebook.book.sheets.price.pieces_to_sell import needed, or_none, pays_back
from salebook.book.sheets.price.promise import put_promise
from salebook.book.sheets.price.sums import put_sums
from salebook.book.sheets.price.try_it import put_try_it
from salebook.book.sheets.row_height import named_row, new_page
from salebook.book.sheets.staleness_check import put_staleness_check
from salebook.event.event import Event
from salebook.making.losses import Run
from salebook.pricing.break_even import mean_contribution
from salebook.pricing.costing import Basis
from salebook.pricing.fees import expected_fee
from salebook.pricing.good import Good, second_of
from salebook.pricing.outcome import other_income
from salebook.reckoning import Reckoning
from salebook.say.price import in_words

WIDTHS = (3, 30, 12, *(11.5,) * 10)


def write_price(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Price."""
    del event
    page = book.page(_("Price"), widths=WIDTHS, landscape=True)
    page.title(
        _("Price"), _("What the prices in the plan can be expected to bring, and what they must bring.")
    )
    page.freeze(4)
    goods = goods_with_all_seconds(reckoning)
    _in_short(page, reckoning)
    page.band(_("What each group can expect"))
    put_group_shares(
        page, reckoning.plan, reckoning.advice.share_out, section="expected_shares", net="expected_net"
    )
    put_try_it(page, reckoning, goods)
    new_page(page)
    put_ladder(page, reckoning, goods)
    new_page(page)
    put_promise(page, reckoning, goods)
    _goods(page, reckoning, goods)
    _bases(page, reckoning)
    new_page(page)
    put_demand_lines(page, reckoning.plan.wares)
    page.sheet.print_area = f"A1:M{page.row - 1}"
    _staleness_check(page, reckoning, goods)


def goods_with_all_seconds(reckoning: Reckoning) -> tuple[Good, ...]:
    """Return everything for sale with a line for every ware's seconds: Plan may give them a price."""
    advised = reckoning.advice.goods
    runs = {run.ware.code: run for run in reckoning.studio.runs}
    found: list[Good] = []
    for good in advised:
        if good.grade == "first":
            found += [good, _second(reckoning, runs[good.code])]
        elif good.grade == "donated":
            found.append(good)
    return tuple(found)


def _second(reckoning: Reckoning, run: Run) -> Good:
    return second_of(reckoning.plan, run, reckoning.costs)


def _in_short(page: Page, reckoning: Reckoning) -> None:
    target = reckoning.advice.target
    page.band(_("In short"))
    rows = (
        ("target_shown", _("The target"), Figure("=target", target.amount), "money"),
        (
            "expected_net",
            _("To be expected for the groups"),
            Figure("=SUM(good_brings)-fixed_sale+other_income_expected", target.expected_net),
            "money",
        ),
        (
            "pieces_needed",
            _("Pieces to sell for the target"),
            Figure(f"={needed('to_earn', 'mean_sale')}", or_none(target.pieces_needed)),
            "whole",
        ),
        ("pieces_for_sale", _("of pieces for sale"), Figure("=SUM(good_counts)", target.for_sale), "whole"),
        (
            "pieces_expected",
            _("Pieces expected to sell"),
            Figure("=SUM(good_expected)", target.expected_sold),
            "tenths",
        ),
    )
    for name, label, figure, style in rows:
        named_row(page, name, label, figure, f"total {style}")
    page.put_row(
        (
            (None, ""),
            (_("Chance of the target"), "label"),
            (target.chance, "worked percents"),
            (in_words(target.chance), "worked"),
        )
    )
    put_sums(page, reckoning)
    page.paragraph(
        _(
            "The chance was worked out by salebook and does not follow changes made here: "
            "Start here says when it is stale. To have it anew, run salebook again."
        ),
        "note",
    )
    page.row += 1


def _goods(page: Page, reckoning: Reckoning, goods: tuple[Good, ...]) -> None:
    page.band(_("What one piece brings in"))
    page.headings(
        (
            "name",
            "grade",
            "count",
            "price",
            "keeps",
            "fee",
            "costs",
            "brings",
            "share",
            "sure",
            "expected",
            "together",
        ),
        (
            _("Piece"),
            _("Grade"),
            _("For sale"),
            _("Price"),
            _("Giver's part"),
            _("Fee expected"),
            _("Costs as sold"),
            _("One brings in"),
            _("Share that sells"),
            _("Spoken for"),
            _("Expected to sell"),
            _("bring in"),
        ),
        section="goods",
    )
    first = page.row
    for good in goods:
        _good(page, reckoning, good)
    last = page.row - 1
    columns = {
        4: "good_counts",
        5: "good_prices",
        6: "good_keeps",
        7: "good_fees",
        8: "good_costs",
        9: "good_contributions",
        10: "good_shares",
        11: "good_sure",
        12: "good_expected",
        13: "good_brings",
    }
    for column, name in columns.items():
        page.name(name, first, column, last_row=last)
    page.row += 1


def _good(page: Page, reckoning: Reckoning, good: Good) -> None:
    row, places, plan = page.row, page.book.addresses, reckoning.plan
    n = next((n for n, run in enumerate(reckoning.studio.runs, 1) if run.ware.code == good.code), 0)
    section = "donated" if good.grade == "donated" else "wares"
    of = {key: places[section, good.code, key] for key in ("name", "price", "sells", "spoken_for")}
    keeps = places["donated", good.code, "keeps"] if section == "donated" else "0"
    seconds_price = places.get(("wares", good.code, "seconds_price"), "")
    count = {
        "first": f"INDEX(making_wanted,{n})",
        "second": f"INDEX(ware_for_sale,{n})-INDEX(making_wanted,{n})",
        "donated": places.get(("donated", good.code, "count"), ""),
    }[good.grade]
    price = f"N({seconds_price})" if good.grade == "second" else of["price"]
    sure = "0" if good.grade == "second" else f"MIN({of['spoken_for']},D{row})"
    share = of["sells"]
    if n and plan.wares[n - 1].demand:
        share = share_formula(of["price"], n)
    sells = over_all_days(f"J{row}")
    page.put_row(
        (
            ("goods", "key"),
            (Figure(f"={of['name']}", good.name), "result wrapped"),
            (grade_label(good.grade), "label"),
            (Figure(f"={count}", good.count), "result whole"),
            (Figure(f"={price}", good.price), "result money"),
            (Figure(f"={keeps}", good.keeps), "result percents"),
            (Figure(f"={fee_formula(f'E{row}')}", good.fee), "result rate"),
            (
                Figure(f"={sold_costs(good, reckoning)}", reckoning.costs.per_piece_sold(good.code, "sale")),
                "result rate",
            ),
            (Figure(f"=E{row}*(1-F{row})-G{row}-H{row}", good.contribution), "result rate"),
            (Figure(f"={share}", good.share), "result percent"),
            (Figure(f"={sure}", good.sure), "result whole"),
            (Figure(f"=K{row}+(D{row}-K{row})*{sells}", good.expected_sold), "result tenths"),
            (Figure(f"=L{row}*I{row}", good.expected_sold * good.contribution), "result money"),
        )
    )


def fee_formula(price: str) -> str:
    """Return the formula of the fee expected on one sale at a price, without "="."""
    return f"fee_share*{price}+fee_fixed"


def sold_costs(good: Good, reckoning: Reckoning, basis: Basis = "sale") -> str:
    """Return the formula of what each sold piece of a good costs on a basis, without "="."""
    growing = [n for n, line in enumerate(reckoning.costs.lines, 1) if good.code in line.codes]
    if basis == "sale":
        terms = [f'INDEX(cost_grows,{n})*(INDEX(cost_met_by,{n})="sale")' for n in growing]
    else:
        terms = [f"INDEX(cost_grows,{n})" for n in growing]
    return "+".join(terms) or "0"


def _bases(page: Page, reckoning: Reckoning) -> None:
    page.band(_("What a piece must fetch, on three reckonings"))
    page.headings(
        ("basis", "fixed", "mean", "break_even", "piece_cost"),
        (
            _("Reckoning"),
            _("To pay back"),
            _("One piece brings in"),
            _("Pieces to sell"),
            _("One piece costs"),
        ),
        section="bases",
    )
    words: dict[Basis, str] = {
        "sale": _("to pay back the table"),
        "spent": _("all money spent"),
        "full": _("and my hours"),
    }
    for basis, label in words.items():
        _basis(page, reckoning, basis, label)
    page.paragraph(_("Pieces to sell = to pay back / what one piece brings in, rounded up."), "note")
    _fees_and_earnings(page, reckoning)
    page.row += 1


def _basis(page: Page, reckoning: Reckoning, basis: Basis, label: str) -> None:
    advice, costs = reckoning.advice, reckoning.costs
    row, growing, count = page.row, _growing(reckoning, basis), "SUM(good_counts)"
    brings = "good_prices*(1-good_keeps)-good_fees"
    mean = f"IF({count}=0,0,SUMPRODUCT(good_counts,{brings})/{count}-{growing})"
    cost = f"IF({count}=0,0,C{row}/{count}+SUMPRODUCT(good_counts,good_fees)/{count}+{growing})"
    page.put_row(
        (
            ("bases", "key"),
            (label, "label"),
            (Figure(f"=fixed_{basis}", costs.fixed(basis)), "result money"),
            (Figure(f"={mean}", mean_contribution(advice.goods, costs, basis)), "result rate"),
            (
                Figure(f"={pays_back(f'D{row}', f'C{row}')}", or_none(getattr(advice.break_even, basis))),
                "strong whole",
            ),
            (Figure(f"={cost}", getattr(advice.piece_cost, basis)), "result money"),
        )
    )
    page.name(f"mean_{basis}", row, 4)


def _fees_and_earnings(page: Page, reckoning: Reckoning) -> None:
    plan, costs = reckoning.plan, reckoning.costs
    other, fee = other_income(plan), expected_fee(Decimal(0), plan)
    income = "=SUM(other_income)" if plan.other_income else "=0"
    earn, earned = "=fixed_sale+target-other_income_expected", costs.fixed("sale") + plan.sale.target - other
    share, shared = "=SUMPRODUCT(way_shares,way_percents)/100", expected_fee(Decimal(1), plan) - fee
    lines = (
        ("fee_fixed", _("Fee for each sale, on average"), "=SUMPRODUCT(way_shares,way_fixed)", fee, "money"),
        ("other_income_expected", _("Other money expected"), income, other, "money"),
        ("to_earn", _("Pieces have to bring in"), earn, earned, "money"),
        ("fee_share", _("Fee, part of the price, on average"), share, shared, "percent"),
    )
    for name, label, formula, amount, style in lines:
        named_row(page, name, label, Figure(formula, amount), f"result {style}")


def _growing(reckoning: Reckoning, basis: Basis) -> str:
    """Return the formula of the mean cost for each piece sold over everything for sale."""
    terms = []
    for n, good in enumerate(goods_with_all_seconds(reckoning), start=1):
        costs = sold_costs(good, reckoning, basis)
        if costs != "0":
            terms.append(f"INDEX(good_counts,{n})*({costs})")
    return f"({'+'.join(terms) or '0'})/SUM(good_counts)"


def _staleness_check(page: Page, reckoning: Reckoning, goods: tuple[Good, ...]) -> None:
    plan, costs = reckoning.plan, reckoning.costs
    inputs: list[tuple[str, str, Value]] = [
        (_("The target"), "target", plan.sale.target),
        (_("Fixed costs met by the sale"), "fixed_sale", costs.fixed("sale")),
        (_("Other money expected"), "other_income_expected", other_income(plan)),
    ]
    for n, good in enumerate(goods, start=1):
        label = f"{good.code} {grade_label(good.grade)}"
        inputs += [
            (_("{what}: for sale").format(what=label), f"INDEX(good_counts,{n})", good.count),
            (_("{what}: brings in").format(what=label), f"INDEX(good_contributions,{n})", good.contribution),
            (_("{what}: share").format(what=label), f"INDEX(good_shares,{n})", good.share),
            (_("{what}: spoken for").format(what=label), f"INDEX(good_sure,{n})", good.sure),
        ]
    for n, outlook in enumerate(plan.outlooks, start=1):
        inputs += [
            (f"{outlook.name}: {_('how likely')}", f"INDEX(outlook_weights,{n})", outlook.weight),
            (f"{outlook.name}: {_('sales, times the usual')}", f"INDEX(outlook_factors,{n})", outlook.factor),
        ]
    put_staleness_check(page, "stale_chance", _("What the chance was worked out from"), inputs)
    changed = _("Inputs changed since anything was worked out")
    named_row(page, "stale_inputs", changed, Figure("=stale_loads+stale_chance", 0), "strong whole")
