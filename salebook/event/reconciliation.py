"""The accounts as the workbook's own sheets can count them."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import combinations, islice
from typing import Final

from salebook.event.entries import LineIdentity
from salebook.event.event import Event, reckon_event
from salebook.event.question import Question
from salebook.event.sheet_sums import SheetSums, differences
from salebook.event.state import PostedLine
from salebook.plan.money import ZERO
from salebook.reckoning import Reckoning

MOST_LINES: Final = 12
MOST_TRIES: Final = 8


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
