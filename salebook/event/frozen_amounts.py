"""What was settled before the plan changed stays as it was: amounts of lines, grades, prices agreed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from salebook.event.entries import Entries, Line, LineIdentity, PieceEntry
from salebook.event.event import Event, reckon_event
from salebook.event.posted_line import PostedLine
from salebook.event.register import register_of
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class Agreed:
    """The price of one piece that stays as it was agreed: of a numbered piece, or of a ware ordered."""

    number: str
    price: Decimal
    line: Line | None = None
    """The order; None for a numbered piece."""


@dataclass(frozen=True, kw_only=True)
class FrozenAmounts:
    """Entries that count under a new plan as they did before, and how many lines were given an amount."""

    entries: Entries
    lines: int
    agreed: tuple[Agreed, ...] = ()
    """What costs something else by the new plan, and keeps its price."""
    doubtful: tuple[PostedLine, ...] = ()
    """Lines among them that needed a look: an amount typed there would settle the question unasked."""


def freeze_amounts(before: Event, reckoning: Reckoning) -> FrozenAmounts:
    """Return the entries of `before` with all typed in that the new plan's reckoning would change.

    A piece that has lines or marks keeps its grade; one that is spoken for, and an order, the price that was
    agreed; a line keeps its day, and what it counted if its piece is known.
    """
    entries = replace(before.entries, pieces=_with_grades(before, reckoning))
    entries = replace(entries, lines=_with_days(before, reckon_event(reckoning, entries)))
    orders = tuple(_orders_agreed(before, reckon_event(reckoning, entries)))
    entries = replace(entries, lines=_at_agreed_prices(entries.lines, orders))
    pieces = tuple(_pieces_agreed(before, reckon_event(reckoning, entries)))
    entries = replace(entries, pieces=_with_agreed_prices(entries.pieces, pieces))
    typed: set[LineIdentity] = set()
    while changed := _changed(reckon_event(reckoning, entries), before):
        # What is typed on one line may change what is left for another of the same piece.
        typed |= changed.keys()
        lines = (_typed(line, changed) for line in entries.lines)
        entries = replace(entries, lines=tuple(lines))
    doubtful = (line for line in before.state.lines if line.line.identity in typed and line.remark)
    return FrozenAmounts(
        entries=entries, lines=len(typed), agreed=(*pieces, *orders), doubtful=tuple(doubtful)
    )


def _with_grades(before: Event, reckoning: Reckoning) -> dict[str, PieceEntry]:
    register = register_of(reckoning.plan, reckoning.studio.runs)
    planned = {piece.number: piece.planned_grade for piece in register}
    pieces = dict(before.entries.pieces)
    for state in before.state.pieces:
        number, entry = state.piece.number, pieces.get(state.piece.number, PieceEntry())
        in_use = state.piece.index and (state.account.lines or entry != PieceEntry())
        if in_use and state.grade != planned.get(number, state.grade):
            pieces[number] = replace(entry, grade=state.grade)
    return pieces


def _with_days(before: Event, after: Event) -> tuple[Line, ...]:
    """Return the lines, each with its day typed in where an empty one would now mean another."""
    days = {identity: line.day for identity, line in before.state.by_identity.items()}
    moved = {identity for identity, line in after.state.by_identity.items() if line.day != days[identity]}
    return tuple(
        replace(line, day=days[line.identity], settled=("day", *line.settled))
        if line.day is None and line.identity in moved and "day" not in dict(line.unread)
        else line
        for line in before.entries.lines
    )


def _orders_agreed(before: Event, after: Event) -> Iterator[Agreed]:
    """Yield the orders that would cost something else."""
    for identity, line in before.state.by_identity.items():
        price, is_of_a_ware = line.list_price, line.kind == "order" and not line.numbered
        now = after.state.by_identity[identity].list_price
        if is_of_a_ware and line.count and price is not None and now != price:
            yield Agreed(number=line.piece_number, price=price / line.count, line=line.line)


def _at_agreed_prices(lines: Sequence[Line], orders: Sequence[Agreed]) -> tuple[Line, ...]:
    prices = {one.line.identity: one.price for one in orders if one.line}
    return tuple(replace(line, agreed_price=prices.get(line.identity, line.agreed_price)) for line in lines)


def _with_agreed_prices(entries: Mapping[str, PieceEntry], pieces: Sequence[Agreed]) -> dict[str, PieceEntry]:
    agreed = {
        one.number: replace(entries.get(one.number, PieceEntry()), agreed_price=one.price) for one in pieces
    }
    return {**entries, **agreed}


def _pieces_agreed(before: Event, after: Event) -> Iterator[Agreed]:
    """Yield the pieces that are spoken for and would cost something else."""
    now = {state.piece.number: state.price for state in after.state.pieces}
    for state in before.state.pieces:
        number = state.piece.number
        if state.piece.index and state.is_spoken_for and now.get(number, state.price) != state.price:
            yield Agreed(number=number, price=state.price)


def _changed(after: Event, before: Event) -> Mapping[LineIdentity, Decimal]:
    """Return what lines on a known piece counted that have no amount and would now count otherwise."""
    was = before.state.by_identity
    return {
        identity: abs(was[identity].amount)
        for identity, line in after.state.by_identity.items()
        if line.line.amount is None and was[identity].index and line.amount != was[identity].amount
    }


def _typed(line: Line, amounts: Mapping[LineIdentity, Decimal]) -> Line:
    amount = amounts.get(line.identity)
    return line if amount is None else replace(line, amount=amount, settled=(*line.settled, "amount"))
