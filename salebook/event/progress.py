"""How far the sale has come: what is raised, what is left to sell, what each piece must still bring."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from salebook.event.share_out import ShareOut
from salebook.event.state import EventState
from salebook.plan.model import Plan
from salebook.plan.money import ZERO, in_units


@dataclass(frozen=True, kw_only=True)
class Progress:
    """What the room wants to know; money in the plan's currency."""

    raised: Decimal
    target: Decimal
    still_needed: Decimal
    """What is missing to the target, costs not yet earned back included; 0 where it is reached."""
    to_earn_back: Decimal
    """What the takings fall short of the costs that they must meet; 0 where they do not."""
    sold: int
    on_the_table: int
    promised: int
    """Reserved, or part paid."""
    to_make: int
    """Ordered, and no piece put aside for it yet."""
    each_must_bring: Decimal | None
    """Still needed for each piece on the table, rounded up to the minor unit; None where none is left."""

    @property
    def share_of_target(self) -> Fraction:
        """Raised as a share of the target; 1 where the target is 0."""
        return Fraction(self.raised) / Fraction(self.target) if self.target else Fraction(1)


def progress_of(plan: Plan, state: EventState, share_out: ShareOut) -> Progress:
    """Return how far the sale has come."""
    piece_totals = state.piece_totals
    left = sum(totals.here for totals in piece_totals)
    needed = max(ZERO, plan.sale.target - share_out.pool - share_out.named - share_out.direct)
    return Progress(
        raised=share_out.reached,
        target=plan.sale.target,
        still_needed=needed,
        to_earn_back=max(ZERO, -share_out.pool),
        sold=sum(totals.sold for totals in piece_totals),
        on_the_table=left,
        promised=sum(totals.reserved + totals.deposit for totals in piece_totals),
        to_make=sum(totals.to_make for totals in piece_totals),
        each_must_bring=_divided_up(needed, left, plan.sale.digits) if left else None,
    )


def _divided_up(amount: Decimal, count: int, digits: int) -> Decimal:
    units = int(Fraction(amount) * 10**digits)
    return in_units(-(-units // count), digits)
