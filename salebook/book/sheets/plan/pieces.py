"""The part of the sheet Plan that describes clays and pieces."""

from typing import Any

from salebook.base.words import _
from salebook.book.inputs import Part, add_keys, plan_table, put_table
from salebook.book.page import Page
from salebook.book.table import Table
from salebook.plan.model import Plan, Seen, Ware


def put_wares(page: Page, plan: Plan) -> None:
    """Write the pieces: what and for how much, demand, clay and size, losses."""
    put_table(
        page,
        _("Your pieces: what, how many, for how much"),
        add_keys(plan_table("wares", record=_code), before="clay"),
        plan.wares,
    )
    _demand(page, plan)
    put_table(
        page,
        _("Your pieces: clay and size"),
        add_keys(_linked(plan_table("wares", record=_code)), start="clay", before="throwing"),
        plan.wares,
        part="size",
    )
    put_table(
        page,
        _("Your pieces: what may not come through"),
        add_keys(_linked(plan_table("wares", record=_code)), start="throwing"),
        plan.wares,
        says=_("All four losses empty: the usual ones are assumed. On a shelf: only to overrule salebook."),
        part="losses",
    )
    _seen(page, plan)


def _demand(page: Page, plan: Plan) -> None:
    rows = [Part(of=ware, n=n, part=point) for ware in plan.wares for n, point in enumerate(ware.demand)]
    if rows:
        table = _linked(plan_table("demand", record=lambda row: f"{row.of.code}/{row.n}", part=_code))
        put_table(
            page,
            _("How many would sell at each price"),
            add_keys(table, {"share": "demand_shares"}),
            rows,
            says=_(
                "Lowest price first for each piece. Straight lines between; flat beyond the first and last."
            ),
        )


def _seen(page: Page, plan: Plan) -> None:
    rows = [
        Part(of=ware, n=n, part=getattr(ware.seen, stage))
        for ware in plan.wares
        if ware.has_counts
        for n, stage in enumerate(Seen.keys())
    ]
    if rows:
        table = _linked(plan_table("seen_before", record=lambda row: f"{_code(row)}_{_stage(row)}"))
        table.fixed("of.stage", _("Stage"), "label", _stage)
        put_table(
            page,
            _("Your pieces: what was counted on earlier sales"),
            add_keys(table),
            rows,
            says=_(
                "Lost, of so many that went in; seconds of those that came through. The losses above are "
                "what was believed before: both together say what to reckon with, see Making."
            ),
        )


def _stage(row: Part) -> str:
    return Seen.keys()[row.n]


def _linked(table: Table[Any]) -> Table[Any]:
    """Begin with columns that repeat a ware's name and code from the first table of pieces."""
    table.join("wares", _code)
    table.live("of.name", _("Name"), "text", "[wares.name]", lambda row: _ware(row).name)
    table.live("of.code", _("Code"), "text", "[wares.code]", _code)
    return table


def _ware(row: Any) -> Ware:
    ware: Ware = row.of if isinstance(row, Part) else row
    return ware


def _code(row: Any) -> str:
    return str(_ware(row).code)


def put_donated(page: Page, plan: Plan) -> None:
    """Write the pieces that other makers give; nothing where there are none."""
    if plan.donated:
        table = add_keys(plan_table("donated", record=_code), {"count": "donated_counts"})
        put_table(page, _("Pieces that other makers give"), table, plan.donated)


def put_carried(page: Page, plan: Plan) -> None:
    """Write the pieces that an earlier sale left; nothing where there are none."""
    if plan.carried:
        table = add_keys(plan_table("carried", record=_code), {"code": "carried_codes"})
        table.join("tally", _code)
        table.live("=count", _("How many"), "whole", "[tally.planned]", name="carried_counts")
        says = _(
            "Made and on the table from the start, besides the good pieces wanted; no cost of making. "
            "Other numbers, or seconds for firsts, take a fresh workbook: “salebook renew”."
        )
        put_table(page, _("Pieces left from an earlier sale"), table, plan.carried, says=says)


def put_clays(page: Page, plan: Plan) -> None:
    """Write the clays; nothing where there are none."""
    if plan.clays:
        put_table(
            page,
            _("Clay"),
            add_keys(plan_table("clays", record=lambda clay: str(clay.name)), {"name": "clay_names"}),
            plan.clays,
            says=_(
                "Shrinkage is that of a length, from thrown to fired. Where “of it in drying” is empty, "
                "half is assumed."
            ),
        )
