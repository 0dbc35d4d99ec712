"""The part of the sheet Price that says what each piece must fetch for the target."""

from collections.abc import Mapping
from functools import partial

from salebook.base.words import N_, _
from salebook.book.figure import Figure, Value
from salebook.book.formulas import quoted
from salebook.book.page import Page
from salebook.book.references import Placed
from salebook.book.sheets.live_chance import FORGIVEN
from salebook.book.sheets.price.must_fetch_search import Found, OwnWare, Search
from salebook.book.sheets.sums_in_words import live_sentence, number_part
from salebook.book.table import Table
from salebook.forecast.must_fetch import TENTHS, change_of
from salebook.pricing.demand import is_guessed
from salebook.pricing.ladder import price_changed, prices_at


def put_must_fetch(page: Page, search: Search) -> None:
    """Write what each ware must fetch on three assumptions; no prices where those on Plan are enough."""
    page.band(_("What each piece must fetch"))
    page.paragraph(_said(search), "lead")
    placed = _prices_table(search).write(page, search.wares)
    _put_known(page, search, placed)
    page.paragraph(_note(search), "note")
    page.row += 1


def _said(search: Search) -> Figure:
    enough = _("The prices on Plan should make the target.")
    none = _("No price makes the target, even if all sell.")
    missed = _("For the target each piece must fetch:")
    state = "[fetch_found.state@all]"
    formula = f"IF({state}=0,{quoted(enough)},IF({state}=2,{quoted(none)},{quoted(missed)}))"
    return Figure(f"={formula}", (enough, missed, none)[search.found["all"].state])


def _note(search: Search) -> Figure:
    percent = number_part("confidence*100", search.reckoning.plan.sale.confidence * 100, 0)
    formula, said = live_sentence(
        _(
            "All your own prices changed alike, each rounded up to the price step. Sure means {percent} %, "
            "as Plan asks, by the curve; “salebook price” reckons it exactly."
        ),
        percent=percent,
    )
    return Figure(f"={formula}", said)


def _prices_table(search: Search) -> Table[OwnWare]:
    """Declare the table: the price on Plan, and one for each assumption."""
    table: Table[OwnWare] = Table("must_fetch", N_("Price"), record=lambda row: row.ware.code)
    table.join("wares", lambda row: row.ware.code)
    table.live("name", _("Piece"), "wrapped", "[wares.name]", "ware.name")
    table.live("planned", _("On Plan"), "money", "[wares.price]", "ware.price")
    for key, found in search.found.items():
        price = f"CEILING(ROUND([planned]*[fetch_found.tenths@{key}]/{TENTHS},9),price_step)"
        table.live(
            *(f"at_{key}", _headings()[key], "strong money", _where_found(key, price)),
            partial(_price, search, found),
        )
    return table


def _headings() -> Mapping[str, str]:
    return {"all": _("If all sell"), "planned": _("As many as planned"), "sure": _("To be sure")}


def _where_found(key: str, formula: str) -> str:
    state = f"[fetch_found.state@{key}]"
    return f'IF({state}=1,{formula},IF({state}=2,{quoted(_("none"))},""))'


def _shown(found: Found, value: Value) -> Value:
    return ("", value, _("none"))[found.state]


def _price(search: Search, found: Found, row: OwnWare) -> Value:
    step = search.reckoning.plan.sale.price_step
    return _shown(found, price_changed(row.ware.price, change_of(found.tenths), step))


def _put_known(page: Page, search: Search, placed: Placed) -> None:
    """Write below each assumption whether the plan says how many would buy at such prices."""
    plan, no, yes = search.reckoning.plan, _("no"), _("yes")
    page.put(page.row, 2, _("Plan says how many buy"), "label")
    for key, found in search.found.items():
        beyond = f"[must_fetch.at_{key}:]>[fetch_known.known:]+{FORGIVEN}"
        formula = f"IF(SUMPRODUCT(([fetch_known.count:]>0)*({beyond}))>0,{quoted(no)},{quoted(yes)})"
        prices = prices_at(plan, change_of(found.tenths)).firsts
        guessed = is_guessed((own.ware for own in search.wares if own.count), prices)
        shown = (no if guessed else yes) if found.state == 1 else ""
        figure = Figure(f'=IF([fetch_found.state@{key}]=1,{formula},"")', shown)
        page.put(page.row, placed.column(f"at_{key}"), figure, "result number")
    page.row += 1
