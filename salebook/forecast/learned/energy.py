"""What the meter said of the firings, as it sets the next plan's estimates right."""

from dataclasses import dataclass
from decimal import Decimal

from salebook.event.event import Event
from salebook.making.firing_done import FiringSeen, firings_seen
from salebook.plan.model import Calibration, Firing, Kiln
from salebook.reckoning import Reckoning

DIGITS = 1


@dataclass(frozen=True, kw_only=True)
class EnergySeen:
    """What one firing took by the meter, beside what was planned; kWh of one load."""

    seen: FiringSeen
    after: Decimal
    is_calibration: bool
    """Whether it sets all estimates right: that of which most loads were metered, the last of several."""

    @property
    def firing(self) -> Firing:
        """The firing of the plan."""
        return self.seen.need.firing

    @property
    def before(self) -> Decimal:
        """What was planned."""
        return round(Decimal(repr(self.seen.need.kwh)), DIGITS)


def energy_seen(reckoning: Reckoning, event: Event) -> tuple[EnergySeen, ...]:
    """Return what the meter said of each firing of which a load was metered, in plan order."""
    firings = firings_seen(reckoning.plan, reckoning.studio.firings, event.firings_done)
    means = [round(Decimal(repr(seen.mean_kwh or 0.0)), DIGITS) for seen in firings]
    metered = [(len(seen.metered), nth) for nth, seen in enumerate(firings) if means[nth]]
    return tuple(
        EnergySeen(seen=firings[nth], after=means[nth], is_calibration=nth == max(metered)[1])
        for _loads, nth in metered
    )


def firing_after(firing: Firing, energy: tuple[EnergySeen, ...]) -> Firing:
    """Return a firing with what the meter said of it; the one that all others go by needs nothing beside."""
    found = next((seen for seen in energy if seen.firing.name == firing.name), None)
    if found is None or (found.is_calibration and not firing.metered_kwh):
        return firing
    return firing.model_copy(update={"metered_kwh": found.after})


def kiln_after(kiln: Kiln, energy: tuple[EnergySeen, ...]) -> Kiln:
    """Return a kiln whose estimates go by the meter."""
    found = next((seen for seen in energy if seen.is_calibration), None)
    if found is None:
        return kiln
    calibration = Calibration(firing=found.firing.name, metered_kwh=found.after)
    return kiln.model_copy(update={"calibration": calibration})
