"""The float: coins and notes that lie in the cash box before the first sale, to give change with."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal
from itertools import cycle, islice

from salebook.base.rounding import ceil

SALES_WITHOUT_CHANGE = 10
"""After so many sales in cash the box gives change by itself (common practice, no source)."""


def starting_float(prices: Iterable[Decimal], faces: Sequence[Decimal]) -> dict[Decimal, int]:
    """Return how many of each coin and note the first sales take as change, the largest first.

    Each price is asked in turn and paid with the smallest coin or note that covers it, or with as many of the
    largest; `faces` are all of the currency, largest first.
    """
    given = Counter(
        face
        for price in islice(cycle(prices), SALES_WITHOUT_CHANGE)
        for face in _coins(_paid(price, faces) - price, faces)
    )
    return {face: given[face] for face in faces if given[face]}


def _paid(price: Decimal, faces: Sequence[Decimal]) -> Decimal:
    largest = faces[0]
    return min((face for face in faces if face >= price), default=ceil(price / largest) * largest)


def _coins(amount: Decimal, faces: Iterable[Decimal]) -> Iterator[Decimal]:
    for face in faces:
        count, amount = divmod(amount, face)
        yield from (face for _number in range(int(count)))
