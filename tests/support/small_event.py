"""A small sale to try the event on: mugs with seconds, thimbles without numbers, two spoons, four ways."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

from hypothesis import strategies as st
from hypothesis.strategies import SearchStrategy

from salebook.event.entries import Entries, Line, LineKind
from salebook.event.event import Event, reckon_event
from salebook.event.pieces import PieceState
from salebook.event.posted_line import PostedLine
from salebook.event.remarks import in_words
from salebook.plan.load import read_plan
from salebook.reckoning import Reckoning, reckon

FIRST_DAY, SECOND_DAY = date(2027, 6, 19), date(2027, 6, 20)

PLAN = """
format = 1
[sale]
title = "Ropewalk table"
maker = "Tern Wharf pots"
days = [2027-06-19, 2027-06-20]
target = 300
[[beneficiaries]]
name = "Reed bank * friends?"
parts = 2
[[beneficiaries]]
name = "Tide ~ mill"
[[clays]]
name = "buff"
pack = "10 kg"
pack_price = 12
shrinkage = 0.1
[[wares]]
code = "MAY"
name = "Mug"
wanted = WANTED
price = 28
clay = "buff"
ball = "400 g"
losses = {}
seconds = 0.2
seconds_price = 18
[[wares]]
code = "DOT"
name = "Thimble dot"
wanted = 30
price = 1.50
clay = "buff"
ball = "10 g"
losses = {}
numbered = false
[[donated]]
code = "D1"
name = "Carved spoon"
maker = "A neighbour"
price = 14.50
count = 2
keeps = 0.25
[[payments]]
name = "cash"
share = 0.4
cash = true
[[payments]]
name = "card"
percent = 1.75
fixed = 0.05
share = 0.6
[[payments]]
name = "bank * transfer?"
percent = 1
[[payments]]
name = "group's own tin"
percent = 5
paid_to = "Tide ~ mill"
[[overheads]]
name = "hall"
amount = 3.50
met_by = "sale"
[[materials]]
name = "bags"
amount = 1
per = "piece sold"
pack_amount = 3
pack_price = 1
met_by = "sale"
"""
FIRST, SECOND, DONATED, UNNUMBERED = "MAY-001", "MAY-005", "D1-001", "DOT"


@cache
def sale(wanted: int = 4) -> Reckoning:
    """Return the sale's reckoning, with so many numbered mugs wanted."""
    return reckon(read_plan(PLAN.replace("WANTED", str(wanted)), file="table.toml"))


def line(number: int, kind: LineKind = "sale", piece: str = "", amount: str = "", **more: Any) -> Line:
    """Return a line paid in cash, the amount as text, so that examples read as they are typed."""
    known = {"way": "cash"} | more
    gift = known.pop("gift", None)
    return Line(
        number=number,
        kind=kind,
        piece=piece,
        amount=Decimal(amount) if amount else None,
        gift=Decimal(gift) if gift else None,
        **known,
    )


def after(*lines: Line, **more: Any) -> Event:
    """Return the event after these lines."""
    return reckon_event(sale(), Entries(lines=lines, **more))


def line_of(event: Event, number: int) -> PostedLine:
    """Return a line as it counts."""
    return next(counted for counted in event.state.lines if counted.line.number == number)


def piece_of(event: Event, number: str) -> PieceState:
    """Return a piece as it stands."""
    return next(piece for piece in event.state.pieces if piece.piece.number == number)


def amounts_of(event: Event) -> list[Decimal]:
    """Return what each line moves, by line number."""
    return [counted.amount for counted in event.state.lines]


def remarks_of(event: Event) -> list[str]:
    """Return the remark on each line, by line number."""
    return [in_words(counted.remark) for counted in event.state.lines]


def numbered_anew(lines: Iterable[Line]) -> tuple[Line, ...]:
    """Return lines numbered in this order."""
    return tuple(replace(one, number=number) for number, one in enumerate(lines, start=1))


PIECES = (FIRST, SECOND, "may-002", " MAY-003 ", DONATED, UNNUMBERED, "MAY", "MAY-900", "MAY-00?", "*", "")
WAYS = ("cash", "card", " CARD", "bank * transfer?", "group's own tin", "shells", "*", "")
GROUPS = ("Reed bank * friends?", "tide ~ mill", "Nobody", "*", "")
MONEY = st.none() | st.decimals("0", "60", places=2)


def messy_lines(most: int = 12) -> SearchStrategy[tuple[Line, ...]]:
    """Draw lines that meet on few pieces, many of them wrong."""
    kinds: Sequence[LineKind] = (
        *("sale", "sale", "deposit", "balance", "refund", "order"),
        *("donation", "raffle", "refreshments", "postage", "other"),
    )
    one = st.builds(
        Line,
        number=st.just(0),
        till=st.sampled_from(("1", "1", "2")),
        day=st.sampled_from((None, None, FIRST_DAY, SECOND_DAY)),
        kind=st.sampled_from(kinds),
        piece=st.sampled_from(PIECES),
        count=st.sampled_from((None, None, 0, 1, 3)),
        amount=MONEY,
        gift=st.none() | st.decimals("0", "9", places=2),
        way=st.sampled_from(WAYS),
        with_above=st.booleans(),
        waiting=st.sampled_from((False, False, True)),
        group=st.sampled_from(GROUPS),
        claim=st.sampled_from(("", "7", "c8")),
        note=st.sampled_from(("", "blue one")),
    )
    return st.lists(one, max_size=most).map(numbered_anew)


def money(*amounts: str) -> list[Decimal]:
    """Return sums from texts."""
    return [Decimal(amount) for amount in amounts]
