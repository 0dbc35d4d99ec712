"""The chance of reaching an amount where too many sums differ to keep each: sums on a grid."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from numpy import float64
    from numpy.typing import NDArray

PROVEN = 0.001
"""How far a chance worked out on the grid may be from the exact one."""

FEW_CELLS = 60_000
MOST_CELLS = 2**22
MOST_TOGETHER = 20_000
"""Sums of several kinds of piece that are kept exactly before they are put on the grid."""

ALL_BUT_SURE = 1e-6
"""Chance that is taken for none."""

WIDTH = 16
"""Standard deviations that the grid spans; what lies outside is far below what is proven."""


@dataclass(frozen=True, kw_only=True)
class Spread:
    """What a kind of piece may bring: a whole amount for each piece, and the chance of 0, 1, 2 … of them."""

    each: int
    chances: tuple[float, ...]

    @property
    def reach(self) -> int:
        """From the least to the most that it may bring."""
        return abs(self.each) * (len(self.chances) - 1)

    @cached_property
    def mean(self) -> float:
        """What it brings on average."""
        return self.each * _mean(self.chances)

    @cached_property
    def variance(self) -> float:
        """The variance of what it brings."""
        middle = _mean(self.chances)
        numbers = ((number - middle) ** 2 * chance for number, chance in enumerate(self.chances))
        return self.each**2 * math.fsum(numbers)


@dataclass(frozen=True, kw_only=True)
class _Sums:
    """Amounts that some kinds of piece may bring together, and their chances."""

    amounts: "NDArray[float64]"
    chances: "NDArray[float64]"


def chance_on_grid(spreads: Sequence[Spread], needed: int, *, tenth_of_unit: int) -> float:
    """Return the chance that several spreads together bring at least what is needed; amounts are whole.

    Kinds of piece are combined exactly into as few groups as will hold them. What each group brings is then
    rounded to the grid once, so that a sum is off by at most half a step for each group; the chances of
    reaching that much more and that much less enclose the exact one. The step is made finer until they lie
    close enough together.
    """
    if _is_far(spreads, needed):
        return float(needed < sum(spread.mean for spread in spreads))
    groups = [_together(members) for members in _grouped(spreads)]
    common = math.gcd(*(spread.each for spread in spreads))
    step = _first_step(spreads, common, len(groups), tenth_of_unit)
    while True:
        off = 0.0 if step == common else len(groups) / 2
        places = [needed / step + change for change in (off, 0.0, -off)]
        less, chance, more = _chances(groups, spreads, step, places)
        finer = max(common, step // 8)
        proven = max(chance - less, more - chance) <= PROVEN
        if proven or step == finer or _cells(spreads, finer) > MOST_CELLS:
            return chance
        step = finer


def _is_far(spreads: Sequence[Spread], needed: int) -> bool:
    """Whether an amount lies so far from the mean that it is all but surely reached, or surely not.

    By Bernstein's inequality for sums of independent amounts that are bounded; here each piece is one.
    """
    away = abs(needed - sum(spread.mean for spread in spreads))
    spread_out = math.fsum(spread.variance for spread in spreads)
    most = max(abs(spread.each) for spread in spreads)
    return away**2 / 2 > -math.log(ALL_BUT_SURE) * (spread_out + most * away / 3)


def _mean(chances: Iterable[float]) -> float:
    return math.fsum(number * chance for number, chance in enumerate(chances))


def _deviation(spreads: Iterable[Spread]) -> float:
    return math.sqrt(math.fsum(spread.variance for spread in spreads))


def _first_step(spreads: Sequence[Spread], common: int, groups: int, tenth_of_unit: int) -> int:
    """Return the step on which nothing is rounded, if that takes few cells; else one that should do.

    A normal density is at most 0.4 ÷ deviation, so that half a step for each group then moves the chance by
    less than is to be proven. A tenth of the unit of currency is enough wherever it is affordable.
    """
    if _cells(spreads, common) <= FEW_CELLS:
        return common
    enough = max(common, int(_deviation(spreads) / (250 * groups)))
    return min(enough, tenth_of_unit) if _cells(spreads, tenth_of_unit) <= FEW_CELLS else enough


def _cells(spreads: Sequence[Spread], step: int) -> int:
    """Return how many cells of a step the sums take, all of them or the likely ones."""
    likely = min(float(sum(spread.reach for spread in spreads)), WIDTH * _deviation(spreads))
    return int(likely / step) + len(spreads) + 2


def _grouped(spreads: Iterable[Spread]) -> list[list[Spread]]:
    """Put as many kinds of piece together as have few enough sums."""
    groups: list[list[Spread]] = []
    for spread in sorted(spreads, key=lambda spread: -len(spread.chances)):
        fitting = (group for group in groups if _most_sums([*group, spread]) <= MOST_TOGETHER)
        group = next(fitting, None)
        if group is None:
            groups.append([spread])
        else:
            group.append(spread)
    return groups


def _most_sums(spreads: Iterable[Spread]) -> int:
    return math.prod(len(spread.chances) for spread in spreads)


def _together(spreads: Iterable[Spread]) -> _Sums:
    import numpy as np  # noqa: PLC0415 - most plans never need it, and it takes a tenth of a second to load

    amounts, chances = np.zeros(1), np.ones(1)
    for spread in spreads:
        brought = float(spread.each) * np.arange(len(spread.chances))
        amounts = np.add.outer(amounts, brought).ravel()
        chances = np.multiply.outer(chances, np.array(spread.chances)).ravel()
    return _Sums(amounts=amounts, chances=chances)


def _chances(
    groups: Iterable[_Sums], spreads: Sequence[Spread], step: int, needed: Iterable[float]
) -> list[float]:
    """Return the chance of at least each amount, in steps, all groups taken together on one round grid."""
    import numpy as np  # noqa: PLC0415 - as above

    cells = 1 << _cells(spreads, step).bit_length()
    product = np.ones(cells // 2 + 1, dtype=np.complex128)
    for group in groups:
        product *= np.fft.rfft(_line(group, step, cells))
    first = round(sum(spread.mean for spread in spreads) / step) - cells // 2
    at_least = np.roll(np.fft.irfft(product, cells), -(first % cells))[::-1].cumsum()[::-1]
    places = (math.ceil(amount - 1e-9) - first for amount in needed)
    return [_at(at_least, place) for place in places]


def _line(group: _Sums, step: int, cells: int) -> "NDArray[float64]":
    import numpy as np  # noqa: PLC0415 - as above

    places = np.rint(group.amounts / step).astype(np.int64) % cells
    return np.bincount(places, weights=group.chances, minlength=cells).astype(np.float64, copy=False)


def _at(at_least: "NDArray[float64]", place: int) -> float:
    if place >= len(at_least):
        return 0.0
    return min(1.0, max(0.0, float(at_least[max(0, place)])))
