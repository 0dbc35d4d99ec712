"""What each line moves: amounts that were not typed follow from the other lines of the same piece.

No sum here depends on the order of the lines. Only which of two like lines is the one too many does.
"""

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from salebook.event.entries import LineKind
from salebook.event.lines import Asks, ResolvedLine
from salebook.plan.money import ZERO


@dataclass(frozen=True, kw_only=True)
class PricedLine(ResolvedLine):
    """A line with what it moves, gift left out."""

    same: int = 0
    """How many lines stand on the same numbered piece, this one taken in; 0 where there is none."""
    is_first: bool = False
    """Whether it is the first line of its numbered piece, by till and number."""
    at_list: Decimal = ZERO
    """What it moves at list price because no amount is typed."""
    left: Decimal = ZERO
    """An empty balance: what was left to pay. An empty refund: all that was paid, negative."""
    before: int = 0
    """How many earlier lines of the piece leave the same open; before a sale, sales without an amount."""
    comes_after_refund: bool = False
    """Whether it pays for a piece after a refund of all that was paid."""
    sold_already: Decimal = ZERO
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
        return PricedLine.of(line, at_list=counted)
    account = accounts[line.index]
    return PricedLine.of(
        line,
        same=len(account.lines),
        is_first=account.lines[0] is line,
        at_list=account.at_list(line),
        left=account.left(line),
        before=account.before(line),
        comes_after_refund=line.is_paying and account.is_given_back_before(line),
        sold_already=account.sold_already(line),
    )


class _LinesOfPiece:
    """All lines of one numbered piece, in their order."""

    def __init__(self, lines: Sequence[ResolvedLine]) -> None:
        self.lines = lines
        self._price = lines[0].list_price or ZERO
        self._asking: dict[Asks, list[int]] = defaultdict(list)
        """The orders of those that leave something open."""
        self._typed: dict[LineKind, Decimal] = defaultdict(Decimal)
        for line in lines:
            self._asking[line.asks].append(line.order)
            self._typed[line.kind] += line.typed
        self._free_for_sale = -self._typed["refund"] - self._typed["sale"]
        listed = sum((self.at_list(line) for line in lines), ZERO)
        self._net = sum((line.typed for line in lines), listed)

    def at_list(self, line: ResolvedLine) -> Decimal:
        """Return the list price for the first sale; for a later one where as much was typed as given back."""
        if line.asks != Asks.LIST_PRICE:
            return ZERO
        return self._price if self.before(line) * self._price <= self._free_for_sale else ZERO

    def before(self, line: ResolvedLine) -> int:
        """Count earlier lines that leave the same open; before a sale, those at list price."""
        asks = Asks.LIST_PRICE if line.kind == "sale" else line.asks
        return bisect_left(self._asking[asks], line.order) if asks else 0

    def is_given_back_before(self, line: ResolvedLine) -> bool:
        """Whether all that was paid is given back on an earlier line."""
        return any(order < line.order for order in self._asking[Asks.REFUND][:1])

    def sold_already(self, line: ResolvedLine) -> Decimal:
        """Return what earlier sales brought, less what was given back; 0 where the line is no later sale."""
        if line.kind != "sale" or len(self.lines) == 1:
            return ZERO
        earlier = (other.typed for other in self.lines if other.kind == "sale" and other.order < line.order)
        return sum(earlier, self.before(line) * self._price) + self._typed["refund"]

    def left(self, line: ResolvedLine) -> Decimal:
        """Return what the first empty balance, or the first empty refund, moves."""
        if self.before(line):
            return ZERO
        if line.asks == Asks.BALANCE:
            return max(ZERO, self._price - self._net)
        if line.asks == Asks.REFUND:
            return -max(self._net, self._price if self._asking[Asks.BALANCE] else ZERO)
        return ZERO
