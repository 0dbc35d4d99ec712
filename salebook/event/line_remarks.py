"""What needs a look on a line of takings; of several remarks the first is said."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from salebook.event.amounts import PricedLine
from salebook.event.entries import Line
from salebook.event.lines import OF_A_PIECE, Asks, fold_case, has_entries, kind_label, trimmed
from salebook.event.pieces import GONE, PAID_FOR, PieceState
from salebook.event.register import Piece
from salebook.event.remarks import FAR_ABOVE, LineRemark, Remark
from salebook.plan.money import ZERO


@dataclass(frozen=True, kw_only=True)
class RemarkedLine:
    """A line that is looked at for what is wrong with it."""

    line: PricedLine
    piece: PieceState | None
    """The line's piece where there is such a one."""
    example: Piece
    """A piece of the sale, which shows what to type."""
    paid_to: str
    """The group that its way to pay goes straight to."""


def remarks_on(remarked: RemarkedLine) -> Mapping[str, LineRemark | None]:
    """Return what each look at a line finds, in the order in which they count; None: nothing."""
    found = {name: look(remarked) for name, look in LOOKS.items()}
    return {
        name: LineRemark(remark) if isinstance(remark, Remark) else remark for name, remark in found.items()
    }


def first_of(remarks: Mapping[str, LineRemark | None], names: Iterable[str]) -> LineRemark | None:
    """Return the first of some remarks; None where there is none."""
    return next((remark for name in names if (remark := remarks[name])), None)


def said_of(line: Line, remarks: Mapping[str, LineRemark | None]) -> LineRemark | None:
    """Return the remark that is said of a line: the first where it has entries."""
    return first_of(remarks, remarks) if has_entries(line) else None


def _typed(remarked: RemarkedLine) -> Remark | None:
    line = remarked.line.line
    if any(key in {"amount", "gift", "count"} for key, _typed in line.unread):
        return Remark.NOT_A_NUMBER
    if min(line.amount or ZERO, line.gift or ZERO, Decimal(line.count or 0)) < 0:
        return Remark.WITH_A_MINUS
    return Remark.NO_SUCH_KIND if kind_label(line) == "?" else None


def _order(remarked: RemarkedLine) -> Remark | LineRemark | None:
    line = remarked.line
    if line.kind != "order" or line.index or line.ware:
        return None
    return _unknown(line, Remark.WHICH_WARE, remarked.example.code)


def _which(remarked: RemarkedLine) -> Remark | LineRemark | None:
    line = remarked.line
    if line.kind not in OF_A_PIECE:
        return None
    if not line.index:
        return _unknown(line, Remark.WHICH_PIECE, remarked.example.number)
    return None if line.line.count in {None, line.count} else Remark.ONE_NUMBER_ONE_PIECE


def _unknown(line: PricedLine, which: Remark, example: str) -> Remark | LineRemark:
    """Say that no piece stands there, or none of the sale; an example shows what to type."""
    return LineRemark(Remark.NO_SUCH_PIECE, example) if line.piece_number else which


def _other(remarked: RemarkedLine) -> Remark | None:
    """Look at a line that needs no piece."""
    line = remarked.line
    if line.kind in OF_A_PIECE or line.kind == "order":
        return None
    if line.piece_number:
        return Remark.NO_PIECE_HERE
    return Remark.HOW_MUCH if line.line.amount is None and line.line.gift is None else None


def _refund(remarked: RemarkedLine) -> Remark | None:
    line, piece = remarked.line, remarked.piece
    if line.kind != "refund":
        return None
    if line.asks == Asks.REFUND and not line.left:
        return Remark.NOTHING_TO_GIVE_BACK
    return Remark.MORE_THAN_PAID if piece and line.numbered and piece.paid < 0 else None


def _again(remarked: RemarkedLine) -> Remark | None:
    """Say whether an earlier line sold the piece already; what was typed as given back frees it again."""
    line, piece = remarked.line, remarked.piece
    if line.comes_after_refund:
        return Remark.GIVEN_BACK_BEFORE
    if piece is None or line.kind != "sale" or line.same < 2:
        return None
    untyped = line.asks == Asks.LIST_PRICE
    if (untyped and not line.at_list) or line.sold_already > 0:
        return Remark.SOLD_TWICE
    return Remark.DEPOSIT_IS_PAID if untyped and piece.account.several.deposits > 0 else None


def _amount(remarked: RemarkedLine) -> Remark | None:
    """Say whether an empty balance cannot be known: given back before it was paid, or after?"""
    line, piece = remarked.line, remarked.piece
    if piece is None or not line.is_paying:
        return None
    if line.asks == Asks.BALANCE:
        unclear = Remark.HOW_MUCH if piece.account.several.refunds < 0 else None
        return unclear if line.left else Remark.NOTHING_LEFT
    return Remark.HOW_MUCH if line.line.amount is None and not line.asks else None


def _given(remarked: RemarkedLine) -> Remark | None:
    """Look at a piece whose order was paid for, or that is handed over for nothing."""
    line, piece = remarked.line, remarked.piece
    if piece is None or not line.is_paying or not line.numbered:
        return None
    if line.asks and piece.paid_with_order > 0:
        return Remark.PAID_WITH_THE_ORDER
    return (
        Remark.GIVEN_AWAY
        if _is_sold_for_nothing(line.line) and piece.status not in {*PAID_FOR, *GONE}
        else None
    )


def _is_sold_for_nothing(line: Line) -> bool:
    return line.kind == "sale" and line.amount == 0 and "amount" not in dict(line.unread)


def _price(remarked: RemarkedLine) -> Remark | None:
    line = remarked.line
    if not line.is_paying or not line.numbered or not line.list_price:
        return None
    return Remark.FAR_ABOVE_PRICE if line.typed >= FAR_ABOVE * line.list_price else None


def _piece(remarked: RemarkedLine) -> LineRemark | None:
    """Say what is odd about a piece that is paid for, or for whom it is reserved."""
    line, piece = remarked.line, remarked.piece
    if piece is None or not line.is_paying:
        return None
    claim = trimmed(piece.entry.reserved_for)
    is_for_another = claim and fold_case(claim) != fold_case(line.line.claim)
    reserved = LineRemark(Remark.RESERVED_FOR, claim) if is_for_another else None
    return piece.warning or reserved


def _names(remarked: RemarkedLine) -> Remark | None:
    line = remarked.line
    if line.kind == "order" and not trimmed(line.line.claim):
        return Remark.CLAIM_NUMBER
    if trimmed(line.line.group) and not line.group:
        return Remark.NO_SUCH_GROUP
    return Remark.NO_SUCH_WAY if trimmed(line.line.way) and not line.way else None


def _paid(remarked: RemarkedLine) -> Remark | None:
    line = remarked.line
    if line.arrived and not line.way:
        return Remark.HOW_WAS_IT_PAID
    if remarked.paid_to and line.group not in {"", remarked.paid_to}:
        return Remark.PAID_TO_ANOTHER
    return Remark.NOT_A_DATE if "day" in dict(line.line.unread) else None


Look = Callable[[RemarkedLine], Remark | LineRemark | None]
OF_PIECE: Final[Mapping[str, Look]] = {
    "order": _order,
    "which": _which,
    "other": _other,
    "refund": _refund,
    "again": _again,
    "amount": _amount,
    "given": _given,
    "price": _price,
    "piece": _piece,
}
LOOKS: Final[Mapping[str, Look]] = {"typed": _typed, **OF_PIECE, "names": _names, "paid": _paid}
"""What is looked at, by name; of several remarks the first is said."""
ABOUT_PIECE: Final = tuple(OF_PIECE)
"""What is about the piece and its amount."""
