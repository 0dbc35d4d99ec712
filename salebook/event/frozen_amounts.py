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
    counted = {line.line.identity: line.amount for line in before.state.lines if line.index}
    typed: set[LineIdentity] = set()
    while changed := _changed(reckon_event(reckoning, entries), counted):
        # What is typed on one line may change what is left for another of the same piece.
        typed |= changed.keys()
        lines = (_typed(line, changed) for line in entries.lines)
        entries = replace(entries, lines=tuple(lines))
    doubtful = (line for line in before.state.lines if line.remark and line.line.identity in typed)
    return FrozenAmounts(
        entries=entries, lines=len(typed), agreed=(*pieces, *orders), doubtful=tuple(doubtful)
    )


def _with_grades(before: Event, reckoning: Reckoning) -> dict[str, PieceEntry]:
    planned = {
        piece.number: piece.planned_grade for piece in register_of(reckoning.plan, reckoning.studio.runs)
    }
    pieces = dict(before.entries.pieces)
    for state in before.state.pieces:
        number, entry = state.piece.number, pieces.get(state.piece.number, PieceEntry())
        in_use = state.piece.index and (state.account.lines or entry != PieceEntry())
        if in_use and state.grade != planned.get(number, state.grade):
            pieces[number] = replace(entry, grade=state.grade)
    return pieces


def _with_days(before: Event, after: Event) -> tuple[Line, ...]:
    """Return the lines, each with its day typed in where an empty one would now mean another."""
    days = {line.line.identity: line.day for line in before.state.lines}
    moved = {line.line.identity for line in after.state.lines if line.day != days[line.line.identity]}
    return tuple(
        replace(line, day=days[line.identity], settled=("day", *line.settled))
        if line.day is None and line.identity in moved and "day" not in dict(line.unread)
        else line
        for line in before.entries.lines
    )


def _orders_agreed(before: Event, after: Event) -> Iterator[Agreed]:
    """Yield the orders that would cost something else."""
    now = {line.line.identity: line.list_price for line in after.state.lines}
    for counted in before.state.lines:
        line, count, price = counted.line, counted.count, counted.list_price
        is_of_a_ware = line.kind == "order" and not counted.numbered
        if is_of_a_ware and count and price is not None and now[line.identity] != price:
            yield Agreed(number=counted.piece_number, price=price / count, line=line)


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


def _changed(after: Event, counted: Mapping[LineIdentity, Decimal]) -> Mapping[LineIdentity, Decimal]:
    """Return what the lines counted that have no amount and would now count otherwise."""
    lines = ((line.line.identity, line) for line in after.state.lines)
    return {
        identity: abs(counted[identity])
        for identity, line in lines
        if line.line.amount is None and line.amount != counted.get(identity, line.amount)
    }


def _typed(line: Line, amounts: Mapping[LineIdentity, Decimal]) -> Line:
    amount = amounts.get(line.identity)
    return line if amount is None else replace(line, amount=amount, settled=(*line.settled, "amount"))
