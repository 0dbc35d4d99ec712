"""The price of each piece: as agreed for it or with the order that it fills, else what its grade costs."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Final, NamedTuple

from salebook.event.entries import Entries, PieceEntry
from salebook.event.lines import ResolvedLine, fold_case, resolved_lines, trimmed
from salebook.event.register import Piece
from salebook.plan.model import Plan, Ware
from salebook.plan.money import ZERO, in_units, rounded

Order = tuple[str, str]
"""The code of what was ordered, and the claim in small letters."""


class OrderPrice(NamedTuple):
    """What one piece costs by the orders of a claim, and how many were ordered at an agreed price."""

    price: Decimal
    ordered: int


NOT_AGREED: Final = OrderPrice(ZERO, 0)


def price_of(piece: Piece, entry: PieceEntry, *, ordered_at: Decimal, digits: int) -> Decimal:
    """Return a piece's list price; `ordered_at` is the price of the order that it fills, 0 for none.

    A second without a price of its own costs as much as a first.
    """
    if agreed := agreed_for_it(entry, digits):
        return agreed
    seconds_price = piece.source.seconds_price if isinstance(piece.source, Ware) else None
    is_second = (entry.grade or piece.planned_grade) == "second"
    return ordered_at or (seconds_price if is_second and seconds_price is not None else piece.source.price)


def agreed_for_it(entry: PieceEntry, digits: int) -> Decimal:
    """Return the price that was agreed for a piece alone; 0: none."""
    return max(ZERO, rounded(entry.agreed_price, digits)) if entry.agreed_price else ZERO


def ordered_at(
    plan: Plan, register: Sequence[Piece], typed: Sequence[PieceEntry], entries: Entries
) -> Sequence[OrderPrice]:
    """Return what each piece costs by the order that it fills, if it fills one and a price was agreed.

    `typed` is what was filled in about each piece of the register. Where a claim has several such orders, it
    is what one piece costs on average, rounded down: the rest of the orders' price stays to pay.
    """
    if all(line.agreed_price is None for line in entries.lines):
        return [NOT_AGREED] * len(register)
    resolved = resolved_lines(plan, register, [piece.source.price for piece in register], entries.lines)
    prices, claims = _agreed_with_orders(resolved, plan.sale.digits), _first_claims(resolved)
    return [
        prices.get((piece.code, fold_case(entry.reserved_for) or claims.get(row, "")), NOT_AGREED)
        if piece.index
        else NOT_AGREED
        for row, (piece, entry) in enumerate(zip(register, typed, strict=True), start=1)
    ]


def _first_claims(resolved: Sequence[ResolvedLine]) -> Mapping[int, str]:
    claims: dict[int, str] = {}
    for line in resolved:
        if line.numbered:
            claims.setdefault(line.index, fold_case(line.line.claim))
    return claims


def _agreed_with_orders(resolved: Sequence[ResolvedLine], digits: int) -> Mapping[Order, OrderPrice]:
    sums: dict[Order, Decimal] = defaultdict(Decimal)
    counts: dict[Order, int] = defaultdict(int)
    for line in resolved:
        if line.agreed and not line.numbered and trimmed(line.line.claim):
            order = line.piece_number, fold_case(line.line.claim)
            sums[order] += line.agreed * line.count
            counts[order] += line.count
    return {
        order: OrderPrice(in_units(math.floor(Fraction(sums[order]) * 10**digits / count), digits), count)
        for order, count in counts.items()
        if count
    }
