"""What a firing takes: hours, heat, energy and its price."""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Literal

from salebook.making.loading import Loading, pieces_at
from salebook.making.losses import Run
from salebook.plan.model import EnergyRate, Firing, Kiln, Plan, Stage
from salebook.plan.money import rounded

KELVIN_AT_0_C = 273.15

HEAT_CONSTANT = 1128.0
"""J/(kg K). With the next two: specific heat of dehydroxylated kaolin, C(T) = 1128 + 0.102 T - 36e6 / T², T
in kelvin, from Michot et al., Journal of the European Ceramic Society (2008), stated for 40 to 1100 °C."""

HEAT_RISE = 0.102
"""J/(kg K²)."""

HEAT_BEND = 36e6
"""J K/kg."""

WALL_MASS_SHARE = 0.5
"""Share of the wall's mass that takes part in the heating: its mean temperature lies halfway."""

KJ_PER_KWH = 3600.0
W_PER_KW = 1000.0
MINUTES_PER_HOUR = 60.0
HOURS_PER_DAY = 24.0
MINUTES_PER_DAY = 1440

Basis = Literal["walls", "on share", "meter"]


@dataclass(frozen=True, kw_only=True)
class Stretch:
    """A ramp or a hold before any energy is known: °C and hours."""

    step: int
    kind: Literal["ramp", "hold"]
    from_c: float
    to_c: float
    hours: float


@dataclass(frozen=True, kw_only=True)
class Part(Stretch):
    """A ramp or a hold; energy is energy bought, after calibration or meter."""

    heat_kwh: float
    kwh: float
    mean_kw: float
    short_kw: float
    """How many kW the part needs beyond the kiln's rated power; 0 where it keeps up."""
    cost: float
    """Price of this part's energy in one load, unrounded."""


@dataclass(frozen=True, kw_only=True)
class FiringNeed:
    """One firing: hours, energy and parts of one load, cost of all its loads."""

    firing: Firing
    loads: int
    ware_kg: float
    """Dry ware in one load."""
    hours: float
    kwh: float
    peak_kw: float
    parts: tuple[Part, ...]
    cost_of_load: float
    cost: Decimal
    """All loads, rounded to the currency's minor unit."""
    correction: float
    """What the estimate was multiplied by: the calibration's or the meter's, 1 where there is none."""
    basis: Basis


def heat_content(celsius: float) -> float:
    """Return the heat in fired clay, kJ/kg, up to a constant: the integral of its specific heat.

    Specific heat of dehydroxylated kaolin from Michot et al., Journal of the European Ceramic Society (2008).
    """
    kelvin = celsius + KELVIN_AT_0_C
    return (HEAT_CONSTANT * kelvin + HEAT_RISE / 2 * kelvin**2 + HEAT_BEND / kelvin) / 1000


def stretches_of(firing: Firing, room_c: float) -> Iterator[Stretch]:
    """Yield the ramps and holds of a firing, the first ramp from the room's temperature."""
    temperatures = [room_c, *(float(step.to.celsius) for step in firing.steps)]
    for number, (step, (low, high)) in enumerate(zip(firing.steps, pairwise(temperatures), strict=True), 1):
        ramp, hold = abs(high - low) / float(step.rate), float(step.hold) / MINUTES_PER_HOUR
        if ramp > 0:
            yield Stretch(step=number, kind="ramp", from_c=low, to_c=high, hours=ramp)
        if hold > 0:
            yield Stretch(step=number, kind="hold", from_c=high, to_c=high, hours=hold)


def wall_loss_w_per_k(kiln: Kiln) -> float:
    """Return the heat that the wall lets through, W for each kelvin; 0 where the wall is not known."""
    if kiln.wall_conductivity is None or kiln.wall_area_m2 is None or kiln.wall_thickness_mm is None:
        return 0.0
    return float(kiln.wall_conductivity * kiln.wall_area_m2 / (kiln.wall_thickness_mm / 1000))


def heated_kg(kiln: Kiln, ware_kg: float) -> float:
    """Return the mass to heat: ware, furniture and half the wall, kg."""
    return ware_kg + float(kiln.furniture_kg) + WALL_MASS_SHARE * float(kiln.wall_mass_kg or 0)


def heat_kwh(stretch: Stretch, firing: Firing, kiln: Kiln, ware_kg: float) -> float:
    """Return the heat that one stretch takes, kWh, never below 0; before calibration."""
    if not kiln.has_walls:
        return float(kiln.rated_kw or 0) * stretch.hours * float(firing.on_share)
    gained_kj_per_kg = heat_content(stretch.to_c) - heat_content(stretch.from_c)
    stored = heated_kg(kiln, ware_kg) * gained_kj_per_kg / KJ_PER_KWH
    above_room = (stretch.from_c + stretch.to_c) / 2 - float(kiln.room)
    return max(0.0, stored + wall_loss_w_per_k(kiln) * above_room * stretch.hours / W_PER_KW)


def efficiency(kiln: Kiln) -> float:
    """Return the heat that reaches the chamber for each kWh bought: less than 1 for gas."""
    return 1.0 if kiln.fuel == "electric" else float(kiln.burner_efficiency or 1)


def estimated_kwh(firing: Firing, kiln: Kiln, ware_kg: float) -> float:
    """Return the energy bought for one load of a firing as the physics has it, kWh, before calibration."""
    stretches = stretches_of(firing, float(kiln.room))
    return sum(heat_kwh(stretch, firing, kiln, ware_kg) for stretch in stretches) / efficiency(kiln)


def ware_kg_in_load(plan: Plan, runs: Iterable[Run], loading: Loading) -> float:
    """Return the dry ware in one load of a stage, kg, as the mean over its loads."""
    balls = (
        pieces_at(loading.stage, run) * run.ware.ball.kg * plan.clay_of(run.ware).dry_fraction for run in runs
    )
    return float(sum(balls, Decimal(0))) / loading.to_fire if loading.to_fire else 0.0


def price_of_energy(kwh: float, start_hour: float, hours: float, rates: Iterable[EnergyRate]) -> float:
    """Return the price of energy spread evenly over `hours` from a clock time, each moment at its rate.

    `start_hour` counts from the midnight before the firing begins and may lie beyond 24. A time that no rate
    covers costs nothing; a plan leaves none.
    """
    if hours <= 0 or kwh <= 0:
        return 0.0
    windows = tuple(rates)
    spent = running_price(start_hour + hours, windows) - running_price(start_hour, windows)
    return kwh / hours * spent


def running_price(hour: float, rates: Iterable[EnergyRate]) -> float:
    """Return what 1 kW without a break costs from midnight to an hour, which may lie beyond 24."""
    days, rest = divmod(hour, HOURS_PER_DAY)
    return sum(
        float(rate.price) / MINUTES_PER_HOUR * (days * (to - from_) + max(0.0, min(rest * 60, to) - from_))
        for rate in rates
        for from_, to in windows_of(rate)
    )


def windows_of(rate: EnergyRate) -> tuple[tuple[int, int], ...]:
    """Return from and to which minute of the day a rate holds: twice where it passes midnight."""
    from_, to = rate.from_ % MINUTES_PER_DAY, rate.to
    if from_ < to:
        return ((from_, to),)
    return ((from_, MINUTES_PER_DAY), (0, to % MINUTES_PER_DAY))


def needs_for(plan: Plan, runs: tuple[Run, ...], loadings: tuple[Loading, ...]) -> tuple[FiringNeed, ...]:
    """Return what each firing takes, in plan order; nothing where the plan has no kiln."""
    if plan.kiln is None:
        return ()
    ware_kg = {loading.stage: ware_kg_in_load(plan, runs, loading) for loading in loadings}
    loads = {loading.stage: loading.to_fire for loading in loadings}
    calibration = _calibration(plan, plan.kiln, ware_kg)
    return tuple(
        _need(firing, plan, plan.kiln, ware_kg[firing.stage], calibration, loads=loads[firing.stage])
        for firing in plan.firings
    )


def _calibration(plan: Plan, kiln: Kiln, ware_kg: Mapping[Stage, float]) -> float:
    """Return metered by estimated energy of the firing that the kiln was calibrated on; 1 without one."""
    if kiln.calibration is None:
        return 1.0
    named = next(firing for firing in plan.firings if firing.name == kiln.calibration.firing)
    estimated = estimated_kwh(named, kiln, ware_kg[named.stage])
    return float(kiln.calibration.metered_kwh) / estimated if estimated > 0 else 1.0


def _need(
    firing: Firing, plan: Plan, kiln: Kiln, ware_kg: float, calibration: float, *, loads: int
) -> FiringNeed:
    """Return what one firing takes; `ware_kg` is the dry ware in one load."""
    correction, basis = _correction(firing, kiln, ware_kg, calibration)
    parts = tuple(_parts(firing, plan, kiln, ware_kg, correction))
    cost_of_load, digits = sum(part.cost for part in parts), plan.sale.digits
    return FiringNeed(
        firing=firing,
        loads=loads,
        ware_kg=ware_kg,
        hours=sum(part.hours for part in parts),
        kwh=sum(part.kwh for part in parts),
        peak_kw=max((part.mean_kw for part in parts), default=0.0),
        parts=parts,
        cost_of_load=cost_of_load,
        # Rounded first far beyond the minor unit, so that float noise never decides about a half.
        cost=rounded(Decimal(repr(round(cost_of_load * loads, digits + 6))), digits),
        correction=correction,
        basis=basis,
    )


def _correction(firing: Firing, kiln: Kiln, ware_kg: float, calibration: float) -> tuple[float, Basis]:
    estimated = estimated_kwh(firing, kiln, ware_kg)
    # A metered firing's kWh are spread over its parts as the estimate was, and its peak follows.
    if firing.metered_kwh > 0 and estimated > 0:
        return float(firing.metered_kwh) / estimated, "meter"
    return calibration, "walls" if kiln.has_walls else "on share"


def _parts(firing: Firing, plan: Plan, kiln: Kiln, ware_kg: float, correction: float) -> Iterator[Part]:
    rates = () if plan.energy is None else plan.energy.rates
    # `rated_kw` is heat to the chamber, for gas as well.
    most_kw = math.inf if kiln.rated_kw is None else float(kiln.rated_kw)
    begins = firing.start.hour + firing.start.minute / MINUTES_PER_HOUR
    for stretch in stretches_of(firing, float(kiln.room)):
        heat = heat_kwh(stretch, firing, kiln, ware_kg)
        kwh = heat * correction / efficiency(kiln)
        yield Part(
            **vars(stretch),
            heat_kwh=heat,
            kwh=kwh,
            mean_kw=kwh / stretch.hours,
            short_kw=max(0.0, heat * correction / stretch.hours - most_kw),
            cost=price_of_energy(kwh, begins, stretch.hours, rates),
        )
        begins += stretch.hours
