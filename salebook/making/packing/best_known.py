"""Centres of the best known packings of up to 30 equal circles in a circle and in a square.

Found by pushing circles apart from many random starts and refining what came out. Their spreads agree with
the radii that packomania.com publishes in its lists "cci" and "csq", as the tests show. Centres are
complex numbers, at least 1 apart, with the middle of the ground at 0.
"""

import csv
from collections import defaultdict
from collections.abc import Callable
from functools import cache
from importlib.resources import files

from salebook.making.packing.rectangle import TOLERANCE

MOST_KNOWN = 30


def best_known_on_disc(radius: float) -> list[complex]:
    """Return the centres of the largest packing here that stands on round ground, 30 at most."""
    return _largest("disc", radius, abs)


def best_known_on_square(side: float) -> list[complex]:
    """Return the centres of the largest packing here that stands on square ground, 30 at most."""
    return _largest("square", side / 2, lambda centre: max(abs(centre.real), abs(centre.imag)))


def _largest(ground: str, reach: float, off_middle: Callable[[complex], float]) -> list[complex]:
    # On round ground 6 take as much room as 7, and 18 as much as 19: those two are not in the table.
    for packing in reversed(_packings(ground)):
        if max(map(off_middle, packing)) <= reach + TOLERANCE:
            return packing.copy()
    return []


@cache
def _packings(ground: str) -> list[list[complex]]:
    """Return the packings on a disc or a square, as they stand in best_known.csv, the smallest first."""
    packings = defaultdict[str, list[complex]](list)
    with (files("salebook.making.packing") / "best_known.csv").open(encoding="utf-8") as table:
        for row in csv.DictReader(table):
            if row["ground"] == ground:
                packings[row["circles"]].append(complex(float(row["x"]), float(row["y"])))
    return list(packings.values())
