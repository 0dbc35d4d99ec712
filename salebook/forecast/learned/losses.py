"""What the studio tally said of each stage: how many went in, how many were lost, what they count as."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import accumulate, pairwise, takewhile
from typing import Final, Literal

from salebook.event.event import Event
from salebook.making.loading import Loading
from salebook.making.studio_tally import StudioCount, studio_state_of
from salebook.plan.fields import MOST_SEEN
from salebook.plan.model import Seen, SeenLoss, Stage, Ware
from salebook.reckoning import Reckoning

LossStage = Literal["drying", "biscuit", "glaze", "seconds"]
"""Where pieces are lost that the tally counts; what is lost in throwing nobody counts."""

ALIKE: Final = Decimal("0.1")
"""How far pieces of one load share their fate: the correlation between two of them (judgement)."""
DIGITS: Final = 3


@dataclass(frozen=True, kw_only=True)
class LossSeen:
    """What one sale said of one stage of a ware."""

    ware: Ware
    stage: LossStage
    lost: int
    entered: int
    counts_as: Decimal
    """As many pieces, each by itself, say as much as those that went in."""

    @property
    def as_key(self) -> SeenLoss:
        """What the plan keeps of it."""
        counts_as = min(self.counts_as, Decimal(MOST_SEEN))
        lost = round(self.lost * counts_as / self.entered, DIGITS)
        return SeenLoss(lost=lost, entered=round(counts_as, DIGITS))

    @property
    def is_discounted(self) -> bool:
        """Whether the pieces count for fewer than they are."""
        return round(self.counts_as, DIGITS) < self.entered

    @property
    def before(self) -> Decimal:
        """The share that was expected."""
        return self.ware.beliefs[self.stage].mean

    @property
    def after(self) -> Decimal:
        """The share to be expected now."""
        seen = self.as_key
        return self.ware.beliefs[self.stage].updated(seen.lost, seen.entered).mean


def worth_of_firing(pieces: int, loads: int) -> Decimal:
    """Return as how many single pieces those of so many loads count: n ÷ (1 + (m - 1) ρ), m in each load.

    That is the design effect of clusters of equal size (Kish, Survey Sampling, 1965, section 5.4, from
    memory): one firing spoils many at once, or none.
    """
    in_each = max(Decimal(1), Decimal(pieces) / max(1, loads))
    return pieces / (1 + (in_each - 1) * ALIKE)


def losses_seen(reckoning: Reckoning, event: Event) -> tuple[LossSeen, ...]:
    """Return what the studio tally said of each ware and stage of which both ends were counted."""
    loads = {loading.stage: pieces_in_loads(loading) for loading in reckoning.studio.loadings}
    return tuple(
        seen
        for run in reckoning.studio.runs
        if (count := event.entries.studio.get(run.ware.code))
        for seen in _of_ware(run.ware, _ends(reckoning, run.ware.code, count), count, loads)
    )


def pieces_in_loads(loading: Loading) -> Mapping[str, tuple[int, ...]]:
    """Return how many pieces of each ware lie in each load of a stage that has any, by code."""
    in_load = [
        {code: sum(layer.pieces for layer in load.layers if layer.code == code) for code in loading.per_shelf}
        for load in loading.loads
    ]
    return {code: tuple(counts[code] for counts in in_load if counts[code]) for code in loading.per_shelf}


def loads_for(pieces: int, in_loads: Sequence[int]) -> int:
    """Return how many loads, filled as planned one after the other, so many pieces take; 1 at least."""
    filled = takewhile(lambda so_far: so_far < pieces, accumulate(in_loads))
    return max(1, min(len(in_loads), sum(1 for _load in filled) + 1))


def seen_after(ware: Ware, seen: tuple[LossSeen, ...]) -> Seen:
    """Return what a ware's plan keeps: what was counted on earlier sales and on this one."""
    counts = {each.stage: each.as_key for each in seen if each.ware.code == ware.code}
    return ware.seen.model_copy(
        update={stage: _added(getattr(ware.seen, stage), count) for stage, count in counts.items()}
    )


def _added(before: SeenLoss | None, now: SeenLoss) -> SeenLoss:
    if before is None:
        return now
    lost, entered = before.lost + now.lost, before.entered + now.entered
    kept = min(Decimal(1), MOST_SEEN / entered) if entered else Decimal(1)
    return SeenLoss(lost=round(lost * kept, DIGITS), entered=round(entered * kept, DIGITS))


Ends = Mapping[str, tuple[int, int]]
"""How many were lost of how many that went into a stage."""


def _ends(reckoning: Reckoning, code: str, count: StudioCount) -> Ends:
    """Return what was lost at each stage; what is still on the way has not gone into its next one.

    Where nobody counted what broke, all is lost that did not come through: the sale is over.
    """
    run = next(run for run in reckoning.studio.runs if run.ware.code == code)
    state = studio_state_of(run, count, float(reckoning.plan.sale.confidence))
    is_waiting = count.broken is not None
    waiting = {"drying": state.wet, "biscuit": state.dry, "glaze": state.biscuit}
    through = (count.thrown_so_far, count.through_drying, count.through_biscuit, count.done)
    return {
        stage: (before - still * is_waiting - after, before - still * is_waiting)
        for (stage, still), (before, after) in zip(waiting.items(), pairwise(through), strict=True)
    }


def _of_ware(
    ware: Ware, ends: Ends, count: StudioCount, loads: Mapping[Stage, Mapping[str, Sequence[int]]]
) -> Iterator[LossSeen]:
    counted = {
        "drying": None not in {count.thrown, count.dry},
        "biscuit": None not in {count.dry, count.biscuit},
        "glaze": count.biscuit is not None and (count.good is not None or count.seconds is not None),
    }
    firings: tuple[Stage, ...] = ("biscuit", "glaze")
    stages: tuple[LossStage, ...] = ("drying", *firings)
    for stage in stages:
        lost, entered = ends[stage]
        if not counted[stage] or entered <= 0:
            continue
        in_loads = loads.get(stage, {}).get(ware.code, ()) if stage in firings else [1] * entered
        counts_as = worth_of_firing(entered, loads_for(entered, in_loads))
        yield LossSeen(ware=ware, stage=stage, lost=lost, entered=entered, counts_as=counts_as)
    if count.seconds is not None and count.done:
        done = count.done
        yield LossSeen(ware=ware, stage="seconds", lost=count.seconds, entered=done, counts_as=Decimal(done))
