"""The studio tally: what has come through so far, and what that means for what is still to throw."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from statistics import NormalDist

from salebook.base.rounding import ceil
from salebook.making.losses import Run, doubt_of

HALF = 0.5
"""Half a piece: the step from whole numbers to the normal curve."""

LEAST_SEEN = 10
"""Pieces whose end is known, before losses seen say more than the plan's (our choice)."""

DIGITS = 9
"""Decimal places that decide, so that float noise does not."""


@dataclass(frozen=True, kw_only=True)
class StudioCount:
    """What was counted of one ware, all in all up to now.

    Each count takes in everything that has ever come so far; `broken` is whatever was lost after throwing,
    at any stage. None: not counted.
    """

    thrown: int | None = None
    dry: int | None = None
    biscuit: int | None = None
    good: int | None = None
    seconds: int | None = None
    broken: int | None = None

    @property
    def done(self) -> int:
        """Out of the last firing, firsts and seconds."""
        return (self.good or 0) + (self.seconds or 0)

    @property
    def ends_known(self) -> int:
        """Pieces of which it is known how they ended."""
        return self.done + (self.broken or 0)

    @property
    def through_biscuit(self) -> int:
        """Out of the biscuit firing so far; a count that was left out is at least the next one."""
        return max(self.biscuit or 0, self.done)

    @property
    def through_drying(self) -> int:
        """Bone dry so far."""
        return max(self.dry or 0, self.through_biscuit)

    @property
    def thrown_so_far(self) -> int:
        """Thrown so far."""
        return max(self.thrown or 0, self.through_drying)


@dataclass(frozen=True, kw_only=True)
class StudioState:
    """Where one ware stands: whole pieces at each stage, likely firsts, how many more to throw."""

    run: Run
    count: StudioCount
    wet: int
    """Thrown and not bone dry yet."""
    dry: int
    """Bone dry and not fired yet."""
    biscuit: int
    """Out of the biscuit firing and not through the glaze firing yet."""
    likely: float
    """Firsts to expect in the end: those there are, and those on the way at the losses still ahead."""
    spread: float
    """The variance of the firsts to expect."""
    doubt: float
    """How much the good share itself may vary, where losses were counted on earlier sales."""
    seen_share: float | None
    """Of those still to throw, the firsts to expect by the losses seen; None: too few are seen."""
    to_throw: int
    """How many more to throw so that enough is as sure as the plan wants it, by the losses seen."""
    to_throw_as_planned: int
    """The same by the plan's losses."""

    @property
    def good_share(self) -> float:
        """The share of those still to throw that comes through as firsts: as seen, else as planned."""
        return float(self.run.good_share) if self.seen_share is None else self.seen_share

    @property
    def differs(self) -> bool:
        """Whether the losses seen change how many more to throw."""
        return self.to_throw != self.to_throw_as_planned

    @property
    def coming(self) -> float:
        """Firsts to expect of the pieces on the way."""
        return self.likely - (self.count.good or 0)

    @property
    def on_the_way(self) -> int:
        """Whole pieces that are not through the last firing."""
        return self.wet + self.dry + self.biscuit

    @property
    def short(self) -> float:
        """Firsts that are expected to be wanting, less half a piece."""
        return self.run.ware.wanted - self.likely - HALF


def studio_states(
    runs: tuple[Run, ...], counts: Mapping[str, StudioCount], confidence: float
) -> tuple[StudioState, ...]:
    """Return where each ware stands, in plan order; `counts` by ware code."""
    return tuple(studio_state_of(run, counts.get(run.ware.code, StudioCount()), confidence) for run in runs)


def studio_state_of(run: Run, count: StudioCount, confidence: float) -> StudioState:
    """Return where one ware stands.

    Real losses take the place of expected ones: what has come through a stage counts as it is, what has not
    meets the plan's losses from there on; what is still to throw is lost as it was so far. A count that was
    left out is at least the next one, and pieces that broke are taken from those that are least far on.
    """
    done = count.done
    whole = max(0, count.thrown_so_far - done - (count.broken or 0))
    biscuit = min(count.through_biscuit - done, whole)
    dry = min(count.through_drying - done, whole) - biscuit
    wet = whole - biscuit - dry
    waiting = tuple(zip((wet, dry, biscuit), shares_ahead(run), strict=True))
    likely = (count.good or 0) + sum(pieces * share for pieces, share in waiting)
    doubt, coming = doubt_of(run.ware), likely - (count.good or 0)
    spread = sum(pieces * share * (1 - share) for pieces, share in waiting) + doubt * coming**2
    seen = seen_share(run, count, likely)
    missing, planned = run.ware.wanted - likely, float(run.good_share)
    shares = (planned if seen is None else seen, planned)
    more = [
        still_to_throw(missing, spread, share, confidence, doubt=doubt, coming=coming) for share in shares
    ]
    to_throw, as_planned = more if count.thrown_so_far else (run.started, run.started)
    return StudioState(
        run=run,
        count=count,
        wet=wet,
        dry=dry,
        biscuit=biscuit,
        likely=likely,
        spread=spread,
        doubt=doubt,
        seen_share=seen,
        to_throw=to_throw,
        to_throw_as_planned=as_planned,
    )


def seen_share(run: Run, count: StudioCount, likely: float) -> float | None:
    """Return the share of what is still to throw that comes through as firsts, by the losses seen so far.

    That is the likely firsts among all thrown, less what the plan loses in throwing, which nobody counts.
    None while few ends are known, and where nothing came through: one bad firing says little of the next.
    """
    if count.ends_known < LEAST_SEEN or likely <= 0:
        return None
    return likely / max(count.thrown_so_far, count.ends_known) * float(1 - run.ware.losses.throwing)


def shares_ahead(run: Run) -> tuple[float, float, float]:
    """Return the share that ends as firsts of pieces thrown, bone dry, and out of the biscuit firing."""
    losses = run.ware.losses
    glaze = float((1 - losses.glaze) * (1 - run.ware.seconds))
    biscuit = float(1 - losses.biscuit) * glaze
    return float(1 - losses.drying) * biscuit, biscuit, glaze


def still_to_throw(
    missing: float,
    spread: float,
    good_share: float,
    confidence: float,
    *,
    doubt: float = 0.0,
    coming: float = 0.0,
) -> int:
    """Return how many more pieces to throw, by the normal curve, which is within a piece or two of exact.

    `missing` firsts are expected to be wanting, `spread` is the variance of those on the way. Enough is as
    sure as `confidence` where the mean lies so many standard deviations above half a piece less than what
    is wanted: an equation that turns quadratic when it is squared. With `doubt` about the good share itself
    all that is to come, also the `coming` on the way, turns out more or less together.
    """
    short, curve = missing - HALF, curve_at(confidence)
    if round(-short - curve * math.sqrt(spread), DIGITS) >= 0:
        return 0
    # p m - short = z sqrt(spread + m p q), squared: p² m² - (2 short p + z² p q) m + short² - z² spread = 0
    # With doubt d the spread, in which d coming² is, grows by d ((coming + p m)² - coming²).
    square = good_share**2 * (1 - curve**2 * doubt)
    middle = middle_term(short, good_share, curve, doubt * coming)
    last = short**2 - curve**2 * spread
    root = math.sqrt(max(0.0, middle**2 - 4 * square * last))
    return ceil(round((middle + root) / (2 * square), DIGITS))


def curve_at(confidence: float) -> float:
    """Return how many standard deviations below the mean the normal curve leaves so much above it."""
    return NormalDist().inv_cdf(confidence)


def middle_term(short: float, good_share: float, curve: float, doubted: float = 0.0) -> float:
    """Return what the number to throw is multiplied by in the quadratic equation of `still_to_throw`."""
    return 2 * short * good_share + curve**2 * good_share * (1 - good_share + 2 * doubted)
