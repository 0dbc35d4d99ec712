"""All that a filled-in book says for the next plan."""

from dataclasses import dataclass
from functools import cached_property

from salebook.event.costs import CostMet
from salebook.forecast.forecast import Forecast
from salebook.forecast.learned.costs import CostSeen, costs_seen, unplanned_costs
from salebook.forecast.learned.energy import EnergySeen, energy_seen
from salebook.forecast.learned.left_over import carried_from, held_back, uncounted, without_number
from salebook.forecast.learned.losses import LossSeen, losses_seen
from salebook.forecast.learned.outlooks import DaySeen, days_seen
from salebook.forecast.learned.sold import DemandSeen, demand_seen, state_at_the_end
from salebook.plan.model import Carried, Overhead, Plan


@dataclass(frozen=True, kw_only=True)
class Lessons:
    """What one sale taught; each part is worked out when it is asked for."""

    forecast: Forecast

    @property
    def plan(self) -> Plan:
        """The plan of the sale that was."""
        return self.forecast.plan

    @property
    def has_sold(self) -> bool:
        """Whether the sale is over and any line of takings tells of it."""
        return self.forecast.is_over and bool(self.forecast.event.state.lines)

    @cached_property
    def losses(self) -> tuple[LossSeen, ...]:
        """What the studio tally says, by ware and stage."""
        return losses_seen(self.forecast.reckoning, self.forecast.event)

    @cached_property
    def demand(self) -> tuple[DemandSeen, ...]:
        """How many bought, by good; nothing before the sale is over."""
        return demand_seen(self.forecast) if self.has_sold else ()

    @cached_property
    def days(self) -> tuple[DaySeen, ...]:
        """Which kind of day it was; nothing before the sale is over."""
        return days_seen(state_at_the_end(self.forecast)) if self.has_sold else ()

    @cached_property
    def energy(self) -> tuple[EnergySeen, ...]:
        """What the meter said of the firings."""
        return energy_seen(self.forecast.reckoning, self.forecast.event)

    @cached_property
    def costs(self) -> tuple[CostSeen, ...]:
        """What things really cost."""
        return costs_seen(self.plan, self.forecast.event)

    @cached_property
    def unplanned(self) -> tuple[Overhead, ...]:
        """What was spent that nobody planned."""
        return unplanned_costs(self.forecast.event)

    @property
    def costs_of_firing(self) -> tuple[CostMet, ...]:
        """What firings really cost, which says nothing of the price of energy."""
        costs = self.forecast.event.share_out.costs
        return tuple(met for met in costs if met.is_actual and met.line.kind == "firing")

    @property
    def presumed(self) -> tuple[str, ...]:
        """Names of wares that are taken to have been there as planned, since nobody counted them."""
        codes = uncounted(self.forecast.event) if self.has_sold else ()
        return tuple(ware.name for ware in self.plan.wares if ware.code in codes)

    @cached_property
    def carried(self) -> tuple[Carried, ...]:
        """Pieces that are left; nothing before the sale is over."""
        return carried_from(self.forecast.event) if self.forecast.is_over else ()

    @property
    def held(self) -> tuple[str, ...]:
        """Numbers of pieces that still wait for somebody."""
        return held_back(self.forecast.event) if self.forecast.is_over else ()

    @property
    def without_number(self) -> tuple[tuple[str, int], ...]:
        """Names of wares without numbers of which pieces are left, and how many."""
        return tuple(without_number(self.forecast.event)) if self.has_sold else ()
