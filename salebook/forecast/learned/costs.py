"""What things really cost, as the price of one bag, one pack or the whole."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal

from salebook.event.costs import CostMet
from salebook.event.event import Event
from salebook.plan.fields import LONGEST_TEXT
from salebook.plan.model import Clay, Material, Overhead, Plan
from salebook.plan.money import ZERO, rounded
from salebook.pricing.costing import Kind

Priced = Clay | Material | Overhead

PRICE_KEY: Final[dict[Kind, Literal["pack_price", "amount"]]] = {
    "clay": "pack_price",
    "material": "pack_price",
    "overhead": "amount",
}
"""The key that holds the price, by kind of cost; a firing's cost is energy times its price, and has none."""


@dataclass(frozen=True, kw_only=True)
class CostSeen:
    """What one cost came to, and the price that follows from it."""

    met: CostMet
    planned: Decimal
    before: Decimal
    after: Decimal

    @property
    def more_were_bought(self) -> bool:
        """Whether the price stands, and only the number bought was another."""
        return self.after == self.before and self.met.amount != self.planned


def costs_seen(plan: Plan, event: Event) -> tuple[CostSeen, ...]:
    """Return the costs of which it was filled in what they came to and that have a price of their own."""
    return tuple(_seen(plan, event))


def _seen(plan: Plan, event: Event) -> Iterator[CostSeen]:
    for met in event.share_out.costs:
        source = source_of(met, plan)
        if met.is_actual and met.is_planned and source is not None:
            before = source.amount if isinstance(source, Overhead) else source.pack_price
            planned = met.line.per_piece_sold * met.sold if met.line.grows else met.line.total
            yield CostSeen(
                met=met,
                planned=rounded(planned, plan.sale.digits),
                before=before,
                after=price_after(before, planned, met.amount, plan.sale.digits, in_packs=_in_packs(source)),
            )


def unplanned_costs(event: Event) -> tuple[Overhead, ...]:
    """Return what was spent that nobody planned, as costs that the next plan expects; no money back."""
    return tuple(
        Overhead(name=met.line.name[:LONGEST_TEXT], amount=met.amount, met_by=met.line.met_by)
        for met in event.share_out.costs
        if not met.is_planned and met.amount > 0
    )


def source_of(met: CostMet, plan: Plan) -> Priced | None:
    """Return what a cost is a price of; None where it has no price of its own, as a firing."""
    sources: dict[Kind, tuple[Priced, ...]] = {
        "clay": plan.clays,
        "material": plan.materials,
        "overhead": plan.overheads,
    }
    return next((one for one in sources.get(met.line.kind, ()) if one.name == met.line.name), None)


def _in_packs(source: Priced) -> bool:
    return isinstance(source, Clay | Material) and source.whole_packs


def price_after(
    before: Decimal, planned: Decimal, actual: Decimal, digits: int, *, in_packs: bool
) -> Decimal:
    """Return the price that makes a cost what it was; as before where so many whole packs cost just that."""
    if not planned or (in_packs and before and actual % before == 0):
        return before
    return rounded(before * max(ZERO, actual) / planned, digits)
