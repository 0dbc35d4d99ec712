"""Pieces that go through one stage after another, of which one only believes what share each loses."""

import math
from bisect import bisect_left
from functools import lru_cache
from typing import TYPE_CHECKING, Final

from salebook.base.beta import Beta
from salebook.base.rounding import TOLERANCE

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

USUALLY_ENOUGH: Final = 1.15
"""So many times the number that does on average are tried first; the work grows with the square."""

Losses = tuple[Beta, ...]
"""What is believed of the share that each stage loses, in the order in which a piece meets them."""


@lru_cache(maxsize=256)
def chances_by_stage(losses: Losses, wanted: int, most: int) -> tuple[tuple[float, ...], ...]:
    """Return for each stage the chances that `wanted` come through it and all after, of 0, 1, 2 … `most`.

    The survivors of a stage are beta-binomial, the stages independent. After the last one enough is there
    or not; each stage before it weighs the chances of the next by how many may survive to meet it.
    """
    import numpy as np  # noqa: PLC0415 - only plans with counts need it, and it takes a tenth of a second

    chances = [(np.arange(most + 1) >= wanted).astype(np.float64)]
    for loss in reversed(losses):
        chances.insert(0, _before(loss, chances[0], wanted))
    return tuple(tuple(map(float, of_stage)) for of_stage in chances[:-1])


def _before(loss: Beta, after: "NDArray[float64]", wanted: int) -> "NDArray[float64]":
    """Return the chances of those that enter a stage from the chances of those that have survived it."""
    import numpy as np  # noqa: PLC0415 - as above

    most, lost, kept = len(after) - 1, float(loss.with_it), float(loss.without)
    ways_lost, ways_kept, ways = (_log_ways(weight, most) for weight in (lost, kept, lost + kept))
    before = np.zeros(most + 1)
    for entering in range(wanted, most + 1):
        surviving = slice(wanted, entering + 1)
        log_chances = ways_lost[entering - wanted :: -1] + ways_kept[surviving] - ways[entering]
        before[entering] = np.exp(log_chances) @ after[surviving]
    return before


def _log_ways(weight: float, most: int) -> "NDArray[float64]":
    """Return the logarithms of Γ(weight + n) / (Γ(weight) n!) for n from 0 to `most`."""
    import numpy as np  # noqa: PLC0415 - as above

    n = np.arange(1, most + 1)
    with np.errstate(divide="ignore"):  # a weight of 0 has no way but for none
        return np.concatenate(([0.0], np.cumsum(np.log((weight + n - 1) / n))))


@lru_cache(maxsize=4096)
def fewest_to_start(losses: Losses, wanted: int, confidence: float, most: int) -> int:
    """Return the smallest number of which `wanted` come through with such a chance; `most` + 1: none."""
    enough, kept = confidence - float(TOLERANCE), math.prod(1 - float(loss.mean) for loss in losses)
    reach = min(most, math.ceil(USUALLY_ENOUGH * max(1, wanted) / kept))
    while True:
        chances = chances_by_stage(losses, wanted, reach)[0]
        if chances[-1] >= enough:
            return bisect_left(chances, enough)
        if reach == most:
            return most + 1
        reach = min(most, 2 * reach - wanted)
