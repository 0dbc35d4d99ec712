"""Whether centres truly stand, worked out anew."""

from collections.abc import Sequence
from itertools import combinations

NOISE = 1e-7


def are_1_apart(centres: Sequence[complex]) -> bool:
    return all(abs(one - other) >= 1 - NOISE for one, other in combinations(centres, 2))


def stand_on_disc(centres: Sequence[complex], radius: float) -> bool:
    return are_1_apart(centres) and all(abs(centre) <= radius + NOISE for centre in centres)


def stand_on_oblong(centres: Sequence[complex], width: float, depth: float) -> bool:
    across, along = width / 2 + NOISE, depth / 2 + NOISE
    on_it = all(abs(centre.real) <= across and abs(centre.imag) <= along for centre in centres)
    return on_it and are_1_apart(centres)
