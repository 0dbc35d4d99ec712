"""The chance of the target as a spreadsheet works it out: exact for one kind of piece, else by a curve."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from salebook.pricing.chance import binomial

ALIKE: Final = 1e-9
"""Up to such a variance pieces count as alike."""
FEW: Final = 20
"""With fewer pieces of several kinds the curve counts as rough."""
WITHIN: Final = 0.05
"""How near to the exact chance the curve is where it does not count as rough."""


@dataclass(frozen=True, kw_only=True)
class Pieces:
    """Pieces alike that may still sell, and the chance that one of them does on each kind of day."""

    left: int
    brings: float
    sells: tuple[float, ...]


@dataclass(frozen=True, kw_only=True)
class LiveChance:
    """The chance that pieces bring what is needed, over all kinds of day."""

    pieces: tuple[Pieces, ...]
    needed: float
    """What they have to bring; what is forgiven has been taken off."""
    weights: tuple[float, ...]

    @property
    def is_rough(self) -> bool:
        """Whether too few pieces decide for the curve: on some kind of day, or over all of them."""
        return any(day.is_few for day in self.days) or self._mean(lambda day: day.off) > WITHIN

    @cached_property
    def days(self) -> tuple["DayChance", ...]:
        """The same on each kind of day."""
        return tuple(DayChance(of=self, day=day) for day in range(len(self.weights)))

    @cached_property
    def chance(self) -> float:
        """The chance over all kinds of day, from 0 to 1."""
        return self._mean(lambda day: day.chance)

    def _mean(self, of_day: Callable[["DayChance"], float]) -> float:
        weighted = (weight * of_day(day) for weight, day in zip(self.weights, self.days, strict=True))
        return sum(weighted) / sum(self.weights)


@dataclass(frozen=True, kw_only=True)
class DayChance:
    """What pieces may bring on one kind of day, those that surely sell set apart."""

    of: LiveChance
    day: int

    @cached_property
    def _open(self) -> Sequence[tuple[int, float, float]]:
        """The pieces of which nobody knows: how many, what one brings, and the chance that it sells."""
        each = ((one.left, one.brings, one.sells[self.day]) for one in self.of.pieces)
        return [(left, brings, sells) for left, brings, sells in each if left and 0 < sells < 1]

    def _average(self, of_each: Callable[[float, float], float]) -> float:
        whole = sum(left * of_each(brings, sells) for left, brings, sells in self._open)
        return whole / self.open if self.open else 0.0

    def _cumulant(self, order: int) -> float:
        """Return a cumulant of what they bring: those of independent pieces add up."""
        return sum(left * _OF_ONE[order](sells) * brings**order for left, brings, sells in self._open)

    @cached_property
    def open(self) -> int:
        """How many may sell or not."""
        return sum(left for left, _brings, _sells in self._open)

    @cached_property
    def to_go(self) -> float:
        """What these have to bring, once the pieces that surely sell have brought their own."""
        surely = (one for one in self.of.pieces if one.sells[self.day] >= 1)
        return self.of.needed - sum(one.left * one.brings for one in surely)

    @cached_property
    def sells(self) -> float:
        """The chance that one sells, on average."""
        return self._average(lambda _brings, sells: sells)

    @cached_property
    def mixed(self) -> float:
        """By how much they differ in that; 0 where all sell alike."""
        return self._average(lambda _brings, sells: (sells - self.sells) ** 2)

    @cached_property
    def mean(self) -> float:
        """What one of them brings, on average."""
        return self._average(lambda brings, _sells: brings)

    @cached_property
    def uneven(self) -> float:
        """By how much they differ in that; 0 where all bring the same."""
        return self._average(lambda brings, _sells: (brings - self.mean) ** 2)

    @cached_property
    def count_needed(self) -> int:
        """How many have to sell, where each brings the same; else 0."""
        if self.uneven >= ALIKE or self.mean <= 0:
            return 0
        return max(0, math.ceil(round(self.to_go / self.mean, 9)))

    @property
    def _is_undecided(self) -> bool:
        return self.open > 0 and self.lowest < self.to_go <= self.highest

    @property
    def _is_alike(self) -> bool:
        return self.count_needed > 0 and self.mixed < ALIKE

    @property
    def is_few(self) -> bool:
        """Whether the curve decides, and with few pieces."""
        return self._is_undecided and self.open < FEW and not self._is_alike

    @cached_property
    def aim(self) -> float:
        """Where the curve is read: half a piece below what is needed where only whole ones count."""
        return (self.count_needed - 0.5) * self.mean if self.count_needed else self.to_go

    @cached_property
    def expected(self) -> float:
        """What they bring on average."""
        return self._cumulant(1)

    @cached_property
    def spread(self) -> float:
        """The standard deviation of that."""
        return math.sqrt(max(0.0, self._cumulant(2)))

    @cached_property
    def skewness(self) -> float:
        """How lopsided that is."""
        return self._cumulant(3) / self.spread**3 if self.spread else 0.0

    @cached_property
    def lowest(self) -> float:
        """The least that they can bring: all that cost more than they fetch."""
        return sum(left * brings for left, brings, _sells in self._open if brings < 0)

    @cached_property
    def highest(self) -> float:
        """The most that they can bring."""
        return sum(left * brings for left, brings, _sells in self._open if brings > 0)

    @cached_property
    def away(self) -> float:
        """How many standard deviations the aim is above what is expected."""
        return (self.aim - self.expected) / self.spread if self.spread else 0.0

    @cached_property
    def height(self) -> float:
        """The height of the normal curve there."""
        return math.exp(-(self.away**2) / 2) / math.sqrt(2 * math.pi)

    @cached_property
    def lump(self) -> float:
        """What one piece brings, in standard deviations: on average of those that make the spread."""
        cubed = sum(left * _OF_ONE[2](sells) * abs(brings) ** 3 for left, brings, sells in self._open)
        return cubed / self.spread**3 if self.spread else 0.0

    @cached_property
    def off(self) -> float:
        """How far off the curve may be: half a piece, as sums may stand a whole one apart."""
        is_smooth = self._is_undecided and self.count_needed == 0
        return self.height * self.lump / 2 if is_smooth else 0.0

    @cached_property
    def by_curve(self) -> float:
        """The chance by the normal curve, corrected for skewness (Edgeworth's series)."""
        above = 1 - math.erfc(-self.away / math.sqrt(2)) / 2
        return min(1.0, max(0.0, above + self.skewness * (self.away**2 - 1) * self.height / 6))

    @cached_property
    def chance(self) -> float:
        """The chance on this kind of day: exact where pieces are alike in all."""
        if self.to_go <= self.lowest:
            return 1.0
        if self.to_go > self.highest:
            return 0.0
        if not self._is_alike:
            return self.by_curve
        first, chances = binomial(self.open, self.sells)
        return math.fsum(chances[max(0, self.count_needed - first) :])


_OF_ONE: Final[Mapping[int, Callable[[float], float]]] = {
    1: lambda share: share,
    2: lambda share: share * (1 - share),
    3: lambda share: share * (1 - share) * (1 - 2 * share),
}
"""Cumulants of a piece that sells with a chance."""
