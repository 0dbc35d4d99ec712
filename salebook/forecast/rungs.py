"""What is left of a sale at other prices, rung by rung."""

from dataclasses import dataclass
from decimal import Decimal

from salebook.forecast.figures import Figures, figures_of
from salebook.forecast.standing import Standing, is_guessed, state_at
from salebook.forecast.state import SaleState
from salebook.pricing.good import AS_PLANNED, Prices
from salebook.pricing.ladder import CHANGES, prices_at


@dataclass(frozen=True, kw_only=True)
class RungLeft:
    """What is left, with the maker's own prices changed by `change` per cent; None: as they are."""

    change: int | None
    prices: Prices
    state: SaleState
    figures: Figures
    is_guessed: bool
    """Whether the plan does not say how many would sell at such prices."""

    @property
    def if_all_sell(self) -> Decimal:
        """The net if everything sells."""
        return self.state.if_all_sell

    @property
    def is_out_of_reach(self) -> bool:
        """Whether the target is missed even if all sells."""
        return not self.figures.chance and self.if_all_sell < self.state.target


def ladder_left(standing: Standing) -> tuple[RungLeft, ...]:
    """Return what is left at each change of the maker's own prices, lowest prices first."""
    return tuple(rung_left(standing, prices_at(standing.plan, change), change=change) for change in CHANGES)


def rung_left(standing: Standing, prices: Prices = AS_PLANNED, *, change: int | None = None) -> RungLeft:
    """Return what is left at some prices; at those of the plan without any."""
    state = state_at(standing, prices)
    return RungLeft(
        change=change,
        prices=prices,
        state=state,
        figures=figures_of(state),
        is_guessed=is_guessed(standing, prices),
    )
