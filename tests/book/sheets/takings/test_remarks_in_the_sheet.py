"""Two thousand lines of every kind, sensible and not: the sheet remarks on each as Python does."""

import random
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from functools import cache
from typing import Any, get_args

from salebook.book.write import book_bytes
from salebook.event.entries import Entries, Grade, Line, LineKind, Mishap, PieceEntry
from salebook.event.event import Event, reckon_event
from salebook.event.remarks import Remark
from tests.support.cells import values_of
from tests.support.entry_strategies import COUNTS_AS, typed_keys
from tests.support.programs import needs_libreoffice
from tests.support.proof import differences, recalculated_by_libreoffice
from tests.support.small_event import DONATED, FIRST_DAY, GROUPS, SECOND_DAY, UNNUMBERED, WAYS, sale

LINES, WANTED, OUT = 2_000, 300, 280
SEED = 7
KINDS: tuple[LineKind, ...] = (*("sale", "refund") * 4, *get_args(LineKind))
ODD_PIECES = (DONATED, "D1-002", "d1 2", UNNUMBERED, "dot", "MAY", "may", "MAY-900", "MAY-00?", "*", "", "-")


def entries() -> Entries:
    chance = random.Random(SEED)  # noqa: S311  (the same lines each time)
    pieces = {f"MAY-{n:03}": _entry(chance) for n in range(1, WANTED + 1) if chance.random() < 0.3}
    return Entries(lines=tuple(_lines(chance)), pieces=pieces, made={"MAY": OUT, "DOT": 5})


def _entry(chance: random.Random) -> PieceEntry:
    return PieceEntry(
        grade=chance.choice((None, *get_args(Grade))),
        mishap=chance.choice((None, None, *get_args(Mishap))),
        reserved_for=chance.choice(("", "", " 7", "C8")),
        marked_on=chance.choice((None, FIRST_DAY, SECOND_DAY)),
        agreed_price=chance.choice((None, None, Decimal("19.50"))),
    )


def _lines(chance: random.Random) -> Iterator[Line]:
    last = {"1": 0, "2": 0}
    for _line in range(LINES):
        till = chance.choice("112")
        last[till] += chance.choice((1, 1, 2))
        line = Line(number=last[till], till=till, **_typed(chance))
        key = chance.choice(list(COUNTS_AS))
        nothing: dict[str, Any] = {key: COUNTS_AS[key]}
        is_unread = chance.random() < 0.06
        yield replace(line, **nothing, unread=tuple(typed_keys({key: "about"}))) if is_unread else line


def _typed(chance: random.Random) -> dict[str, Any]:
    n = chance.randint(1, WANTED)
    ways_to_type = (f"MAY-{n:03}",) * 6 + (f"may {n}", f"MAY{n:02}", f"MAY.{n:03}".replace("0", "O"))
    nothing = (None,) * 6
    return {
        "kind": chance.choice(KINDS),
        "piece": chance.choice(ways_to_type if chance.random() < 0.7 else ODD_PIECES),
        "amount": chance.choice((*nothing, *map(Decimal, ("0", "5", "28", "39.99", "290", "-3")))),
        "gift": chance.choice((*nothing, Decimal("2.50"))),
        "count": chance.choice((*nothing, 0, 1, 3)),
        "day": chance.choice((*nothing, FIRST_DAY, SECOND_DAY)),
        "way": chance.choice(WAYS),
        "with_above": chance.random() < 0.15,
        "waiting": chance.random() < 0.1,
        "group": chance.choice(("",) * 5 + GROUPS),
        "claim": chance.choice(("", "7", "c8", "C8 ")),
        "agreed_price": chance.choice((*nothing, Decimal("17.25"))),
    }


@cache
def event() -> Event:
    return reckon_event(sale(WANTED), entries())


def test_every_remark_is_made_at_least_once() -> None:
    made = {line.remark.kind for line in event().state.lines if line.remark}
    assert (len(event().state.lines), set(Remark) - made) == (LINES, set())


@needs_libreoffice
def test_the_sheet_remarks_on_each_line_word_for_word_as_python_does() -> None:
    book = book_bytes(sale(WANTED), event())
    recalculated = recalculated_by_libreoffice({"book": book})["book"]
    assert differences(book, values_of(recalculated)) == []
