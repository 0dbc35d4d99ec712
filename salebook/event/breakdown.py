"""What came into the takings, taken apart: by kind, by way to pay, by day."""

from collections import defaultdict
from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal, TypeVar, get_args

from salebook.event.entries import LineKind
from salebook.event.posted_line import PostedLine
from salebook.event.state import EventState
from salebook.plan.model import Plan
from salebook.plan.money import ZERO

Purpose = LineKind | Literal["gift"]
"""What money was for: the kind of its line, or a gift on top of what that line is about."""

KINDS: tuple[LineKind, ...] = get_args(LineKind)
AFTER_REFUNDS = KINDS.index("refund") + 1
PURPOSES: tuple[Purpose, ...] = (*KINDS[:AFTER_REFUNDS], "gift", *KINDS[AFTER_REFUNDS:])
"""In the order of the drop-down; what was given on top stands beside other gifts."""

Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True, kw_only=True)
class TakingsBreakdown:
    """What arrived and was not paid straight to a group; each part adds up to the takings."""

    by_kind: Mapping[LineKind, Decimal]
    """Kinds that occur, in the order of the drop-down; gifts on top count with their line."""
    by_purpose: Mapping[Purpose, Decimal]
    """The same with gifts on top apart."""
    by_way: Mapping[str, Decimal]
    """All ways of the plan but those paid straight to a group; "" where the way to pay is not known."""
    by_day: Mapping[date, Decimal]
    together: Mapping[tuple[date, Purpose, str], Decimal]
    """By day, purpose and way at once."""


def breakdown_of(plan: Plan, state: EventState) -> TakingsBreakdown:
    """Take the takings apart."""
    # Without what was paid straight to a group, each list adds up to the same sum. The
    # sheet's own list by kind shows all that arrived.
    in_takings = [line for line in state.lines if not line.straight and not line.line.waiting]
    apart = [(line, purpose, amount) for line in in_takings for purpose, amount in _apart(line) if amount]
    lines = [line for line in in_takings if line.arrived]
    by_kind = _sums((line.kind, line.arrived) for line in lines)
    by_purpose = _sums((purpose, amount) for _line, purpose, amount in apart)
    ways = dict.fromkeys((way.name for way in plan.payments if not way.paid_to), ZERO)
    together = _sums(((line.day, purpose, line.way), amount) for line, purpose, amount in apart)
    return TakingsBreakdown(
        by_kind={kind: by_kind[kind] for kind in KINDS if kind in by_kind},
        by_purpose={purpose: by_purpose[purpose] for purpose in PURPOSES if purpose in by_purpose},
        by_way=ways | _sums((line.way, line.arrived) for line in lines),
        by_day=dict(sorted(_sums((line.day, line.arrived) for line in lines).items())),
        together=dict(sorted(together.items(), key=_place)),
    )


def _place(item: tuple[tuple[date, Purpose, str], Decimal]) -> tuple[date, int, str]:
    (day, purpose, way), _amount = item
    return day, PURPOSES.index(purpose), way


def _apart(line: PostedLine) -> Iterator[tuple[Purpose, Decimal]]:
    """Yield what a line that arrived is about and, apart from it, the gift on top."""
    if line.amount or not line.gift:
        yield line.kind, line.amount
    if line.gift:
        yield "gift", line.gift


def _sums(amounts: Iterable[tuple[Key, Decimal]]) -> dict[Key, Decimal]:
    sums: dict[Key, Decimal] = defaultdict(Decimal)
    for key, amount in amounts:
        sums[key] += amount
    return dict(sums)
