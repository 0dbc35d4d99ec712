"""Firings that were done: what was written down of each, and what that says beside the plan."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from salebook.making.firing import FiringNeed
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import Kiln, Plan, Stage
from salebook.plan.money import rounded


@dataclass(frozen=True, kw_only=True)
class FiringDone:
    """One kiln load that was fired; None or empty: not written down."""

    firing: str = ""
    """Which one, by its name in the plan."""
    load: int | None = None
    day: date | None = None
    before: Decimal | None = None
    """The meter's reading in kWh; for gas the meter's or the bottle's, in the unit of `Kiln.gas_kwh`."""
    after: Decimal | None = None
    came_out: int | None = None
    lost: int | None = None
    why: str = ""

    def is_of(self, firing: str) -> bool:
        """Whether it is a load of the plan's firing of this name."""
        return self.firing.lower() == firing.lower()

    def runs_back(self, kiln: Kiln) -> bool:
        """Whether the meter reads less afterwards, which only gas can: a bottle weighs less."""
        is_less = self.before is not None and self.after is not None and self.after < self.before
        return is_less and kiln.fuel == "electric"

    def kwh(self, kiln: Kiln) -> Decimal | None:
        """Return the energy that it took, kWh; None where no meter says it."""
        per_unit = kwh_per_unit(kiln)
        if self.before is None or self.after is None or per_unit is None or self.runs_back(kiln):
            return None
        return abs(self.after - self.before) * per_unit


def kwh_per_unit(kiln: Kiln) -> Decimal | None:
    """Return the energy in one unit of the meter, kWh; None where the plan of a gas kiln does not say it."""
    return kiln.gas_kwh if kiln.fuel == "gas" else Decimal(1)


@dataclass(frozen=True, kw_only=True)
class FiringSeen:
    """What one firing of the plan took, as far as it was done, beside what it needs by the plan."""

    need: FiringNeed
    done: tuple[FiringDone, ...]
    metered: tuple[Decimal, ...]
    """The energy of each load that was metered, kWh."""
    digits: int
    """Decimal places of the currency."""

    @property
    def mean_kwh(self) -> float | None:
        """Energy of one load by the meter, kWh; None where none was metered."""
        return float(sum(self.metered)) / len(self.metered) if self.metered else None

    @property
    def expected_kwh(self) -> float:
        """Energy of a load that was not metered, or is still to fire, kWh."""
        return self.need.kwh if self.mean_kwh is None else self.mean_kwh

    @property
    def price(self) -> float:
        """Price of 1 kWh, as the plan's course of the firing meets the rates of the day."""
        return self.need.cost_of_load / self.need.kwh if self.need.kwh > 0 else 0.0

    @property
    def left(self) -> int:
        """Loads still to fire."""
        return max(0, self.need.loads - len(self.done))

    @property
    def so_far(self) -> Decimal:
        """The price of the energy of the loads done."""
        return self._cost_of(len(self.done))

    @property
    def ahead(self) -> Decimal:
        """The price of the energy of the loads still to fire."""
        return self._cost_of(self.left)

    @property
    def in_all(self) -> Decimal:
        """The price of the energy of all loads."""
        return self.so_far + self.ahead

    def _cost_of(self, loads: int) -> Decimal:
        # Rounded first far beyond the minor unit, so that float noise never decides about a half.
        cost = loads * self.expected_kwh * self.price
        return rounded(Decimal(repr(round(cost, self.digits + 6))), self.digits)


def firings_seen(
    plan: Plan, needs: Iterable[FiringNeed], done: Sequence[FiringDone]
) -> tuple[FiringSeen, ...]:
    """Return what each firing took so far, in plan order."""
    return tuple(_seen(plan, need, done) for need in needs)


def _seen(plan: Plan, need: FiringNeed, done: Iterable[FiringDone]) -> FiringSeen:
    of_it = tuple(one for one in done if one.is_of(need.firing.name))
    metered = (one.kwh(plan.kiln) for one in of_it) if plan.kiln else ()
    return FiringSeen(
        need=need,
        done=of_it,
        metered=tuple(kwh for kwh in metered if kwh is not None),
        digits=plan.sale.digits,
    )


@dataclass(frozen=True, kw_only=True)
class StageSeen:
    """The pieces of all firings of a stage, beside what the studio tally counts there."""

    stage: Stage
    last: FiringSeen
    """The stage's last firing: what comes out of it has come through the stage."""
    lost: int
    tally: int | None
    """What came through the stage by the studio tally; None: not counted of each ware."""

    @property
    def counted(self) -> tuple[int, ...]:
        """What came out of each load of the last firing in which it was counted."""
        return tuple(one.came_out for one in self.last.done if one.came_out is not None)

    @property
    def came_out(self) -> int:
        """The pieces that came out of the last firing."""
        return sum(self.counted)

    @property
    def differs(self) -> bool:
        """Whether the tally has another number, where both have counted all."""
        is_whole = bool(self.counted) and len(self.counted) == len(self.last.done)
        return is_whole and self.tally is not None and self.tally != self.came_out


def stages_seen(
    plan: Plan, seen: Sequence[FiringSeen], counts: Mapping[str, StudioCount]
) -> tuple[StageSeen, ...]:
    """Return what came out of the firings of each stage, in plan order."""
    of_stage: dict[Stage, list[FiringSeen]] = {}
    for one in seen:
        of_stage.setdefault(one.need.firing.stage, []).append(one)
    return tuple(
        StageSeen(
            stage=stage,
            last=firings[-1],
            lost=sum(done.lost or 0 for one in firings for done in one.done),
            tally=_tally(plan, stage, counts),
        )
        for stage, firings in of_stage.items()
    )


def _tally(plan: Plan, stage: Stage, counts: Mapping[str, StudioCount]) -> int | None:
    of_wares = [counts.get(ware.code, StudioCount()) for ware in plan.wares]
    if stage == "biscuit":
        return _sum_of_all([count.biscuit for count in of_wares])
    firsts = _sum_of_all([count.good for count in of_wares])
    return None if firsts is None else firsts + sum(count.seconds or 0 for count in of_wares)


def broken_in_all(plan: Plan, counts: Mapping[str, StudioCount]) -> int | None:
    """Return what the studio tally has as broken at any stage; None: not counted of each ware."""
    return _sum_of_all([counts.get(ware.code, StudioCount()).broken for ware in plan.wares])


def _sum_of_all(counts: Sequence[int | None]) -> int | None:
    known = [count for count in counts if count is not None]
    return sum(known) if known and len(known) == len(counts) else None


def firings_differ(plan: Plan, stages: Sequence[StageSeen], counts: Mapping[str, StudioCount]) -> bool:
    """Whether the firings have other pieces out or more lost than the studio tally."""
    broken = broken_in_all(plan, counts)
    lost = sum(stage.lost for stage in stages)
    return any(stage.differs for stage in stages) or (broken is not None and lost > broken)
