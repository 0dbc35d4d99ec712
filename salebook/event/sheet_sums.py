"""The accounts against what the workbook's own sheets show."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from salebook.base.words import _
from salebook.event.question import Question
from salebook.event.share_out import ShareOut
from salebook.plan.model import Sale

BEYOND_COUNTING = Decimal(10) ** 15
"""A sheet's sum so large comes from an amount that no sale takes, which is asked about where it stands."""


@dataclass(frozen=True, kw_only=True)
class SheetSums:
    """What the sheet Share-out shows; a sum that was never calculated is left out."""

    sums: Mapping[str, Decimal] = field(default_factory=dict)
    """By the name of the sum in the workbook, such as "pool"."""
    shares: Mapping[str, Decimal] = field(default_factory=dict)
    """Each group's share of the money to share, by its name."""


def differences(share_out: ShareOut, stored: SheetSums, sale: Sale) -> Iterator[Question]:
    """Yield a question for each sum that the workbook shows otherwise, half a minor unit forgiven."""
    # A sheet that was never calculated shows nothing to compare.
    half_unit = Decimal(5).scaleb(-sale.digits - 1)
    for label, here, there in _pairs(share_out, stored):
        if abs(there) >= BEYOND_COUNTING:
            continue
        if abs(here - there) >= half_unit:
            says = _("{what}: the sheet shows {there}, the lines add up to {here}").format(
                what=label, there=sale.format_money(there), here=sale.format_money(here)
            )
            yield Question(sheet=_("Share-out"), row=0, says=says)


def _pairs(share_out: ShareOut, stored: SheetSums) -> Iterator[tuple[str, Decimal, Decimal]]:
    sums = {
        "takings_total": (_("Takings"), share_out.takings),
        "named_total": (_("Given for a group by name"), share_out.named),
        "fees_total": (_("Fees of the ways to pay"), share_out.fees),
        "costs_taken_off": (_("Costs that the takings meet"), share_out.costs_met_by_sale),
        "to_givers_total": (_("Givers' parts"), share_out.to_givers),
        "direct_total": (_("Paid straight to groups"), share_out.direct),
        "pool": (_("Money to share"), share_out.pool),
        "raised": (_("Raised"), share_out.reached),
    }
    for name, (label, here) in sums.items():
        if name in stored.sums:
            yield label, here, stored.sums[name]
    for group in share_out.groups:
        if group.group.name in stored.shares:
            yield group.group.name, group.share, stored.shares[group.group.name]
