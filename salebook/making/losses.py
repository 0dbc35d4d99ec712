"""How many pieces to start, so that enough come through."""

import math
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from salebook.base.rounding import TOLERANCE, ceil, floor
from salebook.base.stages import chances_by_stage
from salebook.plan.model import Plan, Ware
from salebook.plan.ware_rules import fewest_by_counts

NEGLIGIBLE = 1e-22
"""Terms smaller than this share of the largest one change no sum."""


@dataclass(frozen=True, kw_only=True)
class Offer:
    """How many pieces of a ware there are to sell: at the price of a first, and at that of a second."""

    firsts: int
    seconds: int

    @property
    def pieces(self) -> int:
        """All of them."""
        return self.firsts + self.seconds


@dataclass(frozen=True, kw_only=True)
class Run:
    """One ware's way through the studio: how many pieces stand at each stage."""

    ware: Ware
    surviving_share: Decimal
    good_share: Decimal
    started: int
    to_biscuit: int
    to_glaze: int
    seconds: int
    for_sale: int
    batches: int
    chance_of_enough: float
    """The chance that at least the wanted come through, pieces failing one by one."""
    counted: Offer | None = None
    """What there is to sell as counted; None: nobody counted."""

    @property
    def seconds_for_sale(self) -> int:
        """Seconds planned for sale: those expected, where the plan has a price for them."""
        return 0 if self.ware.seconds_price is None else self.seconds

    @property
    def offer(self) -> Offer:
        """What there is to sell: as counted, else as planned."""
        return self.counted or Offer(firsts=self.ware.wanted, seconds=self.seconds_for_sale)


MOST_DOUBT = 0.1
"""With a little more no number to throw would be as sure as 0.999 by the normal curve."""


def doubt_of(ware: Ware) -> float:
    """Return how much the good share itself may vary: its variance by the square of its mean.

    That is 0 where no losses were counted: the plan's are taken as they are.
    """
    if not ware.has_counts:
        return 0.0
    return min(MOST_DOUBT, math.prod(1 + belief.doubt for belief in ware.beliefs.values()) - 1)


@dataclass(frozen=True, kw_only=True)
class OneLoss:
    """The chance of enough when one more piece than planned for is surely lost, or one surely saved."""

    more: float
    fewer: float


def reaching_biscuit(ware: Ware) -> Decimal:
    """Return the share of the started pieces that reach the biscuit firing."""
    return (1 - ware.losses.throwing) * (1 - ware.losses.drying)


def reaching_glaze(ware: Ware) -> Decimal:
    """Return the share of the started pieces that reach the glaze firing."""
    return reaching_biscuit(ware) * (1 - ware.losses.biscuit)


def surviving_share(ware: Ware) -> Decimal:
    """Return the share of the started pieces that come whole out of the last firing (rolled yield)."""
    return reaching_glaze(ware) * (1 - ware.losses.glaze)


def good_share(ware: Ware) -> Decimal:
    """Return the share of the started pieces that come out as firsts."""
    return surviving_share(ware) * (1 - ware.seconds)


def chance_of_enough(started: int, wanted: int, good_share: float) -> float:
    """Return P(Binomial(started, good_share) >= wanted), right to about 1e-13.

    The terms are taken relative to the likeliest one, by their ratios, and divided by their own sum: the
    logarithms of factorials would lose four digits for runs of thousands.
    """
    if good_share >= 1:
        return float(started >= wanted)
    if started < wanted:
        return 0.0
    likeliest = min(started, math.floor((started + 1) * good_share))
    above = list(binomial_terms(likeliest, started, good_share / (1 - good_share), NEGLIGIBLE))
    below = list(binomial_terms(started - likeliest, started, (1 - good_share) / good_share, NEGLIGIBLE))
    whole = math.fsum(above) + 1 + math.fsum(below)
    if wanted > likeliest:
        return math.fsum(above[wanted - likeliest - 1 :]) / whole
    return 1 - math.fsum(below[likeliest - wanted :]) / whole


def binomial_terms(number: int, count: int, odds: float, negligible: float) -> Iterator[float]:
    """Yield the chances of one more than a number, of two more …, as shares of the chance of that number."""
    term = 1.0
    for one in range(number, count):
        term *= (count - one) / (one + 1) * odds
        if term < negligible:
            return
        yield term


@lru_cache(maxsize=4096)
def started_for(wanted: int, good_share: float, confidence: float) -> int:
    """Return the smallest number to start whose chance of `wanted` good pieces is at least `confidence`.

    Pieces are taken to fail one by one. One bad firing can spoil many at once, so this is a lower bound.
    Raises ValueError where no number can do: a good share that is not above 0 or a confidence not below 1.
    """
    if good_share <= 0 or not 0 < confidence < 1:
        raise ValueError("the good share must be above 0 and the confidence between 0 and 1")
    enough = confidence - float(TOLERANCE)

    def is_enough(started: int) -> bool:
        return chance_of_enough(started, wanted, good_share) >= enough

    reach = math.ceil(wanted / good_share)
    while not is_enough(reach):
        reach *= 2
    return wanted + bisect_left(range(wanted, reach), True, key=is_enough)


def started_of(ware: Ware, confidence: float) -> int:
    """Return the smallest number of a ware to start whose chance of enough is at least `confidence`."""
    if ware.has_counts:
        return fewest_by_counts(ware, confidence)
    return started_for(ware.wanted, float(good_share(ware)), confidence)


def chance_of(ware: Ware, started: int, wanted: int) -> float:
    """Return the chance that at least `wanted` of so many started come through as firsts.

    Where losses were counted it weighs how sure they are (a beta-binomial for each stage).
    """
    if ware.has_counts:
        return chances_by_stage(tuple(ware.beliefs.values()), wanted, started)[0][started]
    return chance_of_enough(started, wanted, float(good_share(ware)))


def run_of(ware: Ware, plan: Plan) -> Run:
    """Return one ware's way through the studio."""
    good, surviving = good_share(ware), surviving_share(ware)
    started = started_of(ware, float(plan.sale.confidence))
    seconds = floor(started * surviving * ware.seconds)
    return Run(
        ware=ware,
        surviving_share=surviving,
        good_share=good,
        started=started,
        to_biscuit=ceil(started * reaching_biscuit(ware)),
        to_glaze=ceil(started * reaching_glaze(ware)),
        seconds=seconds,
        for_sale=ware.wanted + (0 if ware.seconds_price is None else seconds),
        batches=ceil(Decimal(started) / plan.making.batch),
        chance_of_enough=chance_of(ware, started, ware.wanted),
    )


def one_loss(run: Run) -> OneLoss:
    """Return what one piece surely lost, or surely good, among those started does to the chance of enough."""
    others, wanted = run.started - 1, run.ware.wanted
    return OneLoss(more=chance_of(run.ware, others, wanted), fewer=chance_of(run.ware, others, wanted - 1))
