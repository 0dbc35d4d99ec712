"""A list added up again from its texts alone, without the plan or the workbook behind it."""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from salebook.accounts.row import MONEY, Row
from salebook.accounts.values import amount_text, whole_text
from salebook.plan.money import ZERO, share_out


@dataclass(frozen=True, kw_only=True)
class GroupSum:
    """What one group gets, and what the list says that its share is."""

    group: str
    parts: int
    named: Decimal
    share: Decimal
    stated: Decimal
    straight: Decimal
    """Paid straight to it, beside the takings."""
    paid: Decimal

    @property
    def total(self) -> Decimal:
        """What it gets of the takings."""
        return self.named + self.share

    @property
    def to_pay(self) -> Decimal:
        """What is still to pay; negative where too much was paid."""
        return self.total - self.paid


@dataclass(frozen=True, kw_only=True)
class Sums:
    """All sums of a list; money as positive sums, also what comes off."""

    takings: Decimal
    by_kind: Mapping[str, Decimal]
    by_way: Mapping[str, Decimal]
    """ "" where the way to pay is not known."""
    by_day: Mapping[str, Decimal]
    named: Decimal
    fees: Decimal
    costs: Decimal
    to_givers: Decimal
    pool: Decimal
    groups: tuple[GroupSum, ...]
    waiting: Decimal
    """Promised, not arrived: in no other sum."""


def sums_of(rows: Iterable[Row], digits: int) -> Sums:
    """Add a list up; an amount that cannot be read counts nothing."""
    by_part: dict[str, list[Row]] = defaultdict(list)
    for row in rows:
        by_part[row.part].append(_countable(row, digits))
    lines = by_part["line"]
    in_takings = [line for line in lines if line.arrived == "yes"]
    takings, named = _sum(in_takings, money_of), _sum(in_takings, lambda line: _amount(line.to_group))
    fees, costs, to_givers = (-_sum(by_part[part], _moved) for part in ("fee", "cost", "giver"))
    pool = takings - named - fees - costs - to_givers
    return Sums(
        takings=takings,
        by_kind=_by(in_takings, lambda line: line.kind),
        by_way=_by(in_takings, lambda line: line.way),
        by_day=_by(in_takings, lambda line: line.day),
        named=named,
        fees=fees,
        costs=costs,
        to_givers=to_givers,
        pool=pool,
        groups=_groups(by_part, pool, digits),
        waiting=_sum([line for line in lines if line.arrived == "no"], money_of),
    )


def _countable(row: Row, digits: int) -> Row:
    """Return a row without amounts that cannot be read."""
    unread = [key for key in MONEY if (text := getattr(row, key)) and amount_text(text, digits) != text]
    return replace(row, **dict.fromkeys(unread, "")) if unread else row


def _groups(by_part: Mapping[str, Sequence[Row]], pool: Decimal, digits: int) -> tuple[GroupSum, ...]:
    stated = sorted(by_part["share"], key=lambda row: (_whole(row.line), row.group.encode("utf-16-be")))
    parts = [_whole(row.parts) for row in stated]
    shares = share_out(max(ZERO, pool), parts, digits) if sum(parts) else [ZERO] * len(parts)
    named, straight, paid = _to_groups(by_part)
    return tuple(
        GroupSum(
            group=row.group,
            parts=part,
            named=named[row.group],
            share=share,
            stated=-_moved(row),
            straight=straight[row.group],
            paid=paid[row.group],
        )
        for row, part, share in zip(stated, parts, shares, strict=True)
    )


def _to_groups(by_part: Mapping[str, Sequence[Row]]) -> tuple[dict[str, Decimal], ...]:
    """Return, by group, what was named for it, what went straight to it, and what it was paid."""
    named: dict[str, Decimal] = defaultdict(Decimal)
    straight: dict[str, Decimal] = defaultdict(Decimal)
    paid: dict[str, Decimal] = defaultdict(Decimal)
    for line in by_part["line"]:
        if line.arrived == "yes":
            named[line.group] += _amount(line.to_group)
        elif line.arrived == "straight":
            straight[line.group] += money_of(line)
    for payment in by_part["paid"]:
        paid[payment.group] += _moved(payment)
    return named, straight, paid


def money_of(line: Row) -> Decimal:
    """Return all that a line moves, the gift taken in."""
    return _amount(line.amount) + _amount(line.gift)


def _moved(row: Row) -> Decimal:
    return _amount(row.amount)


def _sum(rows: Iterable[Row], money: Callable[[Row], Decimal]) -> Decimal:
    return sum(map(money, rows), ZERO)


def _by(lines: Iterable[Row], key: Callable[[Row], str]) -> Mapping[str, Decimal]:
    found: dict[str, Decimal] = defaultdict(Decimal)
    for line in lines:
        found[key(line)] += money_of(line)
    return dict(sorted(found.items(), key=lambda item: item[0].encode("utf-16-be")))


def _amount(text: str) -> Decimal:
    return Decimal(text) if text else ZERO


def _whole(text: str) -> int:
    return int(text) if text.isdigit() and whole_text(text) == text else 0
