"""The nearest numbers that never rise, or never fall: isotonic regression by pooling adjacent violators."""

from collections.abc import Sequence
from decimal import Decimal


def rising(values: Sequence[Decimal], weights: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Return the numbers that never fall and are nearest to the values by weighted squares.

    Neighbours that fall are pooled into their weighted mean until none do (Ayer et al., Annals of
    Mathematical Statistics 26, 1955).
    """
    pools: list[tuple[Decimal, Decimal, int]] = []
    for value, weight in zip(values, weights, strict=True):
        pool = (value, weight, 1)
        while pools and pools[-1][0] > pool[0]:
            pool = _pooled(pools.pop(), pool)
        pools.append(pool)
    return tuple(mean for mean, _weight, count in pools for _value in range(count))


def falling(values: Sequence[Decimal], weights: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Return the numbers that never rise and are nearest to the values by weighted squares."""
    return rising(values[::-1], weights[::-1])[::-1]


def _pooled(
    one: tuple[Decimal, Decimal, int], other: tuple[Decimal, Decimal, int]
) -> tuple[Decimal, Decimal, int]:
    weight = one[1] + other[1]
    return (one[0] * one[1] + other[0] * other[1]) / weight, weight, one[2] + other[2]
