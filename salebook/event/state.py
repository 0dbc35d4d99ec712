"""How things stand: each line as it counts, each piece's status."""

from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal, get_args

from salebook.event.amounts import PricedLine, priced_lines
from salebook.event.entries import Entries, Grade, Mishap, PieceEntry
from salebook.event.kiln_count import Grading, KilnCounts, graded, grading_of, kiln_counts
from salebook.event.lines import fold_case, resolved_lines, trimmed
from salebook.event.piece_accounts import EMPTY, Account, accounts_of
from salebook.event.prices import ordered_at, price_of
from salebook.event.register import Piece, wares_and_donated
from salebook.event.remarks import LineRemark, Remark, RemarkedPiece, piece_remark, remark_on
from salebook.plan.model import Donated, Plan, Ware
from salebook.plan.money import ZERO, rounded

NO_ENTRY = PieceEntry()
PAID_FOR = frozenset({"sold", "deposit"})

Status = Literal[
    "not made", "here", "reserved", "deposit", "sold", "broken", "missing", "given away", "left over"
]
GONE: tuple[Status, ...] = get_args(Mishap)


@dataclass(frozen=True, kw_only=True)
class PieceState:
    """A piece as it stands."""

    piece: Piece
    grade: Grade
    price: Decimal
    status: Status
    paid: Decimal
    to_pay: Decimal
    sold: int
    """1 where it is sold; for a ware that is not numbered, how many."""
    to_giver: Decimal
    reserved_for: str
    """The claim number filled in on Pieces."""
    account: Account
    """What the lines of takings say of it."""
    held_for: str
    """The claim number that it waits for: as filled in, else that of its first line."""
    fills_order: bool
    """Whether it is put aside for a claim that ordered such a ware."""
    paid_with_order: Decimal
    """What was paid on the orders that it fills, together with the other pieces of its claim."""
    ordered_at: Decimal
    """What one piece of that order costs where its price was agreed; 0: as the plan says."""
    aside_from: date | None
    """The day from which a mark on Pieces keeps it off the table; None: no mark, or no day."""
    has_agreed_price: bool
    """Whether its price was agreed with somebody and no longer follows the plan."""
    warning: LineRemark | None
    """What is odd about money paid for it; None: nothing."""

    @property
    def is_spoken_for(self) -> bool:
        """Whether a price holds with somebody: reserved, ordered, or paid in part or with an order."""
        kinds = {line.kind for line in self.account.lines}
        return bool(trimmed(self.reserved_for) or self.fills_order or "order" in kinds) or (
            self.paid > 0 and not kinds.isdisjoint({"deposit", "balance"})
        )


@dataclass(frozen=True, kw_only=True)
class PostedLine(PricedLine):
    """A line as it counts; money is signed, a refund is negative."""

    named: Decimal
    """The part that goes to the named group in full: the gift, or the whole line where there is no gift."""
    is_payment: bool
    """Whether the way's fixed fee is due: a positive line that is not "with the line above"."""
    remark: LineRemark | None
    """What needs a look; None: nothing."""
    piece: PieceState | None
    """The piece of the register that it is about."""
    about_piece: LineRemark | None
    """The part of the remarks that is about the piece and its amount."""
    straight: bool
    """Whether the money went straight to a group and never into the takings."""

    @property
    def bears_fee(self) -> Decimal:
        """The arrived money on which the way to pay takes its percentage."""
        return ZERO if self.straight else max(ZERO, self.arrived)


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


@dataclass(frozen=True, kw_only=True)
class EventState:
    """Lines in line order, pieces in register order, the totals of each code in plan order."""

    lines: tuple[PostedLine, ...]
    pieces: tuple[PieceState, ...]
    piece_totals: tuple[PieceTotals, ...]
    kiln_counts: KilnCounts
    gradings: Mapping[str, Grading]
    """By code."""

    def sold(self, code: str) -> int:
        """Return how many pieces of a code are sold."""
        return sum(piece.sold for piece in self.pieces if piece.piece.code == code)


def state_of(plan: Plan, register: Sequence[Piece], entries: Entries) -> EventState:
    """Return how each line counts and how each piece stands; the order of the lines given changes nothing."""
    goods = wares_and_donated(plan)
    by_code = {good.code: [piece for piece in register if piece.code == good.code] for good in goods}
    counts = kiln_counts(plan, entries)
    out = {good.code: _out(good, by_code[good.code], counts, entries) for good in goods}
    gradings = {
        code: grading_of(pieces, counts.get(code), out[code], entries) for code, pieces in by_code.items()
    }
    register = [graded(piece, counts, gradings) for piece in register]
    typed = [entries.pieces.get(piece.number, NO_ENTRY) if piece.index else NO_ENTRY for piece in register]
    ordered = ordered_at(plan, register, typed, entries)
    prices = [
        price_of(piece, entry, ordered_at=at, digits=plan.sale.digits)
        for piece, entry, at in zip(register, typed, ordered, strict=True)
    ]
    lines = priced_lines(resolved_lines(plan, register, prices, entries.lines))
    accounts, orders = accounts_of(lines), _orders(lines)
    pieces = tuple(
        _piece_state(
            piece,
            entry,
            accounts.get(row, EMPTY),
            orders,
            price=prices[row - 1],
            ordered_at=ordered[row - 1],
            out=out[piece.code],
            digits=plan.sale.digits,
        )
        for row, (piece, entry) in enumerate(zip(register, typed, strict=True), start=1)
    )
    piece_totals = (
        _piece_totals(
            good,
            by_code[good.code],
            [piece for piece in pieces if piece.piece.code == good.code],
            lines,
            counted=counts[good.code].pieces if good.code in counts else None,
            is_counted=good.code in counts or good.code in entries.made,
            out=out[good.code],
        )
        for good in goods
    )
    return EventState(
        lines=_posted_lines(plan, lines, pieces, typed),
        pieces=pieces,
        piece_totals=tuple(piece_totals),
        kiln_counts=counts,
        gradings=gradings,
    )


def _out(good: Ware | Donated, pieces: Sequence[Piece], counts: KilnCounts, entries: Entries) -> int:
    if isinstance(good, Donated):
        return planned_out(good, pieces)
    counted = counts[good.code].pieces if good.code in counts else planned_out(good, pieces)
    return entries.made.get(good.code, counted)


def _posted_lines(
    plan: Plan, lines: Sequence[PricedLine], pieces: Sequence[PieceState], typed: Sequence[PieceEntry]
) -> tuple[PostedLine, ...]:
    codes = frozenset(good.code for good in wares_and_donated(plan))
    straight = {way.name: way.paid_to for way in plan.payments if way.paid_to}
    return tuple(
        _posted(
            line,
            pieces[row - 1] if (row := line.index) else None,
            typed[row - 1] if row else NO_ENTRY,
            codes=codes,
            example=pieces[0].piece,
            straight=straight,
        )
        for line in lines
    )


def _grade(piece: Piece, entry: PieceEntry) -> Grade:
    return entry.grade or piece.planned_grade


def _orders(lines: Sequence[PricedLine]) -> Mapping[tuple[str, str], Decimal]:
    """Return what was paid on orders, by the code ordered and the claim in small letters."""
    paid: dict[tuple[str, str], Decimal] = defaultdict(Decimal)
    for line in lines:
        if line.kind == "order" and not line.numbered:
            paid[line.piece_number, fold_case(line.line.claim)] += line.amount
    return paid


def planned_out(good: Ware | Donated, pieces: Sequence[Piece]) -> int:
    """Return how many of a good's pieces there are to sell as planned.

    These are the pieces wanted, and the expected seconds where they have a price.
    """
    if isinstance(good, Donated) or not good.numbered:
        return sum(piece.count for piece in pieces)
    return good.wanted + sum(piece.planned_grade == "second" for piece in pieces)


def _piece_state(
    piece: Piece,
    entry: PieceEntry,
    account: Account,
    orders: Mapping[tuple[str, str], Decimal],
    *,
    price: Decimal,
    ordered_at: Decimal,
    out: int,
    digits: int,
) -> PieceState:
    grade = _grade(piece, entry)
    held_for = (trimmed(entry.reserved_for) or account.claim) if piece.index else ""
    order = piece.code, fold_case(held_for)
    fills_order = bool(held_for) and order in orders
    status = (
        _status(piece, entry, account, out=out, fills_order=fills_order)
        if piece.index
        else _status_of_many(account, out=out)
    )
    to_pay = max(ZERO, price - account.paid) if status in {"deposit", "reserved"} else ZERO
    sold = int(status == "sold") if piece.index else account.pieces_sold
    return PieceState(
        piece=piece,
        grade=grade,
        price=price,
        status=status,
        paid=account.paid,
        to_pay=to_pay,
        sold=sold,
        to_giver=rounded(piece.keeps * account.paid, digits) if sold else ZERO,
        reserved_for=entry.reserved_for,
        account=account,
        held_for=held_for,
        fills_order=fills_order,
        paid_with_order=orders[order] if fills_order else ZERO,
        ordered_at=ordered_at,
        aside_from=entry.marked_on if _is_set_aside(entry) else None,
        has_agreed_price=bool(ordered_at or entry.agreed_price),
        warning=_warning(piece, entry, out=out) if status in PAID_FOR and piece.index else None,
    )


def _is_set_aside(entry: PieceEntry) -> bool:
    """Whether a mark takes a piece off the table; what is left over stood there to the last."""
    return entry.mishap != "left over" and bool(entry.mishap or trimmed(entry.reserved_for))


def _status(piece: Piece, entry: PieceEntry, account: Account, *, out: int, fills_order: bool) -> Status:
    if account.settled > 0 or (fills_order and account.is_handed_over):
        return "sold"
    if account.paid > 0:
        return "deposit"
    if entry.mishap:
        return entry.mishap
    if piece.index > out:
        return "not made"
    return "reserved" if trimmed(entry.reserved_for) or account.is_ordered else "here"


def _status_of_many(account: Account, *, out: int) -> Status:
    if out == 0 and not account.pieces_sold:
        return "not made"
    return "here" if account.pieces_sold < out else "sold"


def _warning(piece: Piece, entry: PieceEntry, *, out: int) -> LineRemark | None:
    if entry.mishap:
        return LineRemark(Remark.MARKED_AS, entry.mishap)
    return LineRemark(Remark.NOT_OUT_OF_THE_KILN) if piece.index > out else None


def _piece_totals(
    good: Ware | Donated,
    register: Sequence[Piece],
    pieces: Sequence[PieceState],
    lines: Sequence[PricedLine],
    *,
    counted: int | None,
    is_counted: bool,
    out: int,
) -> PieceTotals:
    statuses: Counter[Status] = Counter(piece.status for piece in pieces if piece.piece.index)
    sold = sum(piece.sold for piece in pieces)
    is_numbered = not isinstance(good, Ware) or good.numbered
    ordered = sum(line.count for line in lines if line.kind == "order" and line.piece_number == good.code)
    return PieceTotals(
        code=good.code,
        name=good.name,
        price=good.price,
        planned=planned_out(good, register),
        counted=counted,
        is_counted=is_counted,
        out=out,
        sold=sold,
        here=statuses["here"] if is_numbered else max(0, out - sold),
        reserved=statuses["reserved"],
        deposit=statuses["deposit"],
        gone=sum(statuses[status] for status in GONE),
        ordered=ordered,
        to_make=max(0, ordered - sum(piece.fills_order for piece in pieces)),
    )


def _remarked(piece: PieceState) -> RemarkedPiece:
    return RemarkedPiece(
        is_gone=piece.status in {*PAID_FOR, *GONE},
        warning=piece.warning,
        paid=piece.paid,
        paid_with_order=piece.paid_with_order,
    )


def _posted(
    priced: PricedLine,
    piece: PieceState | None,
    entry: PieceEntry,
    *,
    codes: frozenset[str],
    example: Piece,
    straight: Mapping[str, str],
) -> PostedLine:
    paid_to = straight.get(priced.way, "")
    about_piece = piece_remark(
        priced,
        piece.account.lines if piece else (),
        codes=codes,
        example=example,
        entry=entry,
        piece=_remarked(piece) if piece else None,
    )
    return PostedLine(
        **vars(priced),
        named=priced.gift or priced.amount if priced.group and not paid_to else ZERO,
        is_payment=priced.money > 0 and not priced.line.with_above and not paid_to,
        remark=remark_on(priced, about_piece, paid_to=paid_to),
        piece=piece,
        about_piece=about_piece,
        straight=bool(paid_to),
    )
