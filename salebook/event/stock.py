"""What became of the pieces: made, sold at which prices, given away, lost, left; and the money for them."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from salebook.event.amounts import PricedLine
from salebook.event.entries import LineKind
from salebook.event.lines import OF_A_PIECE
from salebook.event.pieces import PieceState, PieceTotals, Status
from salebook.event.posted_line import PostedLine
from salebook.event.state import EventState
from salebook.plan.model import Ware
from salebook.plan.money import ZERO, rounded

FOR_PIECES: Final[frozenset[LineKind]] = OF_A_PIECE | {"order"}
"""Kinds of line that bring money for pieces, or give it back."""
LOST: Final[frozenset[Status]] = frozenset({"broken", "missing"})


@dataclass(frozen=True, kw_only=True)
class SoldAt:
    """So many pieces at one price; `price` is None where only their sum is known."""

    count: int
    price: Decimal | None
    amount: Decimal


@dataclass(frozen=True, kw_only=True)
class Stock:
    """All pieces of one code; made = sold + given away + lost + left."""

    code: str
    name: str
    is_counted: bool
    """Whether somebody counted what came out of the kiln; else it is as planned."""
    sold_at: tuple[SoldAt, ...]
    """Dearest first."""
    given_away: int
    lost: int
    """Broken or missing."""
    left: int

    @property
    def sold(self) -> int:
        """How many are sold."""
        return sum(some.count for some in self.sold_at)

    @property
    def made(self) -> int:
        """How many came out of the kiln, or were given to the sale."""
        return self.sold + self.given_away + self.lost + self.left

    @property
    def amount(self) -> Decimal:
        """What was paid for those that are sold, gifts on top left out."""
        return sum((some.amount for some in self.sold_at), ZERO)


@dataclass(frozen=True, kw_only=True)
class PieceMoney:
    """From the prices of the pieces that are sold to what stands in the takings for pieces."""

    sold: Decimal
    part_paid: Decimal
    """On pieces that are not sold."""
    on_orders: Decimal
    """On orders without a piece's number."""
    without_piece: Decimal
    """On lines that name no piece of the sale."""
    waiting: Decimal
    """Of all that: not arrived yet."""
    straight: Decimal
    """Of all that: paid straight to a group."""

    @property
    def in_takings(self) -> Decimal:
        """What arrived of it in the takings."""
        paid = self.sold + self.part_paid + self.on_orders + self.without_piece
        return paid - self.waiting - self.straight


def stock_of(state: EventState, digits: int) -> tuple[Stock, ...]:
    """Return what became of each good's pieces, in plan order; those of which there were none left out."""
    found = (_stock(totals, state, digits) for totals in state.piece_totals)
    return tuple(stock for stock in found if stock.made)


def _stock(totals: PieceTotals, state: EventState, digits: int) -> Stock:
    pieces = [piece for piece in state.pieces if piece.piece.code == totals.code]
    is_numbered = any(piece.piece.index for piece in pieces)
    statuses = Counter(piece.status for piece in pieces)
    return Stock(
        code=totals.code,
        name=totals.name,
        is_counted=totals.is_counted or not isinstance(pieces[0].piece.source, Ware),
        sold_at=_numbered_at(pieces) if is_numbered else _counted_at(pieces, digits),
        given_away=statuses["given away"],
        lost=sum(statuses[status] for status in LOST),
        left=totals.here + totals.reserved + totals.deposit + statuses["left over"],
    )


def _numbered_at(pieces: Iterable[PieceState]) -> tuple[SoldAt, ...]:
    return _at_prices(Counter(piece.paid for piece in pieces if piece.sold))


def _at_prices(counts: Counter[Decimal]) -> tuple[SoldAt, ...]:
    return tuple(
        SoldAt(count=count, price=price, amount=price * count)
        for price, count in sorted(counts.items(), reverse=True)
        if count
    )


def _counted_at(pieces: Sequence[PieceState], digits: int) -> tuple[SoldAt, ...]:
    """Return the prices of a ware that is not numbered, where they follow from its lines."""
    sold = sum(piece.sold for piece in pieces)
    paid = sum((piece.paid for piece in pieces if piece.sold), ZERO)
    counts: Counter[Decimal] = Counter()
    for line in (line for piece in pieces for line in piece.account.lines if piece.sold):
        counts[_each(line, digits)] += line.signed * line.count
    at = _at_prices(counts)
    follows = all(some.count > 0 for some in at) and sum(some.count for some in at) == sold
    if follows and sum((some.amount for some in at), ZERO) == paid:
        return at
    return (SoldAt(count=sold, price=None, amount=paid),) if sold else ()


def _each(line: PricedLine, digits: int) -> Decimal:
    return rounded(abs(line.amount) / line.count, digits) if line.count else ZERO


def piece_money(state: EventState) -> PieceMoney:
    """Return the money for pieces; gifts on top left out."""
    lines = [line for line in state.lines if line.kind in FOR_PIECES]
    loose: dict[bool, Decimal] = defaultdict(Decimal)
    for line in lines:
        if not line.index:
            loose[line.kind == "order"] += line.amount
    return PieceMoney(
        sold=_paid(state.pieces, sold=True),
        part_paid=_paid(state.pieces, sold=False),
        on_orders=loose[True],
        without_piece=loose[False],
        waiting=_amounts(line for line in lines if line.line.waiting),
        straight=_amounts(line for line in lines if line.straight and not line.line.waiting),
    )


def _paid(pieces: Iterable[PieceState], *, sold: bool) -> Decimal:
    return sum((piece.paid for piece in pieces if bool(piece.sold) == sold), ZERO)


def _amounts(lines: Iterable[PostedLine]) -> Decimal:
    return sum((line.amount for line in lines), ZERO)
