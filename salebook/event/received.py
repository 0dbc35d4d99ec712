"""What came into the takings, taken apart: by kind, by way to pay, by day."""

from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TypeVar, get_args

from salebook.event.entries import LineKind
from salebook.event.standing import CountedLine, Standing
from salebook.plan.model import Plan
from salebook.plan.money import NOTHING

Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True, kw_only=True)
class Received:
    """What arrived and was not paid straight to a group; each part adds up to the takings."""

    by_kind: Mapping[LineKind, Decimal]
    """Kinds that occur, in the order of the drop-down."""
    by_way: Mapping[str, Decimal]
    """All ways of the plan but those paid straight to a group; "" where the way to pay is not known."""
    by_day: Mapping[date, Decimal]
    together: Mapping[tuple[date, LineKind, str], Decimal]
    """By day, kind and way at once."""


def received_of(plan: Plan, standing: Standing) -> Received:
    """Take the takings apart."""
    lines = [line for line in standing.lines if line.arrived and not line.straight]
    kinds: Sequence[LineKind] = get_args(LineKind)
    by_kind = _sums(lines, lambda line: line.line.kind)
    by_way = _sums(lines, lambda line: line.way)
    ways = [way.name for way in plan.payments if not way.paid_to]
    return Received(
        by_kind={kind: by_kind[kind] for kind in kinds if kind in by_kind},
        by_way={way: by_way.get(way, NOTHING) for way in (*ways, *([""] if "" in by_way else []))},
        by_day=dict(sorted(_sums(lines, lambda line: line.day).items())),
        together=_in_order(_sums(lines, lambda line: (line.day, line.line.kind, line.way)), kinds),
    )


def _sums(lines: Iterable[CountedLine], key: Callable[[CountedLine], Key]) -> dict[Key, Decimal]:
    sums: dict[Key, Decimal] = {}
    for line in lines:
        sums[key(line)] = sums.get(key(line), NOTHING) + line.arrived
    return sums


def _in_order(
    sums: Mapping[tuple[date, LineKind, str], Decimal], kinds: Sequence[LineKind]
) -> dict[tuple[date, LineKind, str], Decimal]:
    return dict(sorted(sums.items(), key=lambda item: (item[0][0], kinds.index(item[0][1]), item[0][2])))
