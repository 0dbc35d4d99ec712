"""Makes the filled-in workbook among the samples: `python -m tests.filled_sample` writes it anew.

A weekend's sale with sixty lines, most as they should be and some wrong on purpose: an amount with its sign,
a decimal comma, a day in words, a piece typed loosely, sold twice, unknown, a kind and a group that do not
exist, an amount in words, no way to pay. The counts of Saturday's cash box and table find what those lines
leave out; on Sunday a pound is missing.
"""

from collections.abc import Iterator
from datetime import date, time
from decimal import Decimal
from typing import Any

from salebook.base.files import write_atomically
from salebook.book.write import book_bytes
from salebook.event.entries import (
    Banked,
    Claim,
    DayCount,
    Entries,
    GroupPayment,
    Line,
    PieceEntry,
    TableCount,
    UnplannedCost,
)
from salebook.event.event import reckon_event
from salebook.jobs.samples import FILLED, FULL
from salebook.making.firing_done import FiringDone
from salebook.making.studio_tally import StudioCount
from salebook.plan.load import load_plan
from salebook.reckoning import reckon
from tests.support.books import ROOT

SATURDAY, SUNDAY = date(2027, 6, 19), date(2027, 6, 20)
GARDEN, SEALS = "Sandrock community garden", "Shingle Bank seal watch"

CASH = Decimal("513.84")
"""What was counted on both days, the floats taken out."""

Typed = dict[str, Any]

BISCUIT, GLAZE = "biscuit", "stoneware glaze"
FIRED = (
    (BISCUIT, 1, date(2027, 5, 25), "20417.3", "20471.9", 16, 2, "handle"),
    (BISCUIT, 2, date(2027, 5, 27), "20471.9", "20523.4", 55, 1, "crack"),
    (BISCUIT, 3, date(2027, 5, 29), "20523.4", "20573.5", 10, 0, ""),
    (GLAZE, 1, date(2027, 6, 3), "20580.2", "20654.8", 14, 2, "glaze ran"),
    (GLAZE, 2, date(2027, 6, 5), "", "", 44, 2, "stuck"),  # nobody read the meter
    (GLAZE, 3, date(2027, 6, 7), "20731.6", "20809.4", 16, 1, "glaze ran"),
)
"""Which firing and load, the day, the meter before and after (kWh), how many came out, were lost, and why."""


def _saturday() -> Iterator[Typed]:
    yield {"day": SATURDAY, "at": time(10, 2), "piece": "MUG-001", "way": "cash"}
    yield {"piece": "MUG-004", "way": "card"}
    yield {"piece": "BOWL-002", "way": "card"}
    yield {"piece": "BOWL-003", "way": "card", "with_above": True}
    yield {"piece": "mug-5", "way": "cash"}  # loosely typed: MUG-005
    yield {"piece": "JUG-001", "way": "card", "at": time(10, 40)}
    yield {"piece": "CARD-001", "way": "cash", "gift": Decimal(2)}
    yield {"piece": "LAMP-001", "way": "card", "gift": Decimal(5), "group": SEALS}
    yield {"piece": "MUG-006", "way": "cash", "unread": (("amount", "£18"),)}  # the sign typed too
    yield {"piece": "MUG-008", "way": " cash "}
    yield {"kind": "refreshments", "amount": Decimal("14.50"), "way": "cash"}
    yield {"piece": "BOWL-005", "way": "card", "at": time(11, 15)}
    yield {"piece": "JUG-003", "kind": "deposit", "amount": Decimal(10), "way": "cash", "claim": "1"}
    yield {"piece": "MUG-009", "way": "card"}
    yield {"piece": "MUG-009", "way": "cash"}  # sold twice
    yield {"piece": "CARD-002", "way": "cash"}
    yield {"piece": "CARD-003", "way": "cash", "with_above": True}
    yield {"piece": "MUG-099", "way": "cash"}  # no such piece
    yield {"kind": "raffle", "amount": Decimal(31), "way": "cash", "at": time(12, 30)}
    yield {"piece": "BOWL-008", "way": "card"}
    yield {"piece": "MUG-012", "way": ""}  # how was it paid?
    yield {"kind": "order", "piece": "MUG", "count": 2, "amount": Decimal(20), "way": "card", "claim": "2"}
    yield {"piece": "JUG-004", "way": "card"}
    yield {"piece": "MUG-013", "way": "card", "unread": (("time", "after lunch"),)}
    yield {"piece": "MUG-014", "way": "cash", "unread": (("amount", "eighteen"),)}  # never guessed
    yield {"kind": "donation", "amount": Decimal(20), "way": "cash", "group": GARDEN}
    yield {"piece": "BOWL-009", "way": "card", "at": time(14, 10)}
    yield {"piece": "BOWL-009", "kind": "refund", "way": "card", "note": "a crack under the foot"}
    yield {"piece": "LAMP-002", "way": "card"}
    yield {"kind": "refreshments", "amount": Decimal("38.20"), "way": "cash"}


def _sunday() -> Iterator[Typed]:
    yield {"day": SUNDAY, "at": time(10, 5), "piece": "MUG-015", "way": "card"}
    yield {"piece": "MUG-016", "way": "cash"}
    yield {"piece": "JUG-006", "way": "card"}
    yield {"piece": "BOWL-011", "way": "card", "unread": (("amount", "24,00"),)}  # a decimal comma
    yield {"piece": "JUG-003", "kind": "balance", "way": "card", "claim": "1"}
    yield {"piece": "CARD-004", "way": "cash"}
    yield {"piece": "CARD-005", "way": "cash", "gift": Decimal(1)}
    yield {"piece": "MUG-018", "way": "card", "unread": (("day", "20 June 2027"),)}  # a day in words
    yield {"piece": "MUG-019", "way": "card"}
    yield {"piece": "BOWL-012", "way": "cash", "at": time(11, 45)}
    yield {"unread": (("kind", "teas"),), "kind": "other", "amount": Decimal("9.40"), "way": "cash"}
    yield {"piece": "JUG-007", "way": "card"}
    yield {"piece": "MUG-020", "way": "card", "gift": Decimal(4), "group": "The lifeboat"}  # no such group
    yield {"piece": "MUG-021", "way": "card"}
    yield {"piece": "MUG-022", "way": "card", "with_above": True}
    yield {"piece": "BOWL-014", "way": "cash"}
    yield {"kind": "raffle", "amount": Decimal(27), "way": "cash"}
    yield {"piece": "LAMP-003", "way": "card", "waiting": True, "note": "card machine was offline"}
    yield {"piece": "CARD-006", "way": "cash"}
    yield {"piece": "MUG-024", "way": "card"}
    yield {"piece": "JUG-009", "way": "card", "at": time(14, 20)}
    yield {"piece": "MUG-026", "way": "cash", "amount": Decimal(15), "note": "last hour"}
    yield {"piece": "BOWL-016", "way": "card", "amount": Decimal(20)}
    yield {"piece": "MUG-027", "way": "cash", "amount": Decimal(15)}
    yield {"kind": "postage", "amount": Decimal("6.50"), "way": "card", "claim": "2"}
    yield {"piece": "BOWL-018", "way": "card"}
    yield {"piece": "CARD-007", "way": "cash"}
    yield {"piece": "MUG-030", "way": "card"}
    yield {"kind": "donation", "amount": Decimal("12.34"), "way": "cash"}
    yield {"kind": "refreshments", "amount": Decimal("41.60"), "way": "cash", "at": time(16, 5)}


def _firings() -> Iterator[FiringDone]:
    for firing, load, day, before, after, came_out, lost, why in FIRED:
        yield FiringDone(
            firing=firing,
            load=load,
            day=day,
            before=Decimal(before) if before else None,
            after=Decimal(after) if after else None,
            came_out=came_out,
            lost=lost,
            why=why,
        )


def _line(number: int, typed: Typed) -> Line:
    nothing = {key: Decimal(0) for key, _text in typed.get("unread", ()) if key == "amount"}
    return Line(number=number, **(typed | nothing))


def filled_in() -> Entries:
    """Return what was filled in at the weekend."""
    typed = (*_saturday(), *_sunday())
    return Entries(
        lines=tuple(_line(number, line) for number, line in enumerate(typed, start=1)),
        pieces={
            "MUG-002": PieceEntry(mishap="broken"),
            "MUG-024": PieceEntry(grade="second"),
            "JUG-003": PieceEntry(reserved_for="1"),
            "MUG-031": PieceEntry(reserved_for="2"),
            "MUG-032": PieceEntry(reserved_for="2"),
        },
        made={"MUG": 37, "BOWL": 23, "JUG": 14},
        firings_done=tuple(_firings()),
        studio={"MUG": StudioCount(thrown=44, dry=42, biscuit=41, good=36, seconds=1, broken=5)},
        cash=(
            DayCount(
                day=SATURDAY,
                float_=Decimal(40),
                counts={Decimal(20): 9, Decimal(10): 9, Decimal(5): 6, Decimal(1): 27, Decimal("0.5"): 5},
                paid_out=Decimal("6.20"),
                counted_by="Skua Garth",
                checked_by="Linnet Noss",
            ),
            DayCount(
                day=SUNDAY,
                float_=Decimal(40),
                counts={Decimal(20): 7, Decimal(10): 8, Decimal(5): 5, Decimal(1): 19, Decimal("0.02"): 17},
                counted_by="Skua Garth",
                checked_by="Linnet Noss",
            ),
        ),
        table_counts=(
            TableCount(day=SATURDAY, code="MUG", counted=23),
            TableCount(day=SATURDAY, code="JUG", counted=11),
        ),
        banked=(Banked(day=date(2027, 6, 21), what="cash", expected=CASH, arrived=CASH),),
        payments=(GroupPayment(day=date(2027, 6, 28), group=GARDEN, amount=Decimal(150), reference="1"),),
        claims=(
            Claim(
                claim="1",
                name="Fulmar Voe",
                contact="at the slipway",
                what="a jug",
                how="collecting",
                done=True,
            ),
            Claim(claim="2", name="Dunlin Ayre", contact="by post", what="two mugs", how="posting"),
        ),
        actual_costs={"overhead: posters and price list": Decimal("17.80")},
        unplanned=(
            UnplannedCost(name="postage, two mugs", amount=Decimal("7.10"), met_by="sale"),
            UnplannedCost(name="parking at the harbour", amount=Decimal(8), met_by="maker"),
        ),
        actual_fees={"card": Decimal("21.36")},
    )


def filled_book() -> bytes:
    """Return the workbook's file."""
    reckoning = reckon(load_plan(ROOT / "sample_data" / FULL))
    return book_bytes(reckoning, reckon_event(reckoning, filled_in()))


if __name__ == "__main__":
    write_atomically(ROOT / "sample_data" / FILLED, filled_book())
