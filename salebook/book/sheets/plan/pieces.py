"""The part of the sheet Plan that describes clays and pieces."""

from typing import Any

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.inputs import Column, Part, columns_of, part_columns, put_table
from salebook.book.marks import LINKED
from salebook.book.page import Content, Page
from salebook.plan.model import Plan


def put_wares(page: Page, plan: Plan) -> None:
    """Write the pieces: what and for how much, demand, clay and size, losses."""
    put_table(
        page,
        "wares",
        _("Your pieces: what, how many, for how much"),
        plan.wares,
        columns_of("wares", before="clay"),
        identity=lambda ware: str(ware.code),
    )
    _demand(page, plan)
    put_table(
        page,
        "wares",
        _("Your pieces: clay and size"),
        plan.wares,
        (*_linked(page), *columns_of("wares", start="clay", before="throwing")),
        identity=lambda ware: str(ware.code),
    )
    put_table(
        page,
        "wares",
        _("Your pieces: what may not come through"),
        plan.wares,
        (*_linked(page), *columns_of("wares", start="throwing")),
        identity=lambda ware: str(ware.code),
        says=_("All four losses empty: the usual ones are assumed. On a shelf: only to overrule salebook."),
    )


def _demand(page: Page, plan: Plan) -> None:
    rows = [Part(of=ware, n=n, part=point) for ware in plan.wares for n, point in enumerate(ware.demand)]
    if rows:
        put_table(
            page,
            "demand",
            _("How many would sell at each price"),
            rows,
            (*_linked(page), *part_columns("demand")),
            identity=lambda row: f"{row.of.code}/{row.n}",
            names={"share": "demand_shares"},
            says=_(
                "Lowest price first for each piece. Straight lines between; flat beyond the first and last."
            ),
        )


def _linked(page: Page) -> tuple[Column, Column]:
    """Return columns that repeat a ware's name and code from the first table of pieces."""

    def column(key: str, heading: str) -> Column:
        def value(record: Any) -> Content:
            ware = record.of if isinstance(record, Part) else record
            there = page.book.addresses[("wares", ware.code, key)]
            return Figure("=" + there.split("!")[1], getattr(ware, key))

        return Column(key=LINKED + key, heading=heading, style="text", value=value)

    return column("name", _("Name")), column("code", _("Code"))


def put_donated(page: Page, plan: Plan) -> None:
    """Write the pieces that other makers give; nothing where there are none."""
    if plan.donated:
        put_table(
            page,
            "donated",
            _("Pieces that other makers give"),
            plan.donated,
            identity=lambda given: str(given.code),
            names={"count": "donated_counts"},
        )


def put_clays(page: Page, plan: Plan) -> None:
    """Write the clays; nothing where there are none."""
    if plan.clays:
        put_table(
            page,
            "clays",
            _("Clay"),
            plan.clays,
            identity=lambda clay: str(clay.name),
            names={"name": "clay_names"},
            says=_("Shrinkage is linear, on the length as thrown. Empty “of it in drying”: half is assumed."),
        )
