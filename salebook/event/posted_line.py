"""Each line as it counts, and what needs a look on it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import Final

from salebook.event.amounts import PricedLine
from salebook.event.lines import OF_A_PIECE, Asks, fold_case, has_entries, kind_label, trimmed
from salebook.event.pieces import PieceState
from salebook.event.register import Piece
from salebook.event.remarks import FAR_ABOVE, LineRemark, Remark
from salebook.plan.money import ZERO


@dataclass(frozen=True, kw_only=True)
class PostedLine(PricedLine):
    """A line as it counts; money is signed, a refund is negative."""

    named: Decimal
    """The part that goes to the named group in full: the gift, or the whole line where there is no gift."""
    is_payment: bool
    """Whether the way's fixed fee is due: a positive line that is not "with the line above"."""
    piece: PieceState | None
    """The piece of the register that it is about."""
    paid_to: str
    """The group that the money went straight to, never into the takings; empty: none."""
    example: Piece
    """A piece of the sale, which shows what to type."""

    @property
    def straight(self) -> bool:
        """Whether the money went straight to a group."""
        return bool(self.paid_to)

    @property
    def bears_fee(self) -> Decimal:
        """The arrived money on which the way to pay takes its percentage."""
        return ZERO if self.straight else max(ZERO, self.arrived)

    @cached_property
    def remarks(self) -> Mapping[str, LineRemark | None]:
        """What each look at the line finds, in the order in which they count; None: nothing."""
        found = {name: look(self) for name, look in LOOKS.items()}
        return {name: remark and _as_remark(remark) for name, remark in found.items()}

    @property
    def about_piece(self) -> LineRemark | None:
        """What is said of the piece and its amount."""
        return next((self.remarks[name] for name in ABOUT_PIECE if self.remarks[name]), None)

    @property
    def remark(self) -> LineRemark | None:
        """What needs a look, the first that is wrong; None: nothing, or nothing stands there."""
        looks = LOOKS.values() if has_entries(self.line) else ()
        return next((_as_remark(found) for look in looks if (found := look(self))), None)


def _as_remark(found: Remark | LineRemark) -> LineRemark:
    return LineRemark(found) if isinstance(found, Remark) else found


def _typed(line: PostedLine) -> Remark | None:
    typed = line.line
    if any(key in {"amount", "gift", "count"} for key, _typed in typed.unread):
        return Remark.NOT_A_NUMBER
    if any(number is not None and number < 0 for number in (typed.amount, typed.gift, typed.count)):
        return Remark.WITH_A_MINUS
    return Remark.NO_SUCH_KIND if kind_label(typed) == "?" else None


def _order(line: PostedLine) -> Remark | LineRemark | None:
    if line.kind != "order" or line.index or line.ware:
        return None
    return _unknown(line, Remark.WHICH_WARE, line.example.code)


def _which(line: PostedLine) -> Remark | LineRemark | None:
    if line.kind not in OF_A_PIECE:
        return None
    if not line.index:
        return _unknown(line, Remark.WHICH_PIECE, line.example.number)
    return None if line.line.count in {None, line.count} else Remark.ONE_NUMBER_ONE_PIECE


def _unknown(line: PostedLine, which: Remark, example: str) -> Remark | LineRemark:
    """Say that no piece stands there, or none of the sale; an example shows what to type."""
    return LineRemark(Remark.NO_SUCH_PIECE, example) if line.piece_number else which


def _other(line: PostedLine) -> Remark | None:
    """Look at a line that needs no piece."""
    if line.kind in OF_A_PIECE or line.kind == "order":
        return None
    if line.piece_number:
        return Remark.NO_PIECE_HERE
    return Remark.HOW_MUCH if line.line.amount is None and line.line.gift is None else None


def _refund(line: PostedLine) -> Remark | None:
    piece = line.piece
    if line.kind != "refund":
        return None
    if line.asks == Asks.REFUND and not line.left:
        return Remark.NOTHING_TO_GIVE_BACK
    return Remark.MORE_THAN_PAID if piece and line.numbered and piece.paid < 0 else None


def _again(line: PostedLine) -> Remark | None:
    """Say whether an earlier line sold the piece already; what was typed as given back frees it again."""
    piece = line.piece
    if line.comes_after_refund:
        return Remark.GIVEN_BACK_BEFORE
    if piece is None or line.kind != "sale" or line.same < 2:
        return None
    untyped = line.asks == Asks.LIST_PRICE
    if (untyped and not line.at_list) or line.sold_already > 0:
        return Remark.SOLD_TWICE
    return Remark.DEPOSIT_IS_PAID if untyped and piece.account.several.deposits > 0 else None


def _amount(line: PostedLine) -> Remark | None:
    """Say whether an empty balance cannot be known: given back before it was paid, or after?"""
    piece = line.piece
    if piece is None or not line.is_paying:
        return None
    if line.asks == Asks.BALANCE:
        unclear = Remark.HOW_MUCH if piece.account.several.refunds < 0 else None
        return unclear if line.left else Remark.NOTHING_LEFT
    return Remark.HOW_MUCH if line.line.amount is None and not line.asks else None


def _given(line: PostedLine) -> Remark | None:
    """Look at a piece whose order was paid for, or that is handed over for nothing."""
    piece = line.piece
    if piece is None or not line.is_paying or not line.numbered:
        return None
    if line.asks and piece.paid_with_order > 0:
        return Remark.PAID_WITH_THE_ORDER
    is_for_nothing = line.kind == "sale" and line.line.amount == 0 and "amount" not in dict(line.line.unread)
    return Remark.GIVEN_AWAY if is_for_nothing and not piece.is_gone else None


def _price(line: PostedLine) -> Remark | None:
    if not line.is_paying or not line.numbered or not line.list_price:
        return None
    return Remark.FAR_ABOVE_PRICE if line.typed >= FAR_ABOVE * line.list_price else None


def _piece(line: PostedLine) -> LineRemark | None:
    """Say what is odd about a piece that is paid for, or for whom it is reserved."""
    piece = line.piece
    if piece is None or not line.is_paying:
        return None
    is_for_another = piece.kept_for and fold_case(piece.kept_for) != fold_case(line.line.claim)
    reserved = LineRemark(Remark.RESERVED_FOR, piece.kept_for) if is_for_another else None
    return piece.warning or reserved


def _names(line: PostedLine) -> Remark | None:
    if line.kind == "order" and not trimmed(line.line.claim):
        return Remark.CLAIM_NUMBER
    if trimmed(line.line.group) and not line.group:
        return Remark.NO_SUCH_GROUP
    return Remark.NO_SUCH_WAY if trimmed(line.line.way) and not line.way else None


def _paid(line: PostedLine) -> Remark | None:
    if line.arrived and not line.way:
        return Remark.HOW_WAS_IT_PAID
    if line.paid_to and line.group not in {"", line.paid_to}:
        return Remark.PAID_TO_ANOTHER
    return Remark.NOT_A_DATE if "day" in dict(line.line.unread) else None


Look = Callable[[PostedLine], Remark | LineRemark | None]
OF_PIECE: Final = (_order, _which, _other, _refund, _again, _amount, _given, _price, _piece)
LOOKS: Final[Mapping[str, Look]] = {
    look.__name__.removeprefix("_"): look for look in (_typed, *OF_PIECE, _names, _paid)
}
"""What is looked at, by name; of several remarks the first is said."""
ABOUT_PIECE: Final = tuple(name for name, look in LOOKS.items() if look in OF_PIECE)
"""What is about the piece and its amount."""
