"""Tables below the printed part of Price that find, live, what each piece must fetch."""

from collections.abc import Callable
from functools import partial

from salebook.base.words import N_, _
from salebook.book.formulas import sum_of, up
from salebook.book.page import Page
from salebook.book.sheets.live_chance import FORGIVEN
from salebook.book.sheets.price.chances import SECTION as CHANCES
from salebook.book.sheets.price.demand_lines import over_all_days, share_formula
from salebook.book.sheets.price.must_fetch_search import Found, Halved, OwnWare, Priced, Search, Tried
from salebook.book.table import Table
from salebook.forecast.must_fetch import HIGH, LOW, MOST, RUNGS, TENTHS
from salebook.pricing.outcome import NOISE

IF_ALL, EXPECTED = "SUM([fetch_priced.if_all:])", "SUM([fetch_priced.net:])"


def put_workings(page: Page, search: Search) -> None:
    """Write the tables, folded away: they can be unfolded at the margin."""
    page.row += 1
    first = page.row
    page.band(_("How the prices that each piece must fetch are found"))
    _known_table().write(page, search.wares)
    _tried_table(search).write(page, search.tried)
    _found_table().write(page, tuple(search.found.values()))
    _halved_table(search.given).write(page, tuple(search.halved))
    _priced_table().write(page, tuple(search.priced))
    page.fold(first, page.row)
    page.row += 1


def _known_table() -> Table[OwnWare]:
    """Declare the table of the highest prices at which the plan says what sells."""
    table: Table[OwnWare] = Table("fetch_known", N_("Price"), record=lambda row: row.ware.code)
    table.join("wares", lambda row: row.ware.code)
    table.fixed("code", _("Code"), "small text", "ware.code")
    table.live(
        *("count", _("For sale"), "small whole"),
        lambda row: f"[good_counts@{2 * row.n - 1}]+[good_counts@{2 * row.n}]",
    )
    table.live(
        *("known", _("Known up to"), "small money"),
        lambda row: f"MAX(demand_from_{row.n})" if row.ware.demand else "[wares.price]",
    )
    known = f"IF([count]*[wares.price]>0,[known]/[wares.price]*{TENTHS},0)"
    table.live("tenths", _("In tenths of a per cent"), "small number", known)
    return table


def _tried_table(search: Search) -> Table[Tried]:
    """Declare the table of prices tried one after the other, those of the ladder among them."""
    table: Table[Tried] = Table("fetch_tried", N_("Price"), record=lambda row: row.key)
    table.join("fetch_priced", lambda row: row.key)

    def add(key: str, heading: str, style: str, on_ladder: str, elsewhere: str) -> None:
        def formula(row: Tried) -> str:
            return (on_ladder if row.on_ladder else elsewhere).format(n=row.rung, key=row.key)

        table.live(key, heading, f"small {style}", formula)

    on_ladder = "[ladder.mean@{n}]*MAX(1,SUM(good_counts))-fixed_sale+other_income_expected"
    if_all, net = IF_ALL + _given("if_all", search.given), EXPECTED + _given("brings", search.given)
    table.fixed("name", _("Prices"), "small text", "key")
    table.live("tenths", _("In tenths of a per cent"), "small whole", _listed)
    add("if_all", _("if all are sold"), "money", on_ladder, if_all)
    add("net", _("Expected"), "money", "[ladder.expected_net@{n}]", net)
    add("chance", _("Chance"), "percent", "[ladder.chance@{n}]", f"[{CHANCES}.chance@{{key}}]")
    for assuming, key in (("all", "if_all"), ("planned", "net"), ("sure", "chance")):
        does = partial(_does, search, assuming)
        table.live(f"does_{assuming}", _("Enough"), "small whole", _enough(f"[{key}]", assuming), does)
    return table


def _does(search: Search, assuming: str, row: Tried) -> int:
    return int(search.is_enough(row, assuming))


def _enough(amount: str, assuming: str) -> str:
    least = f"confidence-{NOISE:.9f}" if assuming == "sure" else f"target-{FORGIVEN}"
    return f"IF({amount}>={least},1,0)"


def _given(column: str, given: range) -> str:
    """Return the formula of what given pieces bring, and of all that comes or goes beside pieces."""
    return f"+{sum_of(f'good_{column}', given)}-fixed_sale+other_income_expected"


def _listed(row: Tried) -> str:
    """Return the formula of a price in the list: below the ladder, on it, up to those known, far above."""
    if row.on_ladder:
        return f"(100+[ladder.change@{row.rung}])*10"
    n = row.rung - len(RUNGS)
    if n > HIGH:
        return f"MAX({MOST},[tenths-])"
    known = f"MAX(0,MAX([fetch_known.tenths:])-{RUNGS[-1]})"
    return up(f"{RUNGS[-1]}+{known}*{n}/{HIGH}") if row.n > len(LOW) else ""


def _found_table() -> Table[Found]:
    """Declare the table of what was found; `state` says whether a price was, and whether one is asked for."""
    table: Table[Found] = Table("fetch_found", N_("Price"), record=lambda row: row.assuming)

    def nth(n: str) -> str:
        return f"IF({n}>0,INDEX([fetch_tried.tenths:],MAX(1,{n})),0)"

    table.fixed("assuming", _("Assumed"), "small text")
    table.live("first", _("First that is enough"), "small whole", _first)
    table.live("lower", _("Too little"), "small whole", nth("([first]-1)"))
    table.live("upper", _("Enough"), "small whole", nth("[first]"))
    table.live("tenths", _("In tenths of a per cent"), "small whole", _last)
    asked = f"IF(expected_net<target-{FORGIVEN},IF([first]>0,1,2),0)"
    table.live("state", _("Found 1, none 2, not asked 0"), "small whole", asked)
    return table


def _first(row: Found) -> str:
    does = f"[fetch_tried.does_{row.assuming}:]"
    return f"IF(SUM([fetch_known.count:])*SUM({does})>0,MATCH(1,{does},0),0)"


def _last(row: Found) -> str:
    does, tenths, upper = (
        f"[fetch_halved.{key}@{row.halved[-1].tried.key}]" for key in ("does", "tenths", "upper")
    )
    return f"IF({does}=1,{tenths},{upper})"


def _halved_table(given: range) -> Table[Halved]:
    """Declare the table of prices tried between one that is too little and one that is enough."""
    table: Table[Halved] = Table("fetch_halved", N_("Price"), record=lambda row: row.tried.key)
    table.join("fetch_priced", lambda row: row.tried.key)
    table.join("fetch_found", lambda row: row.tried.assuming)

    def bound(key: str, where_enough: str, where_not: str) -> Callable[[Halved], str]:
        closer = f"IF([does-]=1,[{where_enough}-],[{where_not}-])"
        return lambda row: closer if row.tried.n > 1 else f"[fetch_found.{key}]"

    def comes_to(row: Halved) -> str:
        amounts = {"all": IF_ALL + _given("if_all", given), "planned": EXPECTED + _given("brings", given)}
        return amounts.get(row.tried.assuming) or f"[{CHANCES}.chance@{row.tried.key}]"

    table.fixed("name", _("Prices"), "small text", "tried.key")
    lower, upper = bound("lower", "lower", "tenths"), bound("upper", "tenths", "upper")
    table.live("lower", _("Too little"), "small whole", lower, "halving.lower")
    table.live("upper", _("Enough"), "small whole", upper, "halving.upper")
    between = "ROUND(SQRT(MAX(1,[lower])*[upper]),0)"
    table.live("tenths", _("In tenths of a per cent"), "small whole", between, "halving.tenths")
    table.live("comes_to", _("Comes to"), "small hundredths", comes_to)
    table.live(
        *("does", _("Enough"), "small whole", lambda row: _enough("[comes_to]", row.tried.assuming)),
        lambda row: int(row.halving.is_enough),
    )
    return table


def _priced_table() -> Table[Priced]:
    """Declare the table of each ware at the prices tried, as far as what is assumed there takes it."""
    table: Table[Priced] = Table(
        "fetch_priced",
        N_("Price"),
        record=lambda row: f"{row.tried.key}_{row.own.ware.code}",
        part=lambda row: row.tried.key,
    )

    def add(key: str, heading: str, style: str, formula: str, value: str, *only: str) -> None:
        def where(row: Priced) -> bool:
            return not only or row.tried.assuming in only

        table.live(key, heading, f"small {style}", partial(_in_cells, formula), value, where=where)

    stepped = "CEILING(ROUND({prices}*{tenths}/1000,9),price_step)"
    second = stepped.replace("prices", "second_prices")
    keeps = "*(1-fee_share)-fee_fixed-"
    sold = "({sure}+({counts}-{sure})*[sells])*[brings]+{second_counts}*[sells]*[second]"
    table.fixed("name", _("Piece"), "small text", lambda row: f"{row.tried.key}: {row.own.ware.code}")
    add("price", _("Price"), "money", stepped, "first.price")
    add("share", _("Share that sells"), "percent", "{share}", "first.share", "", "planned", "sure")
    add("sells", _("Over all days"), "percent", over_all_days("[share]"), "sells", "", "planned")
    add("brings", _("One brings in"), "rate", f"[price]{keeps}{{costs}}", "first.contribution")
    add("second", _("A second brings in"), "rate", f"{second}{keeps}{{second_costs}}", "second.contribution")
    all_ = "{counts}*[brings]+{second_counts}*[second]"
    add("if_all", _("if all are sold"), "money", all_, "if_all", "", "all")
    add("net", _("bring in"), "money", sold, "net", "", "planned")
    return table


def _in_cells(formula: str, row: Priced) -> str:
    """Fill in a formula: {sure} is that of the ware's firsts, {second_sure} of its seconds."""
    n, keys = row.own.n, ("prices", "counts", "sure", "costs")
    firsts = {key: f"[good_{key}@{2 * n - 1}]" for key in keys}
    seconds = {f"second_{key}": f"[good_{key}@{2 * n}]" for key in keys}
    share = share_formula("[price]", n) if row.own.ware.demand else f"[good_shares@{2 * n - 1}]"
    table = "fetch_halved" if row.tried.assuming else "fetch_tried"
    tenths = f"[{table}.tenths@{row.tried.key}]"
    return formula.format(**firsts, **seconds, share=share, tenths=tenths)
