"""The part of the sheet Plan that describes throwing, the kiln, its firings and what energy costs."""

from dataclasses import dataclass
from decimal import Decimal

from salebook.book.inputs import (
    Column,
    Entry,
    column,
    length_entry,
    number_entry,
    put_entries,
    put_table,
    unsaid_keys,
)
from salebook.book.page import DAY_MINUTES, Page, number
from salebook.plan.model import Energy, Kiln, Plan
from salebook.words import _


def put_making(page: Page, plan: Plan) -> None:
    """Write how the maker throws and dries."""
    making = plan.making
    put_entries(
        page,
        "making",
        _("Throwing and drying"),
        (
            Entry(
                key="batch",
                label=_("Thrown in one go"),
                content=making.batch,
                style="whole",
                unit=_("pieces"),
                name="batch_size",
            ),
            Entry(
                key="bats",
                label=_("Bats"),
                content=making.bats,
                style="whole",
                meaning=_("empty: no limit; a piece holds its bat until leather hard"),
            ),
            Entry(
                key="days_on_bat",
                label=_("On the bat"),
                content=making.days_on_bat,
                style="whole",
                unit=_("days"),
            ),
            Entry(
                key="drying_days",
                label=_("Leather hard to bone dry"),
                content=making.drying_days,
                style="whole",
                unit=_("days"),
            ),
            *(
                Entry(key="free_days", label=_("Day off"), content=day, style="date")
                for day in making.free_days
            ),
        ),
        names={"free_days": "days_off"},
        unsaid=unsaid_keys(making),
    )


def put_kiln(page: Page, plan: Plan) -> None:
    """Write the kiln; nothing where the plan has none."""
    if plan.kiln is None:
        return
    parts = (_inside, _power, _walls, _load_and_burner, _meter)
    entries = tuple(entry for part in parts for entry in part(plan.kiln))
    put_entries(page, "kiln", _("The kiln"), entries, unsaid=unsaid_keys(plan.kiln))


def _inside(kiln: Kiln) -> tuple[Entry, ...]:
    shelf = kiln.shelf
    air, touching = _("air to the shelf above"), _("biscuit ware may touch")
    return (
        Entry(key="fuel", label=_("Fired with"), content=kiln.fuel, style="text", name="kiln_fuel"),
        Entry(key="shelf.shape", label=_("Shelf"), content=shelf.shape, style="text"),
        length_entry("shelf.diameter", _("Shelf across"), shelf.diameter, _("round shelves")),
        length_entry("shelf.width", _("Shelf width"), shelf.width, _("rectangular shelves")),
        length_entry("shelf.depth", _("Shelf depth"), shelf.depth, _("rectangular shelves")),
        length_entry("usable_height", _("Height inside"), kiln.usable_height),
        number_entry("shelves", _("Shelves owned"), kiln.shelves, meaning=_("empty: as many as fit")),
        number_entry("days_per_load", _("Days for a load"), kiln.days_per_load, _("days")),
        length_entry("shelf_thickness", _("Shelf thickness"), kiln.shelf_thickness),
        length_entry("clearance", _("Above the tallest piece"), kiln.clearance, air),
        length_entry("gap", _("Between pieces, glaze"), kiln.gap, touching),
    )


def _power(kiln: Kiln) -> tuple[Entry, ...]:
    return (
        number_entry("rated_kw", _("Rated power"), kiln.rated_kw, "kW", name="rated_kw"),
        number_entry("room", _("Room"), kiln.room, "°C", name="room_c"),
    )


def _walls(kiln: Kiln) -> tuple[Entry, ...]:
    described = (
        ("wall_area_m2", _("Wall area"), kiln.wall_area_m2, "m²"),
        ("wall_thickness_mm", _("Wall thickness"), kiln.wall_thickness_mm, "mm"),
        ("wall_conductivity", _("Wall conductivity"), kiln.wall_conductivity, "W/(m·K)"),
        ("wall_mass_kg", _("Wall mass"), kiln.wall_mass_kg, "kg"),
    )
    return tuple(
        number_entry(key, label, amount, unit, meaning=_("all four wall keys, or none"), name=key)
        for key, label, amount, unit in described
    )


def _load_and_burner(kiln: Kiln) -> tuple[Entry, ...]:
    heat = _("gas: heat that reaches the chamber ÷ heat in the fuel")
    return (
        number_entry(
            "furniture_kg",
            _("Shelves and props"),
            kiln.furniture_kg,
            "kg",
            meaning=_("in one load"),
            name="furniture_kg",
        ),
        number_entry(
            "burner_efficiency",
            _("Burner efficiency"),
            kiln.burner_efficiency,
            meaning=heat,
            name="burner_efficiency",
        ),
    )


def _meter(kiln: Kiln) -> tuple[Entry, ...]:
    reading = kiln.calibration
    metered = _("a firing below that was metered: it sets all estimates right")
    return (
        Entry(
            key="calibration.firing",
            label=_("Meter reading of"),
            content=reading.firing if reading else None,
            style="text",
            meaning=metered,
        ),
        number_entry(
            "calibration.metered_kwh",
            _("The meter said"),
            reading.metered_kwh if reading else None,
            "kWh",
            name="calibration_kwh",
        ),
    )


@dataclass(frozen=True, kw_only=True)
class StepRow:
    """One step of a firing as a row."""

    firing: str
    n: int
    rate: Decimal
    to: Decimal
    to_unit: str
    hold: Decimal


def put_firings(page: Page, plan: Plan) -> None:
    """Write the firings, their steps and what energy costs; nothing where the plan has no firings."""
    if not plan.firings:
        return
    _put_each_firing(page, plan)
    _put_steps(page, plan)
    if plan.energy is not None:
        _put_rates(page, plan.energy)


def _put_each_firing(page: Page, plan: Plan) -> None:
    put_table(
        page,
        "firings",
        _("Firings, in the order in which a piece meets them"),
        plan.firings,
        (
            column("name", _("Firing"), "wrapped"),
            column("stage", _("Stage"), "text"),
            column("start", _("Starts at"), "clock"),
            column("metered_kwh", _("Metered kWh, one load"), "number"),
            column("on_share", _("Elements on"), "percents", "on_share_given"),
            column("met_by", _("Who pays"), "text"),
        ),
        identity=lambda firing: str(firing.name),
        says=_("Metered 0: not metered. Elements on: only where the kiln's walls are not described."),
    )


def _put_steps(page: Page, plan: Plan) -> None:
    steps = [
        StepRow(
            firing=firing.name, n=n, rate=step.rate, to=step.to.amount, to_unit=step.to.unit, hold=step.hold
        )
        for firing in plan.firings
        for n, step in enumerate(firing.steps, start=1)
    ]
    put_table(
        page,
        "steps",
        _("Steps of the firings"),
        steps,
        (
            column("firing", _("Firing"), "wrapped"),
            column("n", _("Step"), "whole"),
            column("rate", _("Degrees an hour"), "number"),
            column("to", _("To"), "number"),
            Column(key="to_unit", heading=_("°"), style="text", value=lambda step: step.to_unit),
            column("hold", _("Hold, minutes"), "number"),
        ),
        identity=lambda step: f"{step.firing}/{step.n}",
        says=_("The rate is in °C an hour."),
    )


def _put_rates(page: Page, energy: Energy) -> None:
    put_table(
        page,
        "energy.rates",
        _("What energy costs"),
        list(enumerate(energy.rates)),
        (
            Column(key="from", heading=_("From"), style="clock", value=lambda r: r[1].from_ / DAY_MINUTES),
            Column(key="to", heading=_("To"), style="clock", value=lambda r: r[1].to / DAY_MINUTES),
            Column(
                key="price", heading=_("Price of 1 kWh"), style="rate", value=lambda r: number(r[1].price)
            ),
        ),
        identity=lambda rate: str(rate[0]),
        names={"from": "rate_from", "to": "rate_to", "price": "rate_price"},
        says=_("Clock times; a window may pass midnight. Standing charges are left out."),
    )
