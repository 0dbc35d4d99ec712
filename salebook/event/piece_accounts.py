"""What the lines of takings say of each piece, added up."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.amounts import PricedLine, sum_of
from salebook.event.entries import LineKind
from salebook.event.lines import trimmed
from salebook.plan.money import ZERO


@dataclass(frozen=True, kw_only=True)
class Account:
    """One row of the register as the lines have it; money without gifts, not yet arrived money taken in."""

    lines: tuple[PricedLine, ...]
    """By till and number."""
    paid: Decimal
    """Paid less given back."""
    settled: Decimal
    """The same without deposits that no balance has followed: above 0 where the piece is sold."""
    pieces_sold: int
    """Sold less given back, for a ware that is not numbered."""
    is_handed_over: bool
    """Whether lines that end a purchase (a sale, a balance) outnumber refunds, whatever was paid on them."""

    @property
    def is_ordered(self) -> bool:
        """Whether somebody ordered this very piece."""
        return any(line.kind == "order" for line in self.lines)

    @property
    def claim(self) -> str:
        """The claim number on its first line."""
        return trimmed(self.lines[0].line.claim) if self.lines else ""


def account_of(lines: Sequence[PricedLine]) -> Account:
    """Add up the lines of one row of the register."""
    paid = sum((line.amount for line in lines), ZERO)
    has_balance = any(line.kind == "balance" for line in lines)
    ahead = ZERO if has_balance else sum_of(lines, "deposit", "order")
    return Account(
        lines=tuple(lines),
        paid=paid,
        settled=paid - ahead,
        pieces_sold=max(0, _count(lines, "sale") + _count(lines, "balance") - _count(lines, "refund")),
        is_handed_over=_number(lines, "sale", "balance") > _number(lines, "refund"),
    )


def accounts_of(lines: Sequence[PricedLine]) -> Mapping[int, Account]:
    """Return the accounts by row of the register; rows without lines are left out."""
    by_row: dict[int, list[PricedLine]] = defaultdict(list)
    for line in lines:
        if line.index:
            by_row[line.index].append(line)
    return {row: account_of(of_row) for row, of_row in by_row.items()}


def _count(lines: Sequence[PricedLine], kind: LineKind) -> int:
    return sum(line.count for line in lines if line.kind == kind)


def _number(lines: Sequence[PricedLine], *kinds: LineKind) -> int:
    return sum(line.kind in kinds for line in lines)


EMPTY = account_of(())
