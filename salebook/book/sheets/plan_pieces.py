"""The part of the sheet Plan that describes clays and pieces."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from salebook.book.figure import Figure
from salebook.book.inputs import Column, column, put_table, yes_column
from salebook.book.marks import LINKED
from salebook.book.page import Content, Page, number
from salebook.plan.model import Footprint, Plan, Ware
from salebook.plan.quantities import Length
from salebook.words import _


def put_wares(page: Page, plan: Plan) -> None:
    """Write the pieces: what and for how much, demand, clay and size, losses."""
    put_table(
        page,
        "wares",
        _("Your pieces: what, how many, for how much"),
        plan.wares,
        (
            column("name", _("Name"), "wrapped"),
            column("code", _("Code"), "text"),
            column("wanted", _("Good pieces wanted"), "whole"),
            column("price", _("Price"), "money"),
            column("seconds_price", _("Price of a second"), "money"),
            column("sells", _("Share that sells"), "percents"),
            column("spoken_for", _("Spoken for"), "whole"),
            yes_column("numbered", _("Numbered")),
            column("care", _("Care, for the label"), "text"),
        ),
        identity=lambda ware: str(ware.code),
    )
    _demand(page, plan)
    _sizes(page, plan)
    _losses(page, plan)


@dataclass(frozen=True, kw_only=True)
class DemandRow:
    """One demand point as a row."""

    ware: Ware
    n: int
    price: Decimal
    share: Decimal


def _demand(page: Page, plan: Plan) -> None:
    rows = [
        DemandRow(ware=ware, n=n, price=point.price, share=point.share)
        for ware in plan.wares
        for n, point in enumerate(ware.demand)
    ]
    if not rows:
        return
    put_table(
        page,
        "demand",
        _("How many would sell at each price"),
        rows,
        (
            _linked_column("name", _("Name"), page),
            _linked_column("code", _("Code"), page),
            column("price", _("At this price"), "money"),
            column("share", _("This share sells"), "percents"),
        ),
        identity=lambda row: f"{row.ware.code}/{row.n}",
        names={"share": "demand_shares"},
        says=_("Lowest price first for each piece. Straight lines between; flat beyond the first and last."),
    )


def _linked_column(key: str, heading: str, page: Page) -> Column:
    """Return a column that repeats a ware's name or code from the first table of pieces."""

    def value(record: Any) -> Content:
        ware = record.ware if isinstance(record, DemandRow) else record
        there = page.book.places[("wares", ware.code, key)]
        return Figure("=" + there.split("!")[1], getattr(ware, key))

    return Column(key=LINKED + key, heading=heading, style="text", value=value)


def _lengths(ware: Ware) -> dict[str, Length]:
    footprint = ware.footprint
    found = {
        "made_height": ware.made_height,
        "made_diameter": ware.made_diameter,
        "fired_height": ware.fired_height,
        "fired_diameter": ware.fired_diameter,
        "widest": footprint.widest if isinstance(footprint, Footprint) else None,
        "narrowest": footprint.narrowest if isinstance(footprint, Footprint) else None,
    }
    return {key: length for key, length in found.items() if length is not None}


def length_unit(ware: Ware) -> str:
    """Return the unit that a ware's lengths are shown in: their own where they share one, else mm."""
    units = {length.unit for length in _lengths(ware).values()}
    return units.pop() if len(units) == 1 else "mm"


def _length_column(key: str, heading: str) -> Column:
    def value(ware: Ware) -> Content:
        length = _lengths(ware).get(key)
        if length is None:
            return None
        return number(length.amount if length.unit == length_unit(ware) else length.mm)

    return Column(key=key, heading=heading, style="number", value=value)


def _sizes(page: Page, plan: Plan) -> None:
    put_table(
        page,
        "wares",
        _("Your pieces: clay and size"),
        plan.wares,
        (
            _linked_column("name", _("Name"), page),
            _linked_column("code", _("Code"), page),
            column("clay", _("Clay"), "wrapped"),
            Column(key="ball", heading=_("Ball"), style="number", value=lambda w: number(w.ball.amount)),
            Column(key="ball_unit", heading=_("Unit"), style="text", value=lambda w: w.ball.unit),
            _length_column("made_height", _("Height as thrown")),
            _length_column("made_diameter", _("Width as thrown")),
            _length_column("fired_height", _("or height fired")),
            _length_column("fired_diameter", _("or width fired")),
            _length_column("widest", _("Widest, lip and handle")),
            _length_column("narrowest", _("Narrowest")),
            Column(key="length_unit", heading=_("Unit"), style="text", value=length_unit),
        ),
        identity=lambda ware: str(ware.code),
    )


def _loss_column(stage: str, heading: str) -> Column:
    def value(ware: Ware) -> Content:
        return None if ware.losses_given is None else number(getattr(ware.losses_given, stage))

    return Column(key=stage, heading=heading, style="percents", value=value)


def _losses(page: Page, plan: Plan) -> None:
    put_table(
        page,
        "wares",
        _("Your pieces: what may not come through"),
        plan.wares,
        (
            _linked_column("name", _("Name"), page),
            _linked_column("code", _("Code"), page),
            _loss_column("throwing", _("Lost in throwing")),
            _loss_column("drying", _("Lost in drying")),
            _loss_column("biscuit", _("Lost in biscuit firing")),
            _loss_column("glaze", _("Lost in glaze firing")),
            column("seconds", _("Seconds among the rest"), "percents"),
            column("per_shelf_biscuit", _("On a shelf, biscuit"), "whole"),
            column("per_shelf_glaze", _("On a shelf, glaze"), "whole"),
        ),
        identity=lambda ware: str(ware.code),
        says=_("All four losses empty: the usual ones are assumed. On a shelf: only to overrule salebook."),
    )


def put_donated(page: Page, plan: Plan) -> None:
    """Write the pieces that other makers give; nothing where there are none."""
    if not plan.donated:
        return
    put_table(
        page,
        "donated",
        _("Pieces that other makers give"),
        plan.donated,
        (
            column("name", _("Name"), "wrapped"),
            column("code", _("Code"), "text"),
            column("count", _("How many"), "whole"),
            column("price", _("Price"), "money"),
            column("keeps", _("Giver's part"), "percents"),
            column("sells", _("Share that sells"), "percents"),
            column("spoken_for", _("Spoken for"), "whole"),
            column("maker", _("Given by"), "wrapped"),
            column("care", _("Care, for the label"), "text"),
        ),
        identity=lambda given: str(given.code),
        names={"count": "donated_counts"},
    )


def put_clays(page: Page, plan: Plan) -> None:
    """Write the clays; nothing where there are none."""
    if not plan.clays:
        return
    put_table(
        page,
        "clays",
        _("Clay"),
        plan.clays,
        (
            column("name", _("Name"), "wrapped"),
            Column(
                key="pack", heading=_("A bag holds"), style="number", value=lambda c: number(c.pack.amount)
            ),
            Column(key="pack_unit", heading=_("Unit"), style="text", value=lambda c: c.pack.unit),
            column("pack_price", _("A bag costs"), "money"),
            column("shrinkage", _("Shrinks, thrown to fired"), "percent"),
            column("drying_shrinkage", _("of it in drying"), "percent", "drying_shrinkage_given"),
            column("waste", _("Waste on top"), "percents"),
            column("dry_fraction", _("Dry part of its weight"), "percents"),
            yes_column("whole_packs", _("Pay whole bags")),
            column("met_by", _("Who pays"), "text"),
        ),
        identity=lambda clay: str(clay.name),
        names={"name": "clay_names"},
        says=_("Shrinkage is linear, on the length as thrown. Empty “of it in drying”: half is assumed."),
    )
