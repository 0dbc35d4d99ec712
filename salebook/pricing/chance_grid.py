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
MOST_CELLS = 4_000_000
MOST_TOGETHER = 20_000
"""Sums of several kinds of piece that are kept exactly before they are put on the grid."""

UNLIKELY = 1e-9
"""Chance that is taken for none."""


@dataclass(frozen=True, kw_only=True)
class Spread:
    """What a kind of piece may bring: a whole amount for each piece, and the chance of 0, 1, 2 … of them."""

    each: int
    chances: tuple[float, ...]

    @property
    def of_all(self) -> int:
        """What it brings where as many sell as may."""
        return self.each * (len(self.chances) - 1)

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


def _mean(chances: Iterable[float]) -> float:
    return math.fsum(number * chance for number, chance in enumerate(chances))


_Sums = tuple["NDArray[float64]", "NDArray[float64]"]
"""Amounts that some kinds of piece may bring together, and their chances."""


@dataclass(frozen=True, kw_only=True)
class _Likely:
    """The sums that are likely enough to matter, from the least to the most of them."""

    least: float
    most: float
    deviation: float

    def cells(self, step: int) -> float:
        """Return how many cells of a step they take."""
        return (self.most - self.least) / step


def chance_on_grid(
    spreads: Sequence[Spread], needed: int, *, tenth_of_unit: int, within: float = PROVEN
) -> float:
    """Return the chance that several spreads together bring at least what is needed; amounts are whole.

    Kinds of piece are combined exactly into as few groups as will hold them. What each group brings is then
    rounded to the grid once, so that a sum is off by at most half a step for each group; the chances of
    reaching that much more and that much less enclose the exact one. The step is made finer until they lie
    close enough together.
    """
    likely = _likely(spreads)
    if not likely.least < needed <= likely.most:
        return float(needed <= likely.least)
    groups = [_together(members) for members in _grouped(spreads)]
    common = math.gcd(*(spread.each for spread in spreads))
    step = _first_step(likely, common, len(groups), tenth_of_unit=tenth_of_unit, within=within)
    while True:
        less, chance, more = _enclosed(groups, likely, step, needed)
        finer = max(common, step // 8)
        proven = max(chance - less, more - chance) <= within
        if proven or step == common or likely.cells(finer) > MOST_CELLS:
            return chance
        step = finer


def _likely(spreads: Sequence[Spread]) -> _Likely:
    """Return the sums that are not too far from the mean, or too far from what all can bring, to come about.

    How far is too far: by Bernstein's inequality for sums of independent amounts that are bounded; here each
    piece is one.
    """
    mean = math.fsum(spread.mean for spread in spreads)
    variance = math.fsum(spread.variance for spread in spreads)
    doubts = -math.log(UNLIKELY)
    third = doubts * max(abs(spread.each) for spread in spreads) / 3
    away = third + math.sqrt(third**2 + 2 * doubts * variance)
    return _Likely(
        least=max(sum(min(0, spread.of_all) for spread in spreads), mean - away),
        most=min(sum(max(0, spread.of_all) for spread in spreads), mean + away),
        deviation=math.sqrt(variance),
    )


def _first_step(likely: _Likely, common: int, groups: int, *, tenth_of_unit: int, within: float) -> int:
    """Return the step on which nothing is rounded, if that takes few cells; else one that should do.

    A normal density is at most 0.4 ÷ deviation, so that half a step for each group then moves the chance by
    less than is to be proven. A tenth of the unit of currency is enough wherever it is affordable.
    """
    enough = max(common, int(4 * within * likely.deviation / groups))
    finer, few = (common, min(enough, tenth_of_unit)), FEW_CELLS * PROVEN / within
    return next((step for step in finer if likely.cells(step) <= few), enough)


def _grouped(spreads: Iterable[Spread]) -> list[list[Spread]]:
    """Put as many kinds of piece together as have few enough sums."""
    groups: list[list[Spread]] = []
    for spread in spreads:
        fitting = (group for group in groups if most_sums([*group, spread]) <= MOST_TOGETHER)
        group = next(fitting, None)
        if group is None:
            groups.append([spread])
        else:
            group.append(spread)
    return groups


def most_sums(spreads: Iterable[Spread]) -> int:
    """Return how many sums several spreads make, if no two of them are equal."""
    return math.prod(len(spread.chances) for spread in spreads)


def _together(spreads: Iterable[Spread]) -> _Sums:
    import numpy as np  # noqa: PLC0415 - most plans never need it, and it takes a tenth of a second to load

    amounts, chances = np.zeros(1), np.ones(1)
    for spread in spreads:
        brought = float(spread.each) * np.arange(len(spread.chances))
        amounts = np.add.outer(amounts, brought).ravel()
        chances = np.multiply.outer(chances, np.array(spread.chances)).ravel()
    return amounts, chances


def _enclosed(groups: Sequence[_Sums], likely: _Likely, step: int, needed: int) -> list[float]:
    """Return the chances of as much more than is needed as a sum may be off, of that, and of as much less.

    All groups are taken together on a round grid that has room for every likely sum: only what is too
    unlikely to matter lies once round the grid from where it should.
    """
    import numpy as np  # noqa: PLC0415 - as above

    off = len(groups) / 2
    first = int(likely.least // step) - len(groups)
    last = math.ceil(likely.most / step) + len(groups)
    cells = 1 << (last - first).bit_length()
    product = np.ones(cells // 2 + 1, dtype=np.complex128)
    for group in groups:
        product *= np.fft.rfft(_line(group, step, cells))
    at_least = np.roll(np.fft.irfft(product, cells), -first)[::-1].cumsum()[::-1]
    places = (math.ceil(needed / step + change) - first for change in (off, 0.0, -off))
    return [min(1.0, max(0.0, float(at_least[place]))) for place in places]


def _line(group: _Sums, step: int, cells: int) -> "NDArray[float64]":
    import numpy as np  # noqa: PLC0415 - as above

    amounts, chances = group
    places = np.rint(amounts / step).astype(np.int64) % cells
    return np.asarray(np.bincount(places, weights=chances, minlength=cells), dtype=np.float64)
