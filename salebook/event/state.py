"""How things stand: each line as it counts, each piece's status."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property

from salebook.event.amounts import PricedLine, priced_lines
from salebook.event.entries import Entries, LineIdentity, PieceEntry
from salebook.event.kiln_count import Grading, KilnCounts, graded, grading_of, kiln_counts
from salebook.event.lines import fold_case, resolved_lines, trimmed
from salebook.event.pieces import (
    EMPTY,
    GONE,
    NO_ENTRY,
    PAID_FOR,
    Account,
    PieceState,
    PieceTotals,
    Status,
    accounts_of,
)
from salebook.event.posted_line import PostedLine
from salebook.event.prices import agreed_for_it, ordered_at, price_of
from salebook.event.register import Piece
from salebook.event.remarks import LineRemark, Remark
from salebook.plan.model import Plan, Source, Ware
from salebook.plan.money import ZERO, rounded


@dataclass(frozen=True, kw_only=True)
class EventState:
    """Lines in line order, pieces in register order, the totals of each code in plan order."""

    lines: tuple[PostedLine, ...]
    pieces: tuple[PieceState, ...]
    piece_totals: tuple[PieceTotals, ...]
    kiln_counts: KilnCounts
    gradings: Mapping[str, Grading]
    """By code."""

    @cached_property
    def by_identity(self) -> Mapping[LineIdentity, PostedLine]:
        """The lines by what tells each from all others."""
        return {line.line.identity: line for line in self.lines}

    def sold(self, code: str) -> int:
        """Return how many pieces of a code are sold."""
        return sum(piece.sold for piece in self.pieces if piece.piece.code == code)


def state_of(plan: Plan, register: Sequence[Piece], entries: Entries) -> EventState:
    """Return how each line counts and how each piece stands; the order of the lines given changes nothing."""
    reckoner = _Reckoner(plan, register, entries)
    pieces = tuple(reckoner.piece(row, piece) for row, piece in enumerate(reckoner.register))
    return EventState(
        lines=tuple(reckoner.posted(line, pieces) for line in reckoner.lines),
        pieces=pieces,
        piece_totals=tuple(reckoner.totals(good, pieces) for good in plan.goods),
        kiln_counts=reckoner.counts,
        gradings=reckoner.gradings,
    )


class _Reckoner:
    """What all pieces and lines of a sale are worked out from."""

    def __init__(self, plan: Plan, register: Sequence[Piece], entries: Entries) -> None:
        goods, self._digits = plan.goods, plan.sale.digits
        self.counts = kiln_counts(plan, entries)
        made = {ware.code: entries.made[ware.code] for ware in plan.wares if ware.code in entries.made}
        self._planned = {good.code: _planned_out(good, register) for good in goods}
        self._counted = {code: offer.pieces for code, offer in self.counts.items()} | made
        self._out = self._planned | self._counted
        self.gradings = {
            code: grading_of(_of_code(code, register), self.counts.get(code), out, entries)
            for code, out in self._out.items()
        }
        register = self.register = [graded(piece, self.counts, self.gradings) for piece in register]
        self._entries = [
            entries.pieces.get(piece.number, NO_ENTRY) if piece.index else NO_ENTRY for piece in register
        ]
        self._ordered_at = ordered_at(plan, register, self._entries, entries)
        self._prices = [
            price_of(piece, entry, ordered_at=at.price, digits=self._digits)
            for piece, entry, at in zip(register, self._entries, self._ordered_at, strict=True)
        ]
        self.lines = priced_lines(resolved_lines(plan, register, self._prices, entries.lines))
        self._accounts, self._orders = accounts_of(self.lines), _orders(self.lines)
        self._straight = {way.name: way.paid_to for way in plan.payments if way.paid_to}

    def piece(self, row: int, piece: Piece) -> PieceState:
        """Return how a piece of the register stands; `row` counts from 0."""
        entry, price = self._entries[row], self._prices[row]
        account, out = self._accounts.get(row + 1, EMPTY), self._out[piece.code]
        held_for = (trimmed(entry.reserved_for) or account.claim) if piece.index else ""
        order = piece.code, fold_case(held_for)
        fills_order = bool(held_for) and order in self._orders
        if piece.index:
            status = _status(piece, entry, account, out=out, fills_order=fills_order)
        else:
            status = _status_of_many(account, out=out)
        sold = int(status == "sold") if piece.index else account.pieces_sold
        return PieceState(
            piece=piece,
            entry=entry,
            account=account,
            grade=entry.grade or piece.planned_grade,
            price=price,
            agreed=agreed_for_it(entry, self._digits),
            status=status,
            paid=account.paid,
            to_pay=max(ZERO, price - account.paid) if status in {"deposit", "reserved"} else ZERO,
            sold=sold,
            to_giver=rounded(piece.keeps * account.paid, self._digits) if sold else ZERO,
            held_for=held_for,
            fills_order=fills_order,
            paid_with_order=self._orders[order] if fills_order else ZERO,
            ordered_at=self._ordered_at[row],
            warning=_warning(piece, entry, out=out) if status in PAID_FOR and piece.index else None,
        )

    def totals(self, good: Source, pieces: Sequence[PieceState]) -> PieceTotals:
        """Return how many of a good's pieces stand how."""
        of_good = [piece for piece in pieces if piece.piece.code == good.code]
        orders = [line for line in self.lines if line.kind == "order" and line.piece_number == good.code]
        statuses: Counter[Status] = Counter(piece.status for piece in of_good if piece.piece.index)
        sold, ordered = sum(piece.sold for piece in of_good), sum(line.count for line in orders)
        is_numbered, out = not isinstance(good, Ware) or good.numbered, self._out[good.code]
        return PieceTotals(
            code=good.code,
            name=good.name,
            price=good.price,
            planned=self._planned[good.code],
            counted=counts.pieces if (counts := self.counts.get(good.code)) else None,
            is_counted=good.code in self._counted,
            out=out,
            sold=sold,
            here=statuses["here"] if is_numbered else max(0, out - sold),
            reserved=statuses["reserved"],
            deposit=statuses["deposit"],
            gone=sum(statuses[status] for status in GONE),
            ordered=ordered,
            to_make=max(0, ordered - sum(piece.fills_order for piece in of_good)),
        )

    def posted(self, line: PricedLine, pieces: Sequence[PieceState]) -> PostedLine:
        """Return a line as it counts."""
        piece, paid_to = pieces[line.index - 1] if line.index else None, self._straight.get(line.way, "")
        return PostedLine.of(
            line,
            named=line.gift or line.amount if line.group and not paid_to else ZERO,
            is_payment=line.money > 0 and not line.line.with_above and not paid_to,
            piece=piece,
            paid_to=paid_to,
            example=pieces[0].piece,
        )


def _orders(lines: Sequence[PricedLine]) -> Mapping[tuple[str, str], Decimal]:
    """Return what was paid on orders, by the code ordered and the claim in small letters."""
    paid: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
    for line in lines:
        if line.kind == "order" and not line.numbered:
            paid[line.piece_number, fold_case(line.line.claim)] += line.amount
    return paid


def _of_code(code: str, register: Sequence[Piece]) -> list[Piece]:
    return [piece for piece in register if piece.code == code]


def _planned_out(good: Source, register: Sequence[Piece]) -> int:
    """Return how many of a good's pieces there are to sell as planned.

    These are the pieces wanted, and the expected seconds where they have a price.
    """
    of_good = _of_code(good.code, register)
    if not isinstance(good, Ware) or not good.numbered:
        return sum(piece.count for piece in of_good)
    return good.wanted + sum(piece.planned_grade == "second" for piece in of_good)


def _status(piece: Piece, entry: PieceEntry, account: Account, *, out: int, fills_order: bool) -> Status:
    if account.settled > 0 or (fills_order and account.is_handed_over):
        return "sold"
    if account.paid > 0:
        return "deposit"
    if entry.mishap:
        return entry.mishap
    if piece.index > out:
        return "not made"
    return "reserved" if trimmed(entry.reserved_for) or account.orders else "here"


def _status_of_many(account: Account, *, out: int) -> Status:
    if out == 0 and not account.pieces_sold:
        return "not made"
    return "here" if account.pieces_sold < out else "sold"


def _warning(piece: Piece, entry: PieceEntry, *, out: int) -> LineRemark | None:
    if entry.mishap:
        return LineRemark(Remark.MARKED_AS, entry.mishap)
    return LineRemark(Remark.NOT_OUT_OF_THE_KILN) if piece.index > out else None
