"""What may still come from the studio: pieces on the way, and those that there is time to throw."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from salebook.base.rounding import ceil
from salebook.event.entries import Entries
from salebook.making.days import SHARES_TRIED, days_for, largest_share
from salebook.making.loading import loadings_for
from salebook.making.losses import Run, reaching_biscuit, reaching_glaze
from salebook.making.studio_tally import StudioState, shares_ahead, studio_states
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class StudioAhead:
    """The studio of wares that were tallied there and not counted out of the kiln yet."""

    tallied: Mapping[str, StudioState] = field(default_factory=dict)
    """By ware code."""
    is_working: bool = False
    """Whether pieces may still come from it: before the sale."""
    to_throw: Mapping[str, int] = field(default_factory=dict)
    """Pieces still to throw for which there is time, by ware code."""
    throw_by: date | None = None
    """The day on which throwing all that is wanted must begin, or had to; None where nothing is."""
    untouched: Mapping[str, int] = field(default_factory=dict)
    """Pieces to start of wares that nobody has counted anywhere yet, by code."""

    @property
    def wanted(self) -> int:
        """Pieces still to throw, whether there is time or not."""
        return sum(state.to_throw for state in self.tallied.values())

    @property
    def all_to_throw(self) -> Mapping[str, int]:
        """All pieces that the plan has still to throw, as far as one knows and there is time."""
        return {**self.untouched, **self.to_throw}

    def good_share(self, run: Run) -> Decimal:
        """Return the share of a ware still to throw that comes through, by the losses seen so far."""
        state = self.tallied.get(run.ware.code)
        return Decimal(repr(state.good_share)) if state and state.seen_share else run.good_share

    def on_the_way(self, code: str) -> tuple[tuple[int, Decimal], ...]:
        """Return pieces of a ware that may still come, and the chance of each, by how far they are."""
        state = self.tallied.get(code)
        if state is None or not self.is_working:
            return ()
        shares = (*shares_ahead(state.run), state.good_share)
        counts = (state.wet, state.dry, state.biscuit, self.to_throw.get(code, 0))
        return tuple(
            (count, Decimal(repr(share))) for count, share in zip(counts, shares, strict=True) if count
        )


def studio_ahead(reckoning: Reckoning, entries: Entries, today: date) -> StudioAhead:
    """Return what may still come from the studio, if throwing goes on today."""
    states = studio_states(reckoning.studio.runs, entries.studio, float(reckoning.plan.sale.confidence))
    tallied = {
        state.run.ware.code: state
        for state in states
        if state.count.thrown_so_far and state.run.ware.code not in entries.made
    }
    if today >= reckoning.plan.sale.days[0]:
        return StudioAhead(tallied=tallied)
    wanted = {code: state.to_throw for code, state in tallied.items() if state.to_throw}
    counted = tallied.keys() | entries.made.keys()
    runs = (run for run in reckoning.studio.runs if run.ware.code not in counted)
    return StudioAhead(
        tallied=tallied,
        is_working=True,
        untouched={run.ware.code: run.started for run in runs},
        to_throw=_most_in_time(reckoning, tallied, wanted, today),
        throw_by=throw_by(reckoning, tallied, wanted),
    )


def throw_by(
    reckoning: Reckoning, tallied: Mapping[str, StudioState], more: Mapping[str, int]
) -> date | None:
    """Return the last day on which throwing so many more of each ware can begin; None for none at all.

    They go into the kiln with what is on the way there.
    """
    if not any(more.values()):
        return None
    plan, batch = reckoning.plan, reckoning.plan.making.batch
    runs = tuple(
        _run_of_more(run, more.get(run.ware.code, 0), tallied.get(run.ware.code), batch)
        for run in reckoning.studio.runs
    )
    studio = replace(reckoning.studio, runs=runs, loadings=loadings_for(plan, runs))
    return days_for(plan, studio).begin_by


def _most_in_time(
    reckoning: Reckoning, tallied: Mapping[str, StudioState], more: Mapping[str, int], today: date
) -> Mapping[str, int]:
    """Return how many of these can still be thrown from today on: as large a share of each ware as fits."""

    def is_in_time(share: int) -> bool:
        by = throw_by(reckoning, tallied, _shares_of(more, share))
        return by is None or today <= by

    return more if is_in_time(SHARES_TRIED) else _shares_of(more, largest_share(is_in_time))


def _shares_of(more: Mapping[str, int], share: int) -> Mapping[str, int]:
    parts = {code: count * share // SHARES_TRIED for code, count in more.items()}
    return {code: count for code, count in parts.items() if count}


def _run_of_more(run: Run, more: int, state: StudioState | None, batch: int) -> Run:
    """Return a ware's way through the studio from here on: so many thrown, and what is there goes on."""
    losses = run.ware.losses
    wet, dry, biscuit = (state.wet, state.dry, state.biscuit) if state else (0, 0, 0)
    to_biscuit = wet * (1 - losses.drying) + dry
    return replace(
        run,
        started=more,
        to_biscuit=ceil(more * reaching_biscuit(run.ware) + to_biscuit),
        to_glaze=ceil(more * reaching_glaze(run.ware) + to_biscuit * (1 - losses.biscuit) + biscuit),
        batches=ceil(Decimal(more) / batch),
    )
