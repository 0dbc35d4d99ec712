"""The steps of sharing out by largest remainder, one by one, as the workbook shows them."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class Quota:
    """One group's quota in whole minor units: what is sure, and the place in line for one more."""

    whole: int
    remainder: int
    """In parts of a minor unit: of as many as there are parts in all."""
    place: int
    """1 for the largest remainder; the one listed first where remainders are equal."""


def quotas(units: int, parts: Sequence[int]) -> tuple[Quota, ...]:
    """Return the quotas of an amount in minor units, 0 or more, shared by parts."""
    divided = [divmod(units * part, sum(parts)) for part in parts]
    line = sorted(range(len(parts)), key=lambda index: -divided[index][1])
    places = {index: place for place, index in enumerate(line, start=1)}
    return tuple(
        Quota(whole=whole, remainder=remainder, place=places[index])
        for index, (whole, remainder) in enumerate(divided)
    )
