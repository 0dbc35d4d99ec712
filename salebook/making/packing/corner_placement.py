"""Centres on rectangular ground one by one, each where it touches two others or the edge."""

import math
from collections.abc import Callable, Iterator, Sequence

from salebook.making.packing.rectangle import Rectangle, is_clear

Preference = Callable[[complex], tuple[float, float]]
DIGITS = 9


def corner_placements(rectangle: Rectangle) -> Iterator[list[complex]]:
    """Yield ways of filling rectangular ground: those that, in trials, beat rows most often."""
    corner = rectangle.corners[0]
    yield place_by(rectangle, rectangle.corners, from_corner)
    yield place_by(rectangle, (corner,), from_corner)
    yield place_by(rectangle, rectangle.corners, outwards)
    yield place_by(rectangle, rectangle.corners, by_columns)
    yield place_by(rectangle, (corner + 0.5j,), by_rows)


def place_by(rectangle: Rectangle, start: Sequence[complex], preference: Preference) -> list[complex]:
    """Place centres until none fits, next always the free place that comes first by a preference."""
    placed: list[complex] = []
    free: list[tuple[tuple[float, float], complex]] = []
    waiting = list(reversed(start))
    while waiting or free:
        centre = waiting.pop() if waiting else min(free, key=lambda place: place[0])[1]
        if not rectangle.holds(centre) or not is_clear(centre, placed):
            continue
        fresh = [*rectangle.on_edge_near(centre), *_touching_both(centre, placed)]
        placed.append(centre)
        free = [place for place in free if is_clear(place[1], (centre,))]
        free += [
            (preference(place), place)
            for place in fresh
            if rectangle.holds(place) and is_clear(place, placed)
        ]
    return placed


def _touching_both(centre: complex, placed: Sequence[complex]) -> Iterator[complex]:
    """Yield the places that are 1 away from a centre and from another one."""
    for other in placed:
        apart = other - centre
        distance = abs(apart)
        if distance < 2:
            middle = centre + apart / 2
            aside = apart / distance * complex(0, math.sqrt(1 - distance**2 / 4))
            yield from (middle + aside, middle - aside)


def outwards(centre: complex) -> tuple[float, float]:
    """Prefer places far from the middle."""
    return -round(abs(centre), DIGITS), round(math.atan2(centre.imag, centre.real), DIGITS)


def by_rows(centre: complex) -> tuple[float, float]:
    """Prefer places at the front, then at the left."""
    return round(centre.imag, DIGITS), round(centre.real, DIGITS)


def by_columns(centre: complex) -> tuple[float, float]:
    """Prefer places at the left, then at the front."""
    return round(centre.real, DIGITS), round(centre.imag, DIGITS)


def from_corner(centre: complex) -> tuple[float, float]:
    """Prefer places close to one corner."""
    return round(centre.real + centre.imag, DIGITS), round(centre.real, DIGITS)
