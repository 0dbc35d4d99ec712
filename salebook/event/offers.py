"""How many pieces there are to sell: those out of the kiln, less what broke, is missing or was given away."""

from collections.abc import Mapping
from typing import Final, get_args

from salebook.event.event import Event
from salebook.event.pieces import PieceTotals, Status
from salebook.making.losses import Offer, Run
from salebook.reckoning import Reckoning, with_counts

LOST: Final[frozenset[Status]] = frozenset({"broken", "missing", "given away"})
THERE: Final = frozenset(get_args(Status)) - LOST - {"not made"}
"""What is left over was for sale to the last."""


def as_it_stands(reckoning: Reckoning, event: Event) -> Reckoning:
    """Return a reckoning whose price advice goes by the pieces that there are, costs as planned."""
    return with_counts(reckoning, offers_of(reckoning, event))


def offers_of(reckoning: Reckoning, event: Event) -> Mapping[str, Offer]:
    """Return how many of the maker's own pieces there are to sell, by ware code; as planned till counted."""
    totals = {totals.code: totals for totals in event.state.piece_totals}
    return {
        run.ware.code: (_of_numbered if run.ware.numbered else _of_many)(run, totals[run.ware.code], event)
        for run in reckoning.studio.runs
    }


def found_of(run: Run, totals: PieceTotals, event: Event) -> Offer:
    """Return how many pieces of a ware are there, if it was counted, else how many are lost, at each price.

    Seconds without a price of their own cost as much as firsts.
    """
    sought = THERE if totals.is_counted else LOST
    grades = [
        piece.grade
        for piece in event.state.pieces
        if piece.piece.code == run.ware.code and piece.status in sought
    ]
    seconds = 0 if run.ware.seconds_price is None else grades.count("second")
    return Offer(firsts=len(grades) - seconds, seconds=seconds)


def _of_numbered(run: Run, totals: PieceTotals, event: Event) -> Offer:
    found = found_of(run, totals, event)
    if totals.is_counted:
        return found
    return Offer(
        firsts=max(0, run.ware.wanted - found.firsts), seconds=max(0, run.seconds_for_sale - found.seconds)
    )


def _of_many(run: Run, totals: PieceTotals, event: Event) -> Offer:
    """Return how many there are of a ware without numbers, which has no grades either."""
    counted = event.state.kiln_counts.get(
        run.ware.code, Offer(firsts=run.ware.wanted, seconds=run.seconds_for_sale)
    )
    seconds = min(counted.seconds, max(0, totals.out - counted.firsts))
    return Offer(firsts=totals.out - seconds, seconds=seconds)
