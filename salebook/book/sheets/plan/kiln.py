"""The part of the sheet Plan that describes throwing, the kiln, its firings and what energy costs."""

from salebook.base.words import _
from salebook.book.inputs import Column, Part, part_columns, put_entries, put_table
from salebook.book.page import Page
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
        **{"burner_efficiency": "burner_efficiency", "calibration.metered_kwh": "calibration_kwh"},
        **{key: key for key in walls},
    }
    put_entries(page, "kiln", _("The kiln"), plan.kiln, names=names)


def put_firings(page: Page, plan: Plan) -> None:
    """Write the firings, their steps and what energy costs; nothing where the plan has no firings."""
    if not plan.firings:
        return
    put_table(
        page,
        "firings",
        _("Firings, in the order in which a piece meets them"),
        plan.firings,
        identity=lambda firing: str(firing.name),
        says=_("Metered 0: not metered. Elements on: only where the kiln's walls are not described."),
    )
    _put_steps(page, plan)
    if plan.energy is not None:
        put_table(
            page,
            "energy.rates",
            _("What energy costs"),
            plan.energy.rates,
            names={"from": "rate_from", "to": "rate_to", "price": "rate_price"},
            says=_("Clock times; a window may pass midnight. Standing charges are left out."),
        )


def _put_steps(page: Page, plan: Plan) -> None:
    steps = [
        Part(of=firing, n=n, part=step)
        for firing in plan.firings
        for n, step in enumerate(firing.steps, start=1)
    ]
    put_table(
        page,
        "steps",
        _("Steps of the firings"),
        steps,
        (
            Column(key="firing", heading=_("Firing"), style="wrapped", value=lambda step: step.of.name),
            Column(key="n", heading=_("Step"), style="whole", value=lambda step: step.n),
            *part_columns("steps"),
        ),
        identity=lambda step: f"{step.of.name}/{step.n}",
        says=_("The rate is in °C an hour."),
    )
