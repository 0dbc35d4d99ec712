"""The sheet Price: what the prices bring, what they must bring, and what other prices would."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from operator import attrgetter, methodcaller
from typing import Final, get_args

from salebook.base.words import N_, _
from salebook.book.figure import Figure, Value
from salebook.book.formulas import sum_of
from salebook.book.page import Book, Page
from salebook.book.row_height import new_page
from salebook.book.sheets.live_chance import Case, LiveChances, put_chance
from salebook.book.sheets.price.chances import PLANNED, TRIED, price_cases, price_chances
from salebook.book.sheets.price.demand_lines import over_all_days, put_demand_lines, share_formula
from salebook.book.sheets.price.grades import grade_label
from salebook.book.sheets.price.group_shares import put_group_shares
from salebook.book.sheets.price.ladder import ladder_rows, put_ladder
from salebook.book.sheets.price.must_fetch import put_must_fetch
from salebook.book.sheets.price.must_fetch_search import Search
from salebook.book.sheets.price.must_fetch_workings import put_workings
from salebook.book.sheets.price.pieces_to_sell import needed, or_none, pays_back
from salebook.book.sheets.price.promise import put_promise
from salebook.book.sheets.price.sums import put_sums
from salebook.book.sheets.price.try_it import put_try_it
from salebook.book.table import Table, put_line
from salebook.event.event import Event
from salebook.forecast.live_chance import WITHIN
from salebook.making.losses import Run
from salebook.plan.model import USUAL_SELLS, Carried, Ware
from salebook.pricing.break_even import mean_contribution
from salebook.pricing.costing import Basis
from salebook.pricing.fees import expected_fee
from salebook.pricing.good import Good, Grade, second_of
from salebook.pricing.outcome import other_income, sold_on
from salebook.reckoning import Reckoning

WIDTHS = (3, 30, 12, *(11.5,) * 10)
WORKINGS = len(WIDTHS) + 2
"""First column right of the printed page."""
FORMULAS: Final[Mapping[Grade, Mapping[str, str]]] = {
    "first": {
        **{"name": "[wares.name]", "count": "[tally.firsts]", "price": "[wares.price]"},
        **{"keeps": "0", "sure": "MIN([wares.spoken_for],[count])"},
    },
    "second": {
        **{"name": "[wares.name]", "count": "[tally.seconds]"},
        **{"price": "SUM([wares.seconds_price])", "keeps": "0", "sure": "0"},
    },
    "donated": {
        **{"name": "[donated.name]", "count": "[donated.count]", "price": "[donated.price]"},
        **{"keeps": "[donated.keeps]", "share": "[donated.sells]"},
        **{"sure": "MIN([donated.spoken_for],[count])"},
    },
    "carried": {
        **{"name": "[carried.name]", "count": "[carried.count]", "price": "[carried.price]"},
        **{"keeps": "0", "sure": "MIN([carried.spoken_for],[count])"},
    },
}
"""Where the facts of a good come from, by its grade."""


def write_price(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Price."""
    del event
    page = book.page(N_("Price"), widths=WIDTHS, landscape=True)
    page.title(
        _("Price"), _("What the prices in the plan can be expected to bring, and what they must bring.")
    )
    page.freeze(4)
    goods = goods_with_all_seconds(reckoning)
    rungs, chances = ladder_rows(reckoning), price_chances(reckoning.plan)
    cases = {case.key: case for case in price_cases(reckoning, goods, rungs)}
    search = Search(reckoning, goods, rungs, cases)
    _in_short(page, reckoning, chances, cases[PLANNED])
    if reckoning.plan.wares:
        put_must_fetch(page, search)
    page.band(_("What each group can expect"))
    put_group_shares(
        page, reckoning.plan, reckoning.advice.share_out, section="expected_shares", net="expected_net"
    )
    put_try_it(page, reckoning, goods, chances, cases.get(TRIED))
    new_page(page)
    of_rungs = {row.rung.change: cases[str(n)].reckoned.chance for n, row in enumerate(rungs, start=1)}
    put_ladder(page, rungs, goods, of_rungs, reckoning.plan.sale.target)
    new_page(page)
    put_promise(page, reckoning, goods)
    _put_goods(page, reckoning, goods)
    _put_bases(page, reckoning)
    new_page(page)
    put_demand_lines(page, reckoning.plan.wares)
    page.print_so_far()
    if reckoning.plan.wares:
        put_workings(page, search)
        cases |= {case.key: case for case in search.cases}
    chances.put(page, tuple(cases.values()))


def goods_with_all_seconds(reckoning: Reckoning) -> tuple[Good, ...]:
    """Return everything for sale with a line for every ware's seconds: Plan may give them a price."""
    advised = reckoning.advice.goods
    runs = {run.ware.code: run for run in reckoning.studio.runs}
    found: list[Good] = []
    for good in advised:
        if good.grade == "first":
            found += [good, _second(reckoning, runs[good.code])]
        elif not good.is_made:
            found.append(good)
    return tuple(found)


def _second(reckoning: Reckoning, run: Run) -> Good:
    return second_of(reckoning.plan, run, reckoning.costs)


def _in_short(page: Page, reckoning: Reckoning, chances: LiveChances, planned: Case) -> None:
    target = reckoning.advice.target
    page.band(_("In short"))
    net, pieces = "SUM(good_brings)-fixed_sale+other_income_expected", needed("to_earn", "mean_sale")
    lines: tuple[tuple[str, str, str, Value, str], ...] = (
        ("target_shown", _("The target"), "target", target.amount, "money"),
        ("expected_net", _("To be expected for the groups"), net, target.expected_net, "money"),
        (
            "pieces_needed",
            _("Pieces to sell for the target"),
            pieces,
            or_none(target.pieces_needed),
            "whole",
        ),
        ("pieces_for_sale", _("of pieces for sale"), "SUM(good_counts)", target.for_sale, "whole"),
        (
            "pieces_expected",
            _("Pieces expected to sell"),
            "SUM(good_expected)",
            target.expected_sold,
            "tenths",
        ),
    )
    for name, label, formula, value, style in lines:
        put_line(page, label, Figure(f"={formula}", value), f"total {style}", name=name)
    put_chance(page, _("Chance of the target"), chances, planned, name="plan_chance")
    put_sums(page, reckoning)
    page.paragraph(
        _(
            "The chance follows what stands here, reckoned by a curve; “salebook price” reckons it exactly. "
            "Where it does not say that it is rough, the two are no more than {within} in 100 apart."
        ).format(within=round(100 * WITHIN)),
        "note",
    )
    page.row += 1


@dataclass(frozen=True, kw_only=True)
class GoodRow:
    """A good, the ware that it is, if any, and its number, and what each sold one costs the sale."""

    good: Good
    ware: Ware | None
    ware_number: int
    costs_formula: str
    costs: Decimal
    all_costs_formula: str
    all_costs: Decimal
    """The same of all money spent."""
    on_quietest: Decimal
    """The pieces expected to sell on the quietest kind of day."""

    def formula(self, key: str) -> str:
        """Return the formula of what Plan or Making says."""
        if key != "share" or self.good.grade == "donated":
            return FORMULAS[self.good.grade][key]
        if not isinstance(self.good.source, Carried):
            return self._share_of_ware("[wares.price]")
        share = self._share_of_ware("[wares.price]" if self.good.source.second else "[price]")
        return f"IF(COUNT([carried.sells])=0,{share},[carried.sells])"

    def _share_of_ware(self, price: str) -> str:
        if self.ware is None:
            return str(USUAL_SELLS)
        return share_formula(price, self.ware_number) if self.ware.demand else "[wares.sells]"


def goods_table() -> Table[GoodRow]:
    """Declare the table of everything for sale and what one piece of each brings in."""
    table: Table[GoodRow] = Table(
        "goods", N_("Price"), record=lambda row: f"{row.good.code}/{row.good.grade}"
    )
    for section in ("donated", "carried", "tally"):
        table.join(section, lambda row: row.good.code)
    table.join("wares", lambda row: row.good.source.stem)

    def planned(key: str, heading: str, style: str, *, name: str = "") -> None:
        table.live(key, heading, style, methodcaller("formula", key), attrgetter(f"good.{key}"), name=name)

    fee, brings = "fee_share*[price]+fee_fixed", "[price]*(1-[keeps])-[fee]-[costs]"
    expected = f"[sure]+([count]-[sure])*{over_all_days('[share]')}"
    planned("name", _("Piece"), "wrapped")
    table.fixed("grade", _("Grade"), "label", lambda row: grade_label(row.good.grade))
    planned("count", _("For sale"), "whole", name="good_counts")
    planned("price", _("Price"), "money", name="good_prices")
    planned("keeps", _("Giver's part"), "percents", name="good_keeps")
    table.live("fee", _("Fee expected"), "rate", fee, lambda row: row.good.fee, name="good_fees")
    table.live("costs", _("Costs for each sold"), "rate", attrgetter("costs_formula"), name="good_costs")
    table.live(
        *("brings", _("One brings in"), "rate", brings, lambda row: row.good.contribution),
        name="good_contributions",
    )
    planned("share", _("Share that sells"), "percent", name="good_shares")
    planned("sure", _("Spoken for"), "whole", name="good_sure")
    table.live(
        *("expected", _("Expected to sell"), "tenths", expected, lambda row: row.good.expected_sold),
        name="good_expected",
    )
    table.live(
        *("together", _("bring in"), "money", "[expected]*[brings]"),
        lambda row: row.good.expected_sold * row.good.contribution,
        name="good_brings",
    )
    table.skip_to(WORKINGS)
    table.live(
        *("all_costs", _("All costs for each sold"), "worked rate", attrgetter("all_costs_formula")),
        name="good_all_costs",
    )
    table.live(
        *("if_all", _("if all are sold"), "worked money", "[count]*[brings]"),
        lambda row: row.good.count * row.good.contribution,
        name="good_if_all",
    )
    quiet = "[sure]+([count]-[sure])*MIN(1,[share]*MIN(outlook_factors))"
    table.live("on_quietest", _("Sell on the quietest day"), "worked tenths", quiet, name="good_on_quietest")
    return table


def _put_goods(page: Page, reckoning: Reckoning, goods: tuple[Good, ...]) -> None:
    page.band(_("What one piece brings in"))
    numbers = {ware.code: n for n, ware in enumerate(reckoning.plan.wares, start=1)}
    quietest = min(reckoning.plan.outlooks, key=lambda outlook: outlook.factor)
    rows = [
        GoodRow(
            good=good,
            ware=reckoning.plan.ware_called(good.source.stem),
            ware_number=numbers.get(good.source.stem, 0),
            costs_formula=sum_of("cost_grows_sale", _growing(good, reckoning)),
            costs=reckoning.costs.per_piece_sold(good.code, "sale"),
            all_costs_formula=sum_of("cost_grows", _growing(good, reckoning)),
            all_costs=reckoning.costs.per_piece_sold(good.code, "spent"),
            on_quietest=sold_on(good, quietest),
        )
        for good in goods
    ]
    goods_table().write(page, rows)
    page.row += 1


def _growing(good: Good, reckoning: Reckoning) -> Sequence[int]:
    """Return the numbers of the costs that grow with each sold piece of a good."""
    return [n for n, line in enumerate(reckoning.costs.lines, 1) if good.code in line.codes]


def bases_table(reckoning: Reckoning) -> Table[Basis]:
    """Declare the table of what the sale must earn on each reckoning."""
    table: Table[Basis] = Table("bases", N_("Price"), record=str)
    advice, costs = reckoning.advice, reckoning.costs
    words: dict[Basis, str] = {
        "sale": _("to cover what the takings must pay"),
        "spent": _("all money spent"),
        "full": _("all money, and my hours"),
    }
    count, brings = "SUM(good_counts)", "good_prices*(1-good_keeps)-good_fees"

    def costs_of(basis: Basis) -> str:
        return "good_costs" if basis == "sale" else "good_all_costs"

    def mean(basis: Basis) -> str:
        return f"IF({count}=0,0,SUMPRODUCT(good_counts,{brings}-{costs_of(basis)})/{count})"

    def piece_cost(basis: Basis) -> str:
        sold = f"SUMPRODUCT(good_counts,good_fees+{costs_of(basis)})"
        return f"IF({count}=0,0,([fixed]+{sold})/{count})"

    table.fixed("basis", _("Reckoning"), "label", lambda basis: words[basis])
    table.live("fixed", _("Costs to cover"), "money", lambda basis: f"fixed_{basis}", costs.fixed)
    table.live(
        *("mean", _("One piece brings in"), "rate", mean),
        lambda basis: mean_contribution(advice.goods, costs, basis),
    )
    table.live(
        *("break_even", _("Pieces to sell"), "strong whole", pays_back("[mean]", "[fixed]")),
        lambda basis: or_none(getattr(advice.break_even, basis)),
    )
    table.live(
        *("piece_cost", _("One piece costs"), "money", piece_cost),
        lambda basis: getattr(advice.piece_cost, basis),
    )
    return table


def _put_bases(page: Page, reckoning: Reckoning) -> None:
    page.band(_("What a piece must fetch: three ways to reckon"))
    placed = bases_table(reckoning).write(page, get_args(Basis))
    for basis, row in placed.rows.items():
        page.name(f"mean_{basis}", row, placed.column("mean"))
    page.paragraph(_("Pieces to sell = costs to cover ÷ what one piece brings in, rounded up."), "note")
    _fees_and_earnings(page, reckoning)
    page.row += 1


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
        put_line(page, label, Figure(formula, amount), f"result {style}", name=name)
