"""The part of the sheet Plan that describes throwing, the kiln, its firings and what energy costs."""

from typing import Any

from salebook.base.words import _
from salebook.book.inputs import Part, add_keys, plan_table, put_entries, put_table
from salebook.book.page import Page
from salebook.book.table import Table
from salebook.plan.model import Plan


def put_making(page: Page, plan: Plan) -> None:
    """Write how the maker throws and dries."""
    names = {"batch": "batch_size", "free_days": "days_off"}
    put_entries(page, "making", _("Throwing and drying"), plan.making, names=names)


def put_kiln(page: Page, plan: Plan) -> None:
    """Write the kiln; nothing where the plan has none."""
    if plan.kiln is None:
        return
    walls = ("wall_area_m2", "wall_thickness_mm", "wall_conductivity", "wall_mass_kg")
    names = {
        **{"fuel": "kiln_fuel", "rated_kw": "rated_kw", "room": "room_c", "furniture_kg": "furniture_kg"},
        **{
            "burner_efficiency": "burner_efficiency",
            "gas_kwh": "gas_kwh",
            "calibration.metered_kwh": "calibration_kwh",
        },
        **{key: key for key in walls},
    }
    put_entries(page, "kiln", _("The kiln"), plan.kiln, names=names)


def put_firings(page: Page, plan: Plan) -> None:
    """Write the firings, their steps and what energy costs; nothing where the plan has no firings."""
    if not plan.firings:
        return
    put_table(
        page,
        _("Firings, in the order in which a piece meets them"),
        add_keys(plan_table("firings", record=lambda firing: str(firing.name))),
        plan.firings,
        says=_("Metered 0: not metered. Elements on: only where the kiln's walls are not described."),
    )
    steps = [
        Part(of=firing, n=n, part=step)
        for firing in plan.firings
        for n, step in enumerate(firing.steps, start=1)
    ]
    put_table(page, _("Steps of the firings"), _steps_table(), steps, says=_("The rate is in °C an hour."))
    if plan.energy is not None:
        put_table(
            page,
            _("What energy costs"),
            add_keys(
                plan_table("energy.rates"), {"from": "rate_from", "to": "rate_to", "price": "rate_price"}
            ),
            plan.energy.rates,
            says=_(
                "Clock times; one may begin in the evening and end in the morning. Standing charges are "
                "left out."
            ),
        )


def _steps_table() -> Table[Any]:
    table = plan_table("steps", record=lambda step: f"{step.of.name}/{step.n}")
    table.input("firing", _("Firing"), "wrapped", lambda step: step.of.name)
    table.input("n", _("Step"), "whole", says=_("A number, not below 0, is expected here"))
    return add_keys(table)
