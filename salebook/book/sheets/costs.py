"""The sheet Costs: every cost as one line, planned beside actual, and who meets it."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from decimal import Decimal
from operator import attrgetter
from typing import Final, Literal, get_args

from salebook.base.words import N_, _, pgettext
from salebook.book.column import Sum
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded, quoted, sum_of, up
from salebook.book.page import Book, Page
from salebook.book.references import Placed
from salebook.book.sheets.sums_in_words import live_sentence, money_part
from salebook.book.table import Table, put_line
from salebook.event.costs import postage_spent
from salebook.event.entries import UnplannedCost
from salebook.event.event import Event
from salebook.event.receipts import money_in
from salebook.making.firing_done import firings_seen
from salebook.making.hours import WorkLine
from salebook.plan.model import Material, MetBy, Per, Plan
from salebook.plan.money import ZERO
from salebook.pricing.costing import KIND_WORDS, CostLine
from salebook.reckoning import Reckoning

WIDTHS = (3, 26, 11, 11, 12, 11.5, 11.5, 11, 11.5, 13, 13)
SPARE_COSTS: Final = 8
"""Empty rows for costs that nobody planned, beyond those filled in."""


@dataclass(frozen=True, kw_only=True)
class Source:
    """Where a cost line comes from: a record of the plan, and the formulas that make the line of it."""

    section: Literal["clays", "firings", "materials", "overheads"]
    record: str
    quantity: str
    unit: str
    unit_cost: str
    total: str
    per_piece_sold: str = "0"


@dataclass(frozen=True, kw_only=True)
class CostRow:
    """One cost line, where it comes from, and what it comes to so far."""

    line: CostLine
    source: Source
    sold_formula: str
    sold: int
    """The pieces sold so far with which the cost grows."""
    actual: Decimal | None
    counts: Decimal

    @property
    def counts_formula(self) -> str:
        """The formula of what counts now: what it really cost, else what the plan comes to so far."""
        planned = money_rounded("[per_piece_sold]*[sold]") if self.line.grows else "[total]"
        return f'IF([actual]="",{planned},SUM([actual]))'


def costs_table() -> Table[CostRow]:
    """Declare the table of cost lines."""
    table: Table[CostRow] = Table(
        "costs",
        N_("Costs"),
        record=attrgetter("source.record"),
        mark=lambda row: f"costs.{row.line.kind}",
        empty=_("No costs in the plan"),
        needed="sale",
    )

    def line(key: str, heading: str, style: str, *, name: str = "") -> None:
        table.live(key, heading, style, attrgetter(f"source.{key}"), attrgetter(f"line.{key}"), name=name)

    def planned(key: str, heading: str, style: str, *, name: str = "", read: bool = False) -> None:
        cell = attrgetter("source.section")
        table.live(
            *(key, heading, style, lambda row: f"[{cell(row)}.{key}]", attrgetter(f"line.{key}")),
            name=name,
            read=read,
        )

    planned("name", _("Cost"), "wrapped", name="cost_names", read=True)
    table.fixed("kind", _("Kind"), "label", lambda row: _(KIND_WORDS[row.line.kind]), read=True)
    line("quantity", _("How much"), "hundredths")
    line("unit", pgettext("how much of what", "of"), "text")
    line("unit_cost", _("Each"), "rate")
    line("total", _("Planned"), "strong money", name="cost_totals")
    planned("met_by", _("Who pays"), "text", name="cost_met_by")
    line("per_piece_sold", _("With each piece sold"), "rate", name="cost_grows")
    actual = _("An amount, not below 0; empty: as planned")
    table.input("actual", _("It really cost"), "money", says=actual)
    table.live("counts", _("Counts now"), "money", attrgetter("counts_formula"), name="cost_counts")
    table.helpers()
    table.live("sold", _("Pieces sold so far"), "whole", attrgetter("sold_formula"))
    of_sale = 'IF([met_by]="sale",[per_piece_sold],0)'
    table.live("grows_sale", _("Of it the sale pays"), "rate", of_sale, _of_sale, name="cost_grows_sale")
    ahead = 'IF([actual]="",[grows_sale],0)'
    table.live("ahead", _("and from now on"), "rate", ahead, _ahead, name="cost_grows_ahead")
    return table


def _ahead(row: CostRow) -> Decimal:
    return ZERO if row.actual is not None else _of_sale(row)


def _of_sale(row: CostRow) -> Decimal:
    return row.line.per_piece_sold if row.line.met_by == "sale" else ZERO


def unplanned_table() -> Table[UnplannedCost]:
    """Declare the table of costs that nobody planned."""
    table: Table[UnplannedCost] = Table("unplanned", N_("Costs"))
    who = _("Choose who pays: the maker, the sale (it is taken off the takings) or a sponsor")
    table.input("spent_on", _("Spent on"), "wrapped", "name", name="unplanned_names")
    table.input("amount", _("It cost"), "money", lambda cost: cost.amount or None, name="unplanned_amounts")
    table.input(
        *("met_by", _("Who pays"), "text"), choices=get_args(MetBy), says=who, name="unplanned_met_by"
    )
    return table


def hours_table() -> Table[tuple[WorkLine, str]]:
    """Declare the table of hours of work; with each line goes the formula of its count."""
    table: Table[tuple[WorkLine, str]] = Table("work_hours", N_("Costs"), empty=_("No work in the plan"))
    table.live("name", _("Work"), "wrapped", "[work.name]", lambda row: row[0].work.name)
    table.live("per", _("for each"), "text", "[work.per]", lambda row: row[0].work.per)
    table.live("minutes", _("Minutes"), "number", "[work.minutes]", lambda row: row[0].work.minutes)
    table.live("count", _("Times"), "whole", lambda row: row[1], lambda row: row[0].count)
    table.live("hours", _("Hours"), "tenths", "[minutes]*[count]/minutes_in_hour", total=Sum())
    table.total(_("All hours"))
    return table


def write_costs(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Costs."""
    page = book.page(N_("Costs"), widths=WIDTHS, landscape=True)
    page.title(
        _("Costs"),
        _("Every cost as one line. Fill in what it really cost, and the share-out goes by that."),
    )
    page.freeze(4)
    lines = _write_lines(page, reckoning, event)
    _write_unplanned(page, event)
    _who_pays(page, reckoning, event, lines)
    _hours(page, reckoning)
    page.print_so_far()


def _write_lines(page: Page, reckoning: Reckoning, event: Event) -> Placed:
    page.band(_("Every cost, line by line"))
    plan = reckoning.plan
    planned = [cost for cost in event.share_out.costs if cost.is_planned]
    rows = [
        CostRow(
            line=cost.line,
            source=source,
            sold_formula=sum_of("tally_sold", _places(plan, cost.line.codes)),
            sold=sum(event.state.sold(code) for code in cost.line.codes),
            actual=cost.amount if cost.is_actual else None,
            counts=cost.amount,
        )
        for cost, source in zip(planned, _sources(plan), strict=True)
    ]
    placed = costs_table().write(page, rows)
    total = Figure("=SUM(cost_totals)", reckoning.costs.total)
    put_line(
        *(page, _("All money spent"), total, "strong money"),
        column=placed.column("total"),
        label_style="total",
    )
    page.paragraph(
        _(
            "A cost that grows with each piece sold counts by the pieces sold so far, until you fill in "
            "what it really cost. Empty: as planned."
        ),
        "note",
    )
    _by_the_meter(page, reckoning, event)
    page.row += 1
    return placed


def _by_the_meter(page: Page, reckoning: Reckoning, event: Event) -> None:
    """Say, live, what each firing comes to by the meter: what to fill in as what it really cost."""
    plan = reckoning.plan
    for n, seen in enumerate(firings_seen(plan, reckoning.studio.firings, event.firings_done), start=1):
        name = seen.need.firing.name
        formula, said = live_sentence(
            _("{firing}: by the meter the energy of all loads comes to {amount}."),
            firing=(f"[firings_seen.name@{n}]", name),
            amount=money_part(f"[firings_seen.in_all@{n}]", seen.in_all, plan.sale.digits),
        )
        metered = f"[firings_seen.metered@{n}]>0"
        shown = said if seen.metered else ""
        page.paragraph(Figure(f'=IF({metered},{formula},"")', shown), "note")


def _write_unplanned(page: Page, event: Event) -> None:
    costs = event.share_out.costs
    page.band(_("What nobody planned"))
    page.paragraph(
        _(
            "Parking, a repair, stamps: whatever was paid for and does not stand above. Choose who pays: "
            "maker, sale (it is taken off the takings) or sponsor. The groups see it on the statement, so "
            "no names of people here."
        ),
        "note",
    )
    unplanned_table().write(page, event.entries.unplanned, spare=SPARE_COSTS)
    page.row += 1
    spent = Figure("=SUM(cost_counts)+SUM(unplanned_amounts)", sum((cost.amount for cost in costs), ZERO))
    put_line(page, _("All costs as they count now"), spent, "strong money", label_style="total")
    page.row += 1
    _write_postage(page, money_in(event.state, kind="postage"), postage_spent(costs))


def _write_postage(page: Page, taken: Decimal, spent: Decimal) -> None:
    """Write what buyers paid for postage above what postage cost, and whether it covers itself."""
    word, short = _("postage"), _("Postage cost more than buyers paid for it.")
    paid_out = "+".join(
        f"SUMIF({names},{quoted(f'*{word}*')},{amounts})"
        for names, amounts in (("cost_names", "cost_counts"), ("unplanned_names", "unplanned_amounts"))
    )
    page.band(_("Does the postage pay for itself?"))
    page.paragraph(
        _("Each cost on this sheet with the word “{word}” in its name was spent on it.").format(word=word),
        "note",
    )
    paid_in = Figure('=SUMIF(takings_kind,"postage",takings_money)', taken)
    put_line(page, _("Paid by buyers, on Takings"), paid_in, "result money", name="postage_taken")
    put_line(page, _("Spent on postage"), Figure(f"={paid_out}", spent), "result money", name="postage_spent")
    said = Figure(f'=IF(postage_spent>postage_taken,{quoted(short)},"")', short if spent > taken else "")
    put_line(
        *(page, _("Left over"), Figure("=postage_taken-postage_spent", taken - spent), "total money"),
        note=(said, "remark"),
        label_style="total",
    )
    page.row += 1


def _places(plan: Plan, codes: Collection[str]) -> Sequence[int]:
    """Return which of all that is sold has these codes."""
    return [n for n, good in enumerate(plan.goods, start=1) if good.code in codes]


def _sources(plan: Plan) -> list[Source]:
    return [
        *(_clay(clay.name, n) for n, clay in enumerate(plan.clays, start=1)),
        *(_firing(firing.name, n) for n, firing in enumerate(plan.firings, start=1)),
        *(_material(material, n, plan) for n, material in enumerate(plan.materials, start=1)),
        *(_overhead(n) for n in range(1, len(plan.overheads) + 1)),
    ]


def _clay(name: str, n: int) -> Source:
    whole, price = '[clays.whole_packs]="yes"', "[clays.pack_price]"
    return Source(
        section="clays",
        record=name,
        quantity=f"IF({whole},[clay_packs@{n}],[clay_kg@{n}])",
        unit=f'IF({whole},{quoted(_("bag"))},"kg")',
        unit_cost=f"IF({whole},{price},{price}/[clay_pack_kg@{n}])",
        total=f"[clay_costs@{n}]",
    )


def _firing(name: str, n: int) -> Source:
    return Source(
        section="firings",
        record=name,
        quantity=f"[firing_loads@{n}]",
        unit=quoted(_("kiln load")),
        unit_cost=f"[firing_load_costs@{n}]",
        total=f"[firing_costs@{n}]",
    )


def _material(material: Material, n: int, plan: Plan) -> Source:
    amount, pack, price = "[materials.amount]", "[materials.pack_amount]", "[materials.pack_price]"
    count = count_formula(material.per, material.wares, plan)
    if material.per == "piece sold":
        each = f"{amount}*{price}/{pack}"
        return Source(
            section="materials",
            record=str(n),
            quantity=count,
            unit=quoted(_("piece sold")),
            unit_cost=each,
            total=money_rounded(f"({count})*{each}"),
            per_piece_sold=each,
        )
    packs = f"({count})*{amount}/{pack}"
    bought = f'IF([materials.whole_packs]="yes",{up(packs)},{packs})'
    return Source(
        section="materials",
        record=str(n),
        quantity=bought,
        unit=quoted(_("pack")),
        unit_cost=price,
        total=money_rounded(f"{bought}*{price}"),
    )


def _overhead(n: int) -> Source:
    amount = "[overheads.amount]"
    return Source(
        section="overheads",
        record=str(n),
        quantity="1",
        unit=quoted(_("sale")),
        unit_cost=amount,
        total=money_rounded(amount),
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
    parts = [sum_of(column, _places(plan, wares)) if wares else f"SUM({column})"] if plan.wares else []
    if per == "piece sold" and plan.donated and not wares:
        parts.append("SUM(donated_counts)")
    if per == "piece sold" and plan.carried:
        of_wares = (f"SUMIF(carried_codes,{quoted(code)},carried_counts)" for code in wares)
        parts += of_wares if wares else ["SUM(carried_counts)"]
    return "+".join(parts) or "0"


def _who_pays(page: Page, reckoning: Reckoning, event: Event, lines: Placed) -> None:
    costs, column = reckoning.costs, lines.column("total")
    page.band(_("Who pays"))
    words = {"maker": _("The maker"), "sale": _("The sale, from the takings"), "sponsor": _("A sponsor")}
    for who in ("maker", "sale", "sponsor"):
        planned = Figure(f'=SUMIF(cost_met_by,"{who}",cost_totals)', costs.met_by(who))
        put_line(page, words[who], planned, "strong money", column=column)
    page.row += 1
    rows = (
        (
            "fixed_sale",
            _("The sale pays, whatever is sold"),
            '=SUMIFS(cost_totals,cost_met_by,"sale",cost_grows,0)',
            costs.fixed("sale"),
        ),
        (
            "fixed_spent",
            _("All money, whatever is sold"),
            "=SUMIFS(cost_totals,cost_grows,0)",
            costs.fixed("spent"),
        ),
        (
            "fixed_full",
            _("All money and my hours, whatever is sold"),
            "=fixed_spent+hours_value",
            costs.fixed("full"),
        ),
        (
            "costs_met_by_sale_now",
            _("The sale pays, as it stands now"),
            '=SUMIF(cost_met_by,"sale",cost_counts)+SUMIF(unplanned_met_by,"sale",unplanned_amounts)',
            event.share_out.costs_met_by_sale,
        ),
    )
    for name, label, formula, value in rows:
        put_line(page, label, Figure(formula, value), "result money", name=name, column=column)
    page.row += 1


def _hours(page: Page, reckoning: Reckoning) -> None:
    hours, plan = reckoning.studio.hours, reckoning.plan
    page.band(_("Hours: a worth, never money spent"))
    counts = [count_formula(line.work.per, line.work.wares, plan) for line in hours.lines]
    placed = hours_table().write(page, list(zip(hours.lines, counts, strict=True)))
    worth = Figure(f"={money_rounded('SUM([work_hours.hours:])*hour_rate')}", hours.value)
    put_line(
        *(page, _("The hours are worth"), worth, "strong money"),
        name="hours_value",
        column=placed.column("hours"),
    )
