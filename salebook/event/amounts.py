"""What each line moves: amounts that were not typed follow from the other lines of the same piece.

No sum here depends on the order of the lines. Only which of two like lines is the one too many does.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.entries import LineKind
from salebook.event.lines import Asks, ResolvedLine
from salebook.plan.money import ZERO


@dataclass(frozen=True, kw_only=True)
class PricedLine(ResolvedLine):
    """A line with what it moves, gift left out."""

    same: int
    """How many lines stand on the same numbered piece, this one taken in; 0 where there is none."""
    is_first: bool
    """Whether it is the first line of its numbered piece, by till and number."""
    at_list: Decimal
    """What it moves at list price because no amount is typed."""
    left: Decimal
    """An empty balance: what was left to pay. An empty refund: all that was paid, negative."""
    before: int
    """How many earlier lines of the piece leave the same open; before a sale, sales without an amount."""
    comes_after_refund: bool
    """Whether it pays for a piece after a refund of all that was paid."""
    sold_already: Decimal
    """A sale: what earlier sales of the piece brought, less all that was given back by amount."""

    @property
    def amount(self) -> Decimal:
        """What the line moves without the gift on top."""
        return self.typed + self.at_list + self.left

    @property
    def money(self) -> Decimal:
        """All that the line moves."""
        return self.amount + self.gift

    @property
    def arrived(self) -> Decimal:
        """What the line moves, 0 where it has not arrived yet."""
        return ZERO if self.line.waiting else self.money

    @property
    def waiting(self) -> Decimal:
        """What the line moves once it arrives, 0 where it has."""
        return self.money if self.line.waiting else ZERO


def priced_lines(resolved: Sequence[ResolvedLine]) -> tuple[PricedLine, ...]:
    """Return what each line moves; expects the lines by till and number."""
    by_piece: dict[int, list[ResolvedLine]] = defaultdict(list)
    for line in resolved:
        if line.numbered:
            by_piece[line.index].append(line)
    accounts = {index: _LinesOfPiece(lines) for index, lines in by_piece.items()}
    return tuple(_priced(line, accounts) for line in resolved)


def _priced(line: ResolvedLine, accounts: Mapping[int, "_LinesOfPiece"]) -> PricedLine:
    if not line.numbered:
        counted = line.signed * (line.list_price or ZERO) if line.asks == Asks.COUNTED else ZERO
        return PricedLine.of(
            line,
            same=0,
            is_first=False,
            at_list=counted,
            left=ZERO,
            before=0,
            comes_after_refund=False,
            sold_already=ZERO,
        )
    account = accounts[line.index]
    return PricedLine.of(
        line,
        same=len(account.lines),
        is_first=account.lines[0] is line,
        at_list=account.at_list(line),
        left=account.left(line),
        before=account.before(line),
        comes_after_refund=line.is_paying and any(order < line.order for order in account.refunds),
        sold_already=account.sold_already(line),
    )


class _LinesOfPiece:
    """All lines of one numbered piece."""

    def __init__(self, lines: Sequence[ResolvedLine]) -> None:
        self.lines = lines
        self._price = lines[0].list_price or ZERO
        self._untyped_sales = self._orders(Asks.LIST_PRICE)
        self._balances = self._orders(Asks.BALANCE)
        self.refunds = self._orders(Asks.REFUND)
        """Those of all that was paid, by their order."""
        typed_sales = self._typed("sale")
        self._free_for_sale = -self._typed("refund") - typed_sales
        listed = sum((self.at_list(line) for line in lines), ZERO)
        self._net = sum((line.typed for line in lines), listed)

    def _orders(self, asks: Asks) -> tuple[int, ...]:
        return tuple(line.order for line in self.lines if line.asks == asks)

    def _typed(self, kind: LineKind) -> Decimal:
        return sum((line.typed for line in self.lines if line.kind == kind), ZERO)

    def at_list(self, line: ResolvedLine) -> Decimal:
        """Return the list price for the first sale; for a later one where as much was typed as given back."""
        if line.asks != Asks.LIST_PRICE:
            return ZERO
        return self._price if self.before(line) * self._price <= self._free_for_sale else ZERO

    def before(self, line: ResolvedLine) -> int:
        """Count earlier lines that leave the same open; before a sale, those at list price."""
        alike = self._untyped_sales if line.kind == "sale" else self._orders(line.asks) if line.asks else ()
        return sum(order < line.order for order in alike)

    def sold_already(self, line: ResolvedLine) -> Decimal:
        """Return what earlier sales brought, less what was given back; 0 where the line is no later sale."""
        if line.kind != "sale" or len(self.lines) == 1:
            return ZERO
        earlier = (other.typed for other in self.lines if other.kind == "sale" and other.order < line.order)
        return sum(earlier, self.before(line) * self._price) + self._typed("refund")

    def left(self, line: ResolvedLine) -> Decimal:
        """Return what the first empty balance, or the first empty refund, moves."""
        if line.asks == Asks.BALANCE and line.order <= self._balances[0]:
            return max(ZERO, self._price - self._net)
        if line.asks == Asks.REFUND and line.order <= self.refunds[0]:
            return -max(self._net, self._price if self._balances else ZERO)
        return ZERO


def sum_of(lines: Iterable[PricedLine], *kinds: LineKind) -> Decimal:
    """Return what the lines of some kinds move together."""
    return sum((line.amount for line in lines if line.kind in kinds), ZERO)
