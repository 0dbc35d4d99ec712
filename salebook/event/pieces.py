"""Each piece as it stands, by what is filled in about it and what the lines of takings say of it."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal, get_args

from salebook.event.amounts import PricedLine
from salebook.event.entries import Grade, LineKind, Mishap, PieceEntry
from salebook.event.lines import Asks, trimmed
from salebook.event.prices import OrderPrice
from salebook.event.register import Piece
from salebook.event.remarks import LineRemark
from salebook.plan.money import ZERO

NO_ENTRY = PieceEntry()
PAID_FOR = frozenset({"sold", "deposit"})

Status = Literal[
    "not made", "here", "reserved", "deposit", "sold", "broken", "missing", "given away", "left over"
]
GONE: tuple[Status, ...] = get_args(Mishap)
HELD: frozenset[Status] = frozenset({"reserved", "deposit"})


@dataclass(frozen=True, kw_only=True)
class Several:
    """What several lines of a piece add up to; all is 0 where it has one line or none."""

    net: Decimal = ZERO
    """What was typed, and what counts at list price."""
    typed_sales: Decimal = ZERO
    refunds: Decimal = ZERO
    """Given back by amount, negative."""
    deposits: Decimal = ZERO
    on_orders: Decimal = ZERO
    balances: int = 0
    """How many lines are balances."""
    asks_left: int = 0
    """How many of those leave open what was left to pay."""


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
    several: Several

    @property
    def only_kind(self) -> str:
        """The kind of its only line; empty where it has none or several."""
        return self.lines[0].kind if len(self.lines) == 1 else ""

    @property
    def orders(self) -> int:
        """How many lines order this very piece."""
        return _number(self.lines, "order")

    @property
    def claim(self) -> str:
        """The claim number on its first line."""
        return trimmed(self.lines[0].line.claim) if self.lines else ""


def account_of(lines: Sequence[PricedLine]) -> Account:
    """Add up the lines of one row of the register."""
    paid = sum((line.amount for line in lines), ZERO)
    ahead = sum((line.amount for line in lines if line.kind in {"deposit", "order"}), ZERO)
    return Account(
        lines=tuple(lines),
        paid=paid,
        settled=paid if _number(lines, "balance") else paid - ahead,
        pieces_sold=max(0, _count(lines, "sale") + _count(lines, "balance") - _count(lines, "refund")),
        is_handed_over=_number(lines, "sale", "balance") > _number(lines, "refund"),
        several=_several(lines) if len(lines) > 1 else Several(),
    )


def _several(lines: Sequence[PricedLine]) -> Several:
    def typed(kind: LineKind) -> Decimal:
        return sum((line.typed for line in lines if line.kind == kind), ZERO)

    return Several(
        net=sum((line.typed + line.at_list for line in lines), ZERO),
        typed_sales=typed("sale"),
        refunds=typed("refund"),
        deposits=typed("deposit"),
        on_orders=typed("order"),
        balances=_number(lines, "balance"),
        asks_left=sum(line.asks == Asks.BALANCE for line in lines),
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


@dataclass(frozen=True, kw_only=True)
class PieceState:
    """A piece as it stands."""

    piece: Piece
    entry: PieceEntry
    """What is filled in about it on Pieces."""
    account: Account
    """What the lines of takings say of it."""
    grade: Grade
    price: Decimal
    agreed: Decimal
    """The price that was agreed for it alone; 0: none."""
    status: Status
    paid: Decimal
    to_pay: Decimal
    sold: int
    """1 where it is sold; for a ware that is not numbered, how many."""
    to_giver: Decimal
    held_for: str
    """The claim number that it waits for: as filled in, else that of its first line."""
    fills_order: bool
    """Whether it is put aside for a claim that ordered such a ware."""
    paid_with_order: Decimal
    """What was paid on the orders that it fills, together with the other pieces of its claim."""
    ordered_at: OrderPrice
    """What one piece of that order costs where its price was agreed; 0: as the plan says."""
    warning: LineRemark | None
    """What is odd about money paid for it; None: nothing."""

    @property
    def kept_for(self) -> str:
        """The claim number that is filled in as the one it is reserved for."""
        return trimmed(self.entry.reserved_for)

    @property
    def is_gone(self) -> bool:
        """Whether it is sold, part paid or cannot be sold any more."""
        return self.status in {*PAID_FOR, *GONE}

    @property
    def aside_from(self) -> date | None:
        """The day from which a mark on Pieces keeps it off the table; None: no mark, or no day."""
        is_set_aside = self.entry.mishap or self.kept_for
        # What is left over stood there to the last.
        return self.entry.marked_on if is_set_aside and self.entry.mishap != "left over" else None

    @property
    def has_agreed_price(self) -> bool:
        """Whether its price was agreed with somebody and no longer follows the plan."""
        return bool(self.ordered_at.price or self.entry.agreed_price)

    @property
    def is_spoken_for(self) -> bool:
        """Whether a price holds with somebody: reserved, ordered, or paid in part or with an order."""
        kinds = {line.kind for line in self.account.lines}
        return bool(self.kept_for or self.fills_order or "order" in kinds) or (
            self.paid > 0 and not kinds.isdisjoint({"deposit", "balance"})
        )


@dataclass(frozen=True, kw_only=True)
class PieceTotals:
    """All pieces of one code."""

    code: str
    name: str
    price: Decimal
    planned: int
    """Out of the kiln as planned, or given."""
    counted: int | None
    """Out of the kiln as the studio counted; None: not counted there."""
    is_counted: bool
    """Whether the studio or somebody on Pieces counted what is out of the kiln."""
    out: int
    """Out of the kiln as said on Pieces, else as the studio counted, else as planned."""
    sold: int
    here: int
    reserved: int
    deposit: int
    gone: int
    """Broken, missing, given away or left over."""
    ordered: int
    """Ordered without a piece's number."""
    to_make: int
    """Ordered, and no piece put aside for it yet."""
