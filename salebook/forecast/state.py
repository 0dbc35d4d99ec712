"""What is known of a sale at one moment, and at what price what is left is offered from then on."""

from dataclasses import dataclass
from decimal import Decimal

from salebook.plan.model import Outlook
from salebook.plan.money import ZERO
from salebook.pricing.good import Grade


@dataclass(frozen=True, kw_only=True)
class Offered:
    """Pieces alike, as they stand; shares from 0 to 1, before the kind of day."""

    code: str
    grade: Grade
    offered: int
    """All that were ever there to sell."""
    gone: int = 0
    """Broken, missing, given away or left over."""
    spoken_for: int = 0
    sold: int = 0
    held: int = 0
    """Reserved or part paid, and not sold yet."""
    share: Decimal
    """Share that sells in the whole sale at the price asked so far."""
    price_then: Decimal
    """Price asked from now on."""
    share_then: Decimal
    """Share that would sell in the whole sale at that price."""
    brings_then: Decimal
    """What one more sold brings on the basis `sale`, unrounded."""
    on_the_way: tuple[tuple[int, Decimal], ...] = ()
    """Pieces in the studio, and the chance that each of them comes through."""

    @property
    def free(self) -> int:
        """Pieces that any buyer could have, or had; at least those that somebody has."""
        return max(self.taken, self.offered - self.gone - self.spoken_for)

    @property
    def taken(self) -> int:
        """Sold and held beyond those spoken for."""
        return max(0, self.sold + self.held - self.spoken_for)

    @property
    def left(self) -> int:
        """Free pieces that nobody has taken yet."""
        return self.free - self.taken

    @property
    def promised(self) -> int:
        """Pieces that are there, spoken for, and neither sold nor held yet."""
        return max(0, min(self.spoken_for, self.offered - self.gone) - self.sold - self.held)

    @property
    def promised_on_the_way(self) -> int:
        """Pieces spoken for that are still in the studio."""
        return max(0, self.spoken_for - max(self.offered - self.gone, self.sold + self.held))

    @property
    def expected_to_come(self) -> Decimal:
        """Pieces that can be expected to come from the studio."""
        return sum((count * comes for count, comes in self.on_the_way), ZERO)

    @property
    def to_sell(self) -> Decimal:
        """Pieces that are there, or can be expected to be, and may still sell."""
        return self.left + self.promised + self.expected_to_come


@dataclass(frozen=True, kw_only=True)
class SaleState:
    """A sale at one moment; money in the plan's currency, unrounded."""

    over: Decimal
    """The share of the selling time that is past, from 0 to 1."""
    target: Decimal
    reached: Decimal
    """What has come in, costs that the sale meets taken off: below 0 before anything is sold."""
    other_left: Decimal
    """Other income that is still expected."""
    held_brings: Decimal
    """What pieces held and ordered, and money on its way, still bring."""
    outlooks: tuple[Outlook, ...]
    goods: tuple[Offered, ...]

    @property
    def promised_brings(self) -> Decimal:
        """What the pieces spoken for bring that are there."""
        return sum((good.promised * good.brings_then for good in self.goods), ZERO)

    @property
    def sure(self) -> Decimal:
        """What comes in whatever else sells."""
        return self.reached + self.held_brings + self.promised_brings + self.other_left

    @property
    def still_needed(self) -> Decimal:
        """What free pieces have to bring for the target; below 0 where it is reached without them."""
        return self.target - self.sure

    @property
    def if_all_sell(self) -> Decimal:
        """The net if everything sells that is there, and that can be expected to come from the studio."""
        all_left = sum((good.brings_then * good.to_sell for good in self.goods), ZERO)
        return self.sure - self.promised_brings + all_left

    @property
    def at_best(self) -> Decimal:
        """The most that the net can be: all comes from the studio, and all sells but what brings a loss."""
        counts = ((good, good.left + sum(count for count, _comes in good.on_the_way)) for good in self.goods)
        return self.sure + sum((max(ZERO, good.brings_then) * count for good, count in counts), ZERO)

    @property
    def to_sell(self) -> Decimal:
        """Pieces that are there, or can be expected to be, and may still sell."""
        return sum((good.to_sell for good in self.goods), ZERO)
