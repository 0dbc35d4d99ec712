"""The accounts against what the workbook's own sheets show, as far as those can count them."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from itertools import combinations, islice
from typing import Final

from salebook.base.words import N_, _
from salebook.event.entries import LineIdentity
from salebook.event.event import Event, reckon_event
from salebook.event.posted_line import PostedLine
from salebook.event.question import Question
from salebook.event.share_out import ShareOut
from salebook.plan.model import Sale
from salebook.plan.money import ZERO
from salebook.reckoning import Reckoning

MOST_LINES: Final = 12
MOST_TRIES: Final = 8
SUMS: Final = {
    "takings_total": (N_("Takings"), "takings"),
    "named_total": (N_("Given for a group by name"), "named"),
    "fees_total": (N_("Fees of the ways to pay"), "fees"),
    "costs_taken_off": (N_("Costs that the takings meet"), "costs_met_by_sale"),
    "to_givers_total": (N_("Givers' parts"), "to_givers"),
    "direct_total": (N_("Paid straight to groups"), "direct"),
    "pool": (N_("Money to share"), "pool"),
    "raised": (N_("Raised"), "reached"),
}
"""Sums that are compared, by their names in the workbook: what each is called, which of ShareOut it is."""

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
    half_unit = Decimal(5).scaleb(-sale.digits - 1)
    for label, here, there in _pairs(share_out, stored):
        if abs(there) < BEYOND_COUNTING and abs(here - there) >= half_unit:
            says = _("{what}: the sheet shows {there}, the lines add up to {here}").format(
                what=label, there=sale.format_money(there), here=sale.format_money(here)
            )
            yield Question(sheet=_("Share-out"), row=0, says=says)


def _pairs(share_out: ShareOut, stored: SheetSums) -> Iterator[tuple[str, Decimal, Decimal]]:
    for name, (text, attribute) in SUMS.items():
        if name in stored.sums:
            yield _(text), getattr(share_out, attribute), stored.sums[name]
    for group in share_out.groups:
        if group.group.name in stored.shares:
            yield group.group.name, group.share, stored.shares[group.group.name]


def reconcile(
    reckoning: Reckoning, whole: Event, stored: SheetSums, uncounted: Collection[LineIdentity]
) -> tuple[Question, ...]:
    """Return a question for each sum that the sheets show otherwise than the lines that they can count.

    Of the lines that they cannot count, such as an amount typed as text, they show some in full and some not
    at all. Left out are those that make up for the difference in takings; where none do, all are counted.
    """
    sale = reckoning.plan.sale
    found = tuple(differences(whole.share_out, stored, sale))
    for left_out in islice(_left_out(whole, stored, uncounted), MOST_TRIES if found else 0):
        lines = tuple(line for line in whole.entries.lines if line.identity not in left_out)
        counted = reckon_event(reckoning, replace(whole.entries, lines=lines))
        found = min(found, tuple(differences(counted.share_out, stored, sale)), key=len)
        if not found:
            break
    return found


def _left_out(
    whole: Event, stored: SheetSums, uncounted: Collection[LineIdentity]
) -> Iterator[Collection[LineIdentity]]:
    """Yield sets of lines whose money makes up for the difference in takings, few lines first."""
    shown = stored.sums.get("takings_total")
    lines = [line for line in whole.state.lines if line.line.identity in uncounted]
    if shown is None:
        return
    gap = whole.share_out.takings - shown
    for count in range(1, min(len(lines), MOST_LINES) + 1):
        for some in combinations(lines[:MOST_LINES], count):
            if abs(_money(some) - gap) < Decimal("0.0005"):
                yield {line.line.identity for line in some}


def _money(lines: Sequence[PostedLine]) -> Decimal:
    return sum((line.arrived for line in lines if not line.straight), ZERO)
