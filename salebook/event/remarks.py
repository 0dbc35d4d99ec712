"""What needs a look on a line of takings, in a few words; the first thing that is wrong is said."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum
from typing import Final

from salebook.event.amounts import MovedLine
from salebook.event.entries import Line, PieceEntry
from salebook.event.lines import OF_A_PIECE, Asks, SeenLine, has_entries, in_small_letters, kind_said, trimmed
from salebook.plan.money import NOTHING
from salebook.words import _, marked

FAR_ABOVE: Final = 5
"""An amount of so many times the list price is one digit too many, or has a gift in it."""


class Remark(StrEnum):
    """What may need a look; some are said before the name of what they are about."""

    NOT_A_NUMBER = marked("not a number")
    WITH_A_MINUS = marked("type it without a minus")
    NO_SUCH_KIND = marked("no such kind")
    WHICH_PIECE = marked("which piece, or kind?")
    WHICH_WARE = marked("which ware?")
    NO_SUCH_PIECE = marked("no such piece")
    NO_PIECE_HERE = marked("no piece belongs here")
    ONE_NUMBER_ONE_PIECE = marked("one number, one piece")
    GIVEN_BACK_BEFORE = marked("type the refund's sum")
    SOLD_TWICE = marked("sold twice")
    DEPOSIT_IS_PAID = marked("deposit paid: balance?")
    PAID_WITH_THE_ORDER = marked("part paid: how much?")
    GIVEN_AWAY = marked("given away? see Pieces")
    HOW_MUCH = marked("how much?")
    NOTHING_LEFT = marked("nothing left to pay")
    NOTHING_TO_GIVE_BACK = marked("nothing to give back")
    MORE_THAN_PAID = marked("too much given back")
    FAR_ABOVE_PRICE = marked("far above price: gift?")
    NOT_OUT_OF_THE_KILN = marked("not out of the kiln")
    MARKED_AS = marked("marked as ")
    RESERVED_FOR = marked("reserved for ")
    CLAIM_NUMBER = marked("claim number?")
    NO_SUCH_GROUP = marked("no such group")
    NO_SUCH_WAY = marked("no such way to pay")
    HOW_WAS_IT_PAID = marked("how was it paid?")
    PAID_TO_ANOTHER = marked("paid to another group")
    NOT_A_DATE = marked("not a date")


@dataclass(frozen=True, kw_only=True)
class RemarkedPiece:
    """What a remark needs to know of a line's piece."""

    is_gone: bool
    """Whether it is sold, part paid or cannot be sold any more."""
    warning: str
    paid: Decimal
    paid_with_order: Decimal


def say(remark: Remark, about: str = "") -> str:
    """Return a remark in the chosen language, followed by what it is about."""
    return _(remark.value) + about


def piece_remark(
    moved: MovedLine,
    lines: Sequence[MovedLine],
    *,
    codes: frozenset[str],
    entry: PieceEntry,
    piece: RemarkedPiece | None,
) -> str:
    """Say what is wrong with a line's piece or its amount; empty: nothing.

    `lines` are all on the same numbered piece; `codes` are those of the wares and donated pieces; `piece` is
    the line's piece where there is such a one, `entry` what is filled in about it.
    """
    seen, kind = moved.seen, moved.seen.line.kind
    if kind in OF_A_PIECE:
        if not seen.piece:
            return say(Remark.WHICH_PIECE)
        return _of_known(moved, lines, entry, piece) if piece else say(Remark.NO_SUCH_PIECE)
    if kind == "order":
        known = seen.index or seen.piece in codes
        return say(Remark.WHICH_WARE) if not seen.piece else "" if known else say(Remark.NO_SUCH_PIECE)
    if seen.piece:
        return say(Remark.NO_PIECE_HERE)
    return say(Remark.HOW_MUCH) if seen.line.amount is None and seen.line.gift is None else ""


def _of_known(moved: MovedLine, lines: Sequence[MovedLine], entry: PieceEntry, piece: RemarkedPiece) -> str:
    seen, kind = moved.seen, moved.seen.line.kind
    if seen.line.count not in {None, seen.count}:
        return say(Remark.ONE_NUMBER_ONE_PIECE)
    wrong = _back(moved, piece.paid) if kind == "refund" else _paid_in(moved, lines) or _odd(moved, piece)
    if wrong or kind == "refund":
        return wrong
    held = trimmed(entry.reserved_for)
    is_for_another = held and in_small_letters(held) != in_small_letters(seen.line.claim)
    return say(Remark.RESERVED_FOR, held) if is_for_another else ""


def _odd(moved: MovedLine, piece: RemarkedPiece) -> str:
    """Say what is odd about a piece that is paid for, or handed over for nothing."""
    seen = moved.seen
    if seen.numbered and seen.asks and piece.paid_with_order > 0:
        return say(Remark.PAID_WITH_THE_ORDER)
    if seen.numbered and _is_sold_for_nothing(seen.line) and not piece.is_gone:
        return say(Remark.GIVEN_AWAY)
    if seen.numbered and seen.list_price and seen.typed >= FAR_ABOVE * seen.list_price:
        return say(Remark.FAR_ABOVE_PRICE)
    return piece.warning


def _is_sold_for_nothing(line: Line) -> bool:
    return line.kind == "sale" and line.amount == 0 and "amount" not in dict(line.unread)


def _back(moved: MovedLine, paid: Decimal) -> str:
    if moved.seen.asks == Asks.REFUND and not moved.left:
        return say(Remark.NOTHING_TO_GIVE_BACK)
    return say(Remark.MORE_THAN_PAID) if moved.seen.numbered and paid < 0 else ""


def _paid_in(moved: MovedLine, lines: Sequence[MovedLine]) -> str:
    seen = moved.seen
    if moved.same > 1 and any(
        other.seen.asks == Asks.REFUND and other.seen.order < seen.order for other in lines
    ):
        return say(Remark.GIVEN_BACK_BEFORE)
    if seen.line.kind == "sale":
        return _sold(moved, lines) if moved.same > 1 else ""
    if seen.asks == Asks.BALANCE:
        return _what_is_left(moved, lines)
    return say(Remark.HOW_MUCH) if seen.line.amount is None else ""


def _what_is_left(moved: MovedLine, lines: Sequence[MovedLine]) -> str:
    """Say whether an empty balance cannot be known: given back before it was paid, or after?"""
    if not moved.left:
        return say(Remark.NOTHING_LEFT)
    return say(Remark.HOW_MUCH) if moved.same > 1 and _given_back(lines) > 0 else ""


def _sold(moved: MovedLine, lines: Sequence[MovedLine]) -> str:
    """Say whether an earlier line sold the piece already; what was typed as given back frees it again."""
    seen = moved.seen
    untyped = seen.asks == Asks.LIST_PRICE
    if (untyped and not moved.at_list) or _earlier_sales(moved, lines) > _given_back(lines):
        return say(Remark.SOLD_TWICE)
    deposits = sum((line.seen.typed for line in lines if line.seen.line.kind == "deposit"), NOTHING)
    return say(Remark.DEPOSIT_IS_PAID) if untyped and deposits > 0 else ""


def _earlier_sales(moved: MovedLine, lines: Sequence[MovedLine]) -> Decimal:
    earlier = [
        line.seen for line in lines if line.seen.line.kind == "sale" and line.seen.order < moved.seen.order
    ]
    price = moved.seen.list_price or NOTHING
    listed = price * sum(line.asks == Asks.LIST_PRICE for line in earlier)
    return sum((line.typed for line in earlier), listed)


def _given_back(lines: Sequence[MovedLine]) -> Decimal:
    return -sum((line.seen.typed for line in lines if line.seen.line.kind == "refund"), NOTHING)


def remark_on(moved: MovedLine, about_piece: str, *, money: Decimal, paid_to: str) -> str:
    """Say what is wrong with a line, its piece among it; empty: nothing.

    `about_piece` is what piece_remark said; `money` is all that arrived on the line, `paid_to` the group that
    its way to pay goes straight to.
    """
    line = moved.seen.line
    if not has_entries(line):
        return ""
    if any(key in {"amount", "gift", "count"} for key, _typed in line.unread):
        return say(Remark.NOT_A_NUMBER)
    if min(line.amount or NOTHING, line.gift or NOTHING, Decimal(line.count or 0)) < 0:
        return say(Remark.WITH_A_MINUS)
    if kind_said(line) == "?":
        return say(Remark.NO_SUCH_KIND)
    return about_piece or _about_words(moved.seen, money, paid_to)


def _about_words(seen: SeenLine, money: Decimal, paid_to: str) -> str:
    line = seen.line
    wrong = (
        (line.kind == "order" and not trimmed(line.claim), Remark.CLAIM_NUMBER),
        (trimmed(line.group) and not seen.group, Remark.NO_SUCH_GROUP),
        (trimmed(line.way) and not seen.way, Remark.NO_SUCH_WAY),
        (money and not seen.way, Remark.HOW_WAS_IT_PAID),
        (paid_to and seen.group not in {"", paid_to}, Remark.PAID_TO_ANOTHER),
        ("day" in dict(line.unread), Remark.NOT_A_DATE),
    )
    return next((say(remark) for is_wrong, remark in wrong if is_wrong), "")
