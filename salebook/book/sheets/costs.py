"""The sheet Costs: every cost as one line, planned beside actual, and who meets it."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded, quoted, up
from salebook.book.inputs import number_or_none
from salebook.book.page import Book, Page
from salebook.costing import KIND_WORDS, CostLine
from salebook.event.costs_now import cost_key, cost_now
from salebook.event.event import Event
from salebook.making.hours import WorkLine
from salebook.plan.model import Material, Per, Plan
from salebook.reckoning import Reckoning
from salebook.words import _

WIDTHS = (3, 26, 11, 11, 12, 11.5, 11.5, 11, 11.5, 13, 13)


def write_costs(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Costs."""
    page = book.page(_("Costs"), widths=WIDTHS, landscape=True)
    page.title(
        _("Costs"),
        _("Every cost as one line. Fill in what it really cost, and the share-out goes by that."),
    )
    page.freeze(4)
    _lines(page, reckoning, event)
    _who_pays(page, reckoning, event)
    _hours(page, reckoning)


@dataclass(frozen=True, kw_only=True)
class LineFormulas:
    """The formulas of one cost line, without "="."""

    name: str
    quantity: str
    unit: str
    unit_cost: str
    total: str
    met_by: str
    per_piece_sold: str = "0"


def _lines(page: Page, reckoning: Reckoning, event: Event) -> None:
    page.band(_("Cost lines"))
    page.headings(
        (
            "name",
            "kind",
            "quantity",
            "unit",
            "unit_cost",
            "total",
            "met_by",
            "per_piece_sold",
            "actual",
            "counts",
        ),
        (
            _("Cost"),
            _("Kind"),
            _("How much"),
            _("of"),
            _("Each"),
            _("Planned"),
            _("Who pays"),
            _("With each piece sold"),
            _("It really cost"),
            _("Counts now"),
        ),
        section="costs",
    )
    first = page.row
    for line, formulas in zip(reckoning.costs.lines, _formulas(page, reckoning), strict=True):
        _line(page, reckoning.plan, line, formulas, event)
    if not reckoning.costs.lines:
        page.put_row((("costs", "key"), (_("No costs in the plan"), "label"), *(((None, "label"),) * 9)))
    last = page.row - 1
    columns = {7: "cost_totals", 8: "cost_met_by", 9: "cost_grows", 11: "cost_counts"}
    for column, name in columns.items():
        page.name(name, first, column, last_row=last)
    page.number_only(f"J{first}:J{last}", says=_("An amount, not below 0; empty: as planned"))
    page.put(page.row, 2, _("All money spent"), "total")
    page.put(page.row, 7, Figure("=SUM(cost_totals)", reckoning.costs.total), "strong money")
    page.row += 1
    page.paragraph(
        _(
            "A cost that grows with each piece sold counts by the pieces sold so far, until you fill in "
            "what it really cost. Empty: as planned."
        ),
        "note",
    )
    page.row += 1


def _line(page: Page, plan: Plan, line: CostLine, formulas: LineFormulas, event: Event) -> None:
    row = page.row
    sold = "SUM(tally_sold)" if line.codes == _all_codes(plan) else _sold(line.codes)
    grown = money_rounded(f"I{row}*({sold})") if line.grows else f"G{row}"
    page.put_row(
        (
            ("costs", "key"),
            (Figure(f"={formulas.name}", line.name), "result wrapped"),
            (_(KIND_WORDS[line.kind]), "label"),
            (Figure(f"={formulas.quantity}", line.quantity), "result hundredths"),
            (Figure(f"={formulas.unit}", line.unit), "result text"),
            (Figure(f"={formulas.unit_cost}", line.unit_cost), "result rate"),
            (Figure(f"={formulas.total}", line.total), "strong money"),
            (Figure(f"={formulas.met_by}", line.met_by), "result text"),
            (Figure(f"={formulas.per_piece_sold}", line.per_piece_sold), "result rate"),
            (number_or_none(event.entries.actual_costs.get(cost_key(line))), "input money"),
            (
                Figure(
                    f'=IF(J{row}="",{grown},N(J{row}))',
                    cost_now(line, event.standing, event.entries, plan.sale.digits),
                ),
                "result money",
            ),
        )
    )


def _all_codes(plan: Plan) -> tuple[str, ...]:
    return (*(ware.code for ware in plan.wares), *(given.code for given in plan.donated))


def _sold(codes: Iterable[str]) -> str:
    # Not SUMIF, which takes a code such as MAY5 for a date.
    return "+".join(f'SUMPRODUCT((tally_code="{code}")*tally_sold)' for code in codes)


def _formulas(page: Page, reckoning: Reckoning) -> list[LineFormulas]:
    plan = reckoning.plan
    return [
        *(_clay(page, clay.name, n) for n, clay in enumerate(plan.clays, start=1)),
        *(_firing(page, firing.name, n) for n, firing in enumerate(plan.firings, start=1)),
        *(_material(page, material, n, plan) for n, material in enumerate(plan.materials, start=1)),
        *(_overhead(page, n) for n in range(1, len(plan.overheads) + 1)),
    ]


def _clay(page: Page, name: str, n: int) -> LineFormulas:
    places = page.book.places
    whole, price, met_by = (places["clays", name, key] for key in ("whole_packs", "pack_price", "met_by"))
    by_bag, by_mass = f"INDEX(clay_packs,{n})", f"INDEX(clay_kg,{n})"
    return LineFormulas(
        name=places["clays", name, "name"],
        quantity=f'IF({whole}="yes",{by_bag},{by_mass})',
        unit=f'IF({whole}="yes",{quoted(_("bag"))},"kg")',
        unit_cost=f'IF({whole}="yes",{price},{price}/INDEX(clay_pack_kg,{n}))',
        total=f"INDEX(clay_costs,{n})",
        met_by=met_by,
    )


def _firing(page: Page, name: str, n: int) -> LineFormulas:
    places = page.book.places
    return LineFormulas(
        name=places["firings", name, "name"],
        quantity=f"INDEX(firing_loads,{n})",
        unit=quoted(_("kiln load")),
        unit_cost=f"INDEX(firing_load_costs,{n})",
        total=f"INDEX(firing_costs,{n})",
        met_by=places["firings", name, "met_by"],
    )


def _material(page: Page, material: Material, n: int, plan: Plan) -> LineFormulas:
    places = page.book.places
    amount, pack, price, whole, met_by = (
        places["materials", str(n), key]
        for key in ("amount", "pack_amount", "pack_price", "whole_packs", "met_by")
    )
    count = count_formula(material.per, material.wares, plan)
    if material.per == "piece sold":
        each = f"{amount}*{price}/{pack}"
        return LineFormulas(
            name=places["materials", str(n), "name"],
            quantity=count,
            unit=quoted(_("piece sold")),
            unit_cost=each,
            total=money_rounded(f"({count})*{each}"),
            met_by=met_by,
            per_piece_sold=each,
        )
    packs = f"({count})*{amount}/{pack}"
    bought = f'IF({whole}="yes",{up(packs)},{packs})'
    return LineFormulas(
        name=places["materials", str(n), "name"],
        quantity=bought,
        unit=quoted(_("pack")),
        unit_cost=price,
        total=money_rounded(f"{bought}*{price}"),
        met_by=met_by,
    )


def _overhead(page: Page, n: int) -> LineFormulas:
    places = page.book.places
    amount = places["overheads", str(n), "amount"]
    return LineFormulas(
        name=places["overheads", str(n), "name"],
        quantity="1",
        unit=quoted(_("sale")),
        unit_cost=amount,
        total=money_rounded(amount),
        met_by=places["overheads", str(n), "met_by"],
    )


def count_formula(per: Per, wares: tuple[str, ...], plan: Plan) -> str:
    """Return the formula of the count that a material or a kind of work is multiplied by, without "="."""
    if per == "sale":
        return "1"
    if per == "load":
        return "SUM(firing_loads)" if plan.firings else "0"
    column = {
        "piece started": "ware_started",
        "piece glazed": "ware_to_glaze",
        "piece finished": "ware_for_sale",
        "piece sold": "ware_for_sale",
        "batch": "ware_batches",
    }[per]
    if wares:
        return "+".join(f"INDEX({column},{n})" for n, ware in enumerate(plan.wares, 1) if ware.code in wares)
    parts = [f"SUM({column})"] if plan.wares else []
    if per == "piece sold" and plan.donated:
        parts.append("SUM(donated_counts)")
    return "+".join(parts) or "0"


def _who_pays(page: Page, reckoning: Reckoning, event: Event) -> None:
    costs = reckoning.costs
    page.band(_("Who pays"))
    words = {"maker": _("The maker"), "sale": _("The sale, from the takings"), "sponsor": _("A sponsor")}
    for who in ("maker", "sale", "sponsor"):
        planned = Figure(f'=SUMIF(cost_met_by,"{who}",cost_totals)', costs.met_by(who))
        page.put_row(((None, ""), (words[who], "label"), *((None, "label"),) * 4, (planned, "strong money")))
    page.row += 1
    rows: tuple[tuple[str, str, str, Decimal], ...] = (
        (
            "fixed_sale",
            _("Met by the sale, whatever is sold"),
            '=SUMIFS(cost_totals,cost_met_by,"sale",cost_grows,0)',
            costs.fixed("sale"),
        ),
        (
            "fixed_spent",
            _("All money, whatever is sold"),
            "=SUMIFS(cost_totals,cost_grows,0)",
            costs.fixed("spent"),
        ),
        ("fixed_full", _("and my hours"), "=fixed_spent+hours_value", costs.fixed("full")),
        (
            "costs_met_by_sale_now",
            _("Met by the sale, as it stands now"),
            '=SUMIF(cost_met_by,"sale",cost_counts)',
            event.share_out.costs_met_by_sale,
        ),
    )
    for name, label, formula, value in rows:
        row = page.put_row(
            ((None, ""), (label, "label"), *((None, "label"),) * 4, (Figure(formula, value), "result money"))
        )
        page.name(name, row, 7)
    page.row += 1


def _hours(page: Page, reckoning: Reckoning) -> None:
    hours = reckoning.studio.hours
    page.band(_("Hours: a worth, never money spent"))
    if hours.lines:
        page.headings(
            ("name", "per", "minutes", "count", "hours"),
            (_("Work"), _("for each"), _("Minutes"), _("Times"), _("Hours")),
            section="hours",
        )
    first = page.row
    for n, line in enumerate(hours.lines, start=1):
        _work(page, line, n, reckoning.plan)
    total = f"SUM(F{first}:F{page.row - 1})" if hours.lines else "0"
    minutes = f"SUMPRODUCT(D{first}:D{page.row - 1},E{first}:E{page.row - 1})" if hours.lines else "0"
    page.put_row(
        (
            (None, ""),
            (_("All hours"), "total"),
            *((None, "label"),) * 3,
            (Figure(f"={total}", hours.total), "total tenths"),
        )
    )
    worth = Figure(f"={money_rounded(f'{minutes}*hour_rate/minutes_in_hour')}", hours.value)
    row = page.put_row(
        ((None, ""), (_("are worth"), "label"), *((None, "label"),) * 3, (worth, "strong money"))
    )
    page.name("hours_value", row, 6)


def _work(page: Page, line: WorkLine, n: int, plan: Plan) -> None:
    row, places, work = page.row, page.book.places, line.work
    count = count_formula(work.per, work.wares, plan)
    page.put_row(
        (
            ("work", "key"),
            (Figure(f"={places['work', str(n), 'name']}", work.name), "result wrapped"),
            (Figure(f"={places['work', str(n), 'per']}", work.per), "result text"),
            (Figure(f"={places['work', str(n), 'minutes']}", work.minutes), "result number"),
            (Figure(f"={count}", line.count), "result whole"),
            (Figure(f"=D{row}*E{row}/minutes_in_hour", line.hours), "result tenths"),
        )
    )
