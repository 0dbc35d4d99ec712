"""What needs a look on a line of takings, in a few words; the first thing that is wrong is said."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import Enum, unique
from typing import Final

from salebook.base.words import N_, _
from salebook.event.amounts import PricedLine
from salebook.event.entries import Line, PieceEntry
from salebook.event.lines import OF_A_PIECE, Asks, fold_case, has_entries, kind_label, trimmed
from salebook.event.register import Piece
from salebook.plan.money import ZERO

FAR_ABOVE: Final = 5
"""An amount of so many times the list price is one digit too many, or has a gift in it."""


@unique
class Remark(Enum):
    """What may need a look; the value is how it is said, to be looked up in the chosen language."""

    NOT_A_NUMBER = N_("not a number")
    WITH_A_MINUS = N_("type it without a minus")
    NO_SUCH_KIND = N_("no such kind")
    WHICH_PIECE = N_("which piece, or kind?")
    WHICH_WARE = N_("which ware?")
    NO_SUCH_PIECE = N_("unknown: type {subject}")
    NO_PIECE_HERE = N_("no piece belongs here")
    ONE_NUMBER_ONE_PIECE = N_("one number, one piece")
    GIVEN_BACK_BEFORE = N_("type the refund's sum")
    SOLD_TWICE = N_("sold twice")
    DEPOSIT_IS_PAID = N_("deposit paid: balance?")
    PAID_WITH_THE_ORDER = N_("part paid: how much?")
    GIVEN_AWAY = N_("given away? see Pieces")
    HOW_MUCH = N_("how much?")
    NOTHING_LEFT = N_("nothing left to pay")
    NOTHING_TO_GIVE_BACK = N_("nothing to give back")
    MORE_THAN_PAID = N_("too much given back")
    FAR_ABOVE_PRICE = N_("far above price: gift?")
    NOT_OUT_OF_THE_KILN = N_("not out of the kiln")
    MARKED_AS = N_("marked as {subject}")
    RESERVED_FOR = N_("reserved for {subject}")
    CLAIM_NUMBER = N_("claim number?")
    NO_SUCH_GROUP = N_("no such group")
    NO_SUCH_WAY = N_("no such way to pay")
    HOW_WAS_IT_PAID = N_("how was it paid?")
    PAID_TO_ANOTHER = N_("paid to another group")
    NOT_A_DATE = N_("not a date")


@dataclass(frozen=True)
class LineRemark:
    """A remark on a line; `subject` is the claim number, the mark or the piece that it names."""

    kind: Remark
    subject: str = ""


@dataclass(frozen=True, kw_only=True)
class RemarkedPiece:
    """What a remark needs to know of a line's piece."""

    is_gone: bool
    """Whether it is sold, part paid or cannot be sold any more."""
    warning: LineRemark | None
    paid: Decimal
    paid_with_order: Decimal


def say(remark: Remark, subject: str = "") -> str:
    """Return a remark in the chosen language."""
    return _(remark.value).format(subject=subject)


def in_words(remark: LineRemark | None) -> str:
    """Return the remark on a line in the chosen language; empty where there is none."""
    return say(remark.kind, remark.subject) if remark else ""


def piece_remark(
    priced: PricedLine,
    lines: Sequence[PricedLine],
    *,
    codes: frozenset[str],
    example: Piece,
    entry: PieceEntry,
    piece: RemarkedPiece | None,
) -> LineRemark | None:
    """Say what is wrong with a line's piece or its amount; None: nothing.

    `lines` are all on the same numbered piece; `codes` are those of the wares and donated pieces, `example` a
    piece of the sale; `piece` is the line's piece where there is such a one, `entry` what is filled in about
    it.
    """
    if priced.kind in OF_A_PIECE:
        if piece is None:
            return _unknown(priced, Remark.WHICH_PIECE, example.number)
        return _of_known(priced, lines, entry, piece)
    if priced.kind == "order":
        is_known = priced.index or priced.piece_number in codes
        return None if is_known else _unknown(priced, Remark.WHICH_WARE, example.code)
    if priced.piece_number:
        return LineRemark(Remark.NO_PIECE_HERE)
    return LineRemark(Remark.HOW_MUCH) if priced.line.amount is None and priced.line.gift is None else None


def _unknown(priced: PricedLine, which: Remark, example: str) -> LineRemark:
    """Say that no piece stands there, or none of the sale; an example shows what to type."""
    return LineRemark(Remark.NO_SUCH_PIECE, example) if priced.piece_number else LineRemark(which)


def _of_known(
    priced: PricedLine, lines: Sequence[PricedLine], entry: PieceEntry, piece: RemarkedPiece
) -> LineRemark | None:
    if priced.line.count not in {None, priced.count}:
        return LineRemark(Remark.ONE_NUMBER_ONE_PIECE)
    if priced.kind == "refund":
        return _back(priced, piece.paid)
    return _paid_in(priced, lines) or _odd(priced, piece) or _reserved(priced, trimmed(entry.reserved_for))


def _reserved(priced: PricedLine, held: str) -> LineRemark | None:
    is_for_another = held and fold_case(held) != fold_case(priced.line.claim)
    return LineRemark(Remark.RESERVED_FOR, held) if is_for_another else None


def _odd(priced: PricedLine, piece: RemarkedPiece) -> LineRemark | None:
    """Say what is odd about a piece that is paid for, or handed over for nothing."""
    if priced.numbered and priced.asks and piece.paid_with_order > 0:
        return LineRemark(Remark.PAID_WITH_THE_ORDER)
    if priced.numbered and _is_sold_for_nothing(priced.line) and not piece.is_gone:
        return LineRemark(Remark.GIVEN_AWAY)
    if priced.numbered and priced.list_price and priced.typed >= FAR_ABOVE * priced.list_price:
        return LineRemark(Remark.FAR_ABOVE_PRICE)
    return piece.warning


def _is_sold_for_nothing(line: Line) -> bool:
    return line.kind == "sale" and line.amount == 0 and "amount" not in dict(line.unread)


def _back(priced: PricedLine, paid: Decimal) -> LineRemark | None:
    if priced.asks == Asks.REFUND and not priced.left:
        return LineRemark(Remark.NOTHING_TO_GIVE_BACK)
    return LineRemark(Remark.MORE_THAN_PAID) if priced.numbered and paid < 0 else None


def _paid_in(priced: PricedLine, lines: Sequence[PricedLine]) -> LineRemark | None:
    if priced.same > 1 and any(other.asks == Asks.REFUND and other.order < priced.order for other in lines):
        return LineRemark(Remark.GIVEN_BACK_BEFORE)
    if priced.kind == "sale":
        return _sold(priced, lines) if priced.same > 1 else None
    if priced.asks == Asks.BALANCE:
        return _what_is_left(priced, lines)
    return LineRemark(Remark.HOW_MUCH) if priced.line.amount is None else None


def _what_is_left(priced: PricedLine, lines: Sequence[PricedLine]) -> LineRemark | None:
    """Say whether an empty balance cannot be known: given back before it was paid, or after?"""
    if not priced.left:
        return LineRemark(Remark.NOTHING_LEFT)
    return LineRemark(Remark.HOW_MUCH) if priced.same > 1 and _given_back(lines) > 0 else None


def _sold(priced: PricedLine, lines: Sequence[PricedLine]) -> LineRemark | None:
    """Say whether an earlier line sold the piece already; what was typed as given back frees it again."""
    untyped = priced.asks == Asks.LIST_PRICE
    if (untyped and not priced.at_list) or _earlier_sales(priced, lines) > _given_back(lines):
        return LineRemark(Remark.SOLD_TWICE)
    deposits = sum((line.typed for line in lines if line.kind == "deposit"), ZERO)
    return LineRemark(Remark.DEPOSIT_IS_PAID) if untyped and deposits > 0 else None


def _earlier_sales(priced: PricedLine, lines: Sequence[PricedLine]) -> Decimal:
    earlier = [line for line in lines if line.kind == "sale" and line.order < priced.order]
    price = priced.list_price or ZERO
    listed = price * sum(line.asks == Asks.LIST_PRICE for line in earlier)
    return sum((line.typed for line in earlier), listed)


def _given_back(lines: Sequence[PricedLine]) -> Decimal:
    return -sum((line.typed for line in lines if line.kind == "refund"), ZERO)


def remark_on(priced: PricedLine, about_piece: LineRemark | None, *, paid_to: str) -> LineRemark | None:
    """Say what is wrong with a line, its piece among it; None: nothing.

    `about_piece` is what piece_remark said; `paid_to` is the group that its way to pay goes straight to.
    """
    line = priced.line
    if not has_entries(line):
        return None
    if any(key in {"amount", "gift", "count"} for key, _typed in line.unread):
        return LineRemark(Remark.NOT_A_NUMBER)
    if min(line.amount or ZERO, line.gift or ZERO, Decimal(line.count or 0)) < 0:
        return LineRemark(Remark.WITH_A_MINUS)
    if kind_label(line) == "?":
        return LineRemark(Remark.NO_SUCH_KIND)
    return about_piece or _about_words(priced, paid_to)


def _about_words(priced: PricedLine, paid_to: str) -> LineRemark | None:
    line = priced.line
    wrong = (
        (line.kind == "order" and not trimmed(line.claim), Remark.CLAIM_NUMBER),
        (trimmed(line.group) and not priced.group, Remark.NO_SUCH_GROUP),
        (trimmed(line.way) and not priced.way, Remark.NO_SUCH_WAY),
        (priced.arrived and not priced.way, Remark.HOW_WAS_IT_PAID),
        (paid_to and priced.group not in {"", paid_to}, Remark.PAID_TO_ANOTHER),
        ("day" in dict(line.unread), Remark.NOT_A_DATE),
    )
    return next((LineRemark(remark) for is_wrong, remark in wrong if is_wrong), None)
