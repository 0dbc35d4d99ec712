"""What is typed at the event is followed everywhere, as if the book had been made with it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import Any

import pytest

from salebook.event.entries import (
    Banked,
    DayCount,
    Entries,
    GroupPayment,
    Line,
    PieceEntry,
    TableCount,
    UnplannedCost,
)
from tests.support.books import book_of_plan, few_free_lines, sample_tables
from tests.support.cells import Blank, Place, Value
from tests.support.changes import Case, Typed, day_number, recalculated_with_changes
from tests.support.entry_strategies import a_day_of_takings
from tests.support.plan_strategies import plan_of
from tests.support.programs import needs_libreoffice

pytestmark = pytest.mark.slow

PLAN = plan_of(sample_tables("worked-plan"))
BEFORE = a_day_of_takings(PLAN)
DAY = PLAN.sale.days[0]
RAFFLE = 7
FIRST_SALE = 1
ORDER = 11
RANGERS = PLAN.beneficiaries[1].name


@dataclass(frozen=True, kw_only=True)
class Change:
    """What is typed, the same as an entry, and named results that must move with it."""

    typed: tuple[Typed, ...]
    entry: Callable[[Entries], Entries]
    moves: tuple[str, ...]


def on_line(line: int, **typed: Decimal | str | Blank) -> tuple[Typed, ...]:
    return tuple(
        Typed(sheet="Takings", section="takings", key=key, value=value, where={"line": line})
        for key, value in typed.items()
    )


def line_becomes(number: int, **changes: Any) -> Callable[[Entries], Entries]:
    def entry(entries: Entries) -> Entries:
        lines = (replace(line, **changes) if line.number == number else line for line in entries.lines)
        return replace(entries, lines=tuple(lines))

    return entry


def with_line(line: Line) -> Callable[[Entries], Entries]:
    return lambda entries: replace(entries, lines=(*entries.lines, line))


def here(sheet: str, section: str, key: str, value: str, **where: Value) -> tuple[Typed, ...]:
    number = Decimal(value) if value.replace(".", "").isdigit() else value
    return (Typed(sheet=sheet, section=section, key=key, value=number, where=where),)


CHANGES: dict[str, Change] = {
    "an amount": Change(
        typed=on_line(RAFFLE, amount=Decimal("41.50")),
        entry=line_becomes(RAFFLE, amount=Decimal("41.50")),
        moves=("takings_total", "pool", "raised", "group_shares", "still_needed"),
    ),
    "a price paid": Change(
        typed=on_line(FIRST_SALE, amount=Decimal("16.25")),
        entry=line_becomes(FIRST_SALE, amount=Decimal("16.25")),
        moves=("takings_money", "pool"),
    ),
    "a gift for a group": Change(
        typed=on_line(FIRST_SALE, gift=Decimal("2.75"), group=RANGERS),
        entry=line_becomes(FIRST_SALE, gift=Decimal("2.75"), group=RANGERS),
        moves=("named_total", "takings_named", "raised"),
    ),
    "another piece": Change(
        typed=on_line(FIRST_SALE, piece="POT-004"),
        entry=line_becomes(FIRST_SALE, piece="POT-004"),
        moves=("pieces_status", "tally_sold", "takings_list", "pool"),
    ),
    "a piece given by another maker": Change(
        typed=on_line(FIRST_SALE, piece="SPN-002"),
        entry=line_becomes(FIRST_SALE, piece="SPN-002"),
        moves=("to_givers_total", "pool"),
    ),
    "another way to pay": Change(
        typed=on_line(FIRST_SALE, way="card"),
        entry=line_becomes(FIRST_SALE, way="card"),
        moves=("fees_total", "pool", "way_money"),
    ),
    "not yet arrived": Change(
        typed=on_line(RAFFLE, waiting="yes"),
        entry=line_becomes(RAFFLE, waiting=True),
        moves=("takings_waiting_money", "takings_total"),
    ),
    "a line that is emptied": Change(
        typed=on_line(ORDER, piece=Blank(), count=Blank(), kind=Blank(), way=Blank(), claim=Blank()),
        entry=lambda entries: replace(entries, lines=entries.lines[: ORDER - 1]),
        moves=("takings_kind", "takings_claim"),
    ),
    "a new line": Change(
        typed=on_line(12, piece="POT-002", way="card"),
        entry=with_line(Line(number=12, piece="POT-002", way="card")),
        moves=("takings_total", "tally_sold", "pieces_left", "each_must_bring"),
    ),
    "a piece sold twice": Change(
        typed=on_line(12, piece="VASE-001", way="cash"),
        entry=with_line(Line(number=12, piece="VASE-001", way="cash")),
        moves=("remarks_count", "takings_remark"),
    ),
    "no such piece": Change(
        typed=on_line(12, piece="JUG-001", way="cash"),
        entry=with_line(Line(number=12, piece="JUG-001", way="cash")),
        moves=("remarks_count", "takings_remark"),
    ),
    **{
        f"a piece typed as {typed}": Change(
            typed=on_line(12, piece=typed, way="cash"),
            entry=with_line(Line(number=12, piece=typed, way="cash")),
            moves=("takings_total", "tally_sold", "pieces_left"),
        )
        for typed in ("pot 2", "POT002", "pot-2", "p0t-Oo2")
    },
    "with the line above": Change(
        typed=on_line(12, piece="POT-002", with_above="yes"),
        entry=with_line(Line(number=12, piece="POT-002", with_above=True)),
        moves=("takings_total", "tally_sold", "takings_way"),
    ),
    "no way to pay": Change(
        typed=on_line(12, piece="POT-003"),
        entry=with_line(Line(number=12, piece="POT-003")),
        moves=("remarks_count", "takings_remark"),
    ),
    "a second": Change(
        typed=here("Pieces", "pieces", "grade", "second", number="POT-001"),
        entry=lambda entries: replace(
            entries, pieces={**entries.pieces, "POT-001": PieceEntry(grade="second")}
        ),
        moves=("pieces_price",),
    ),
    "a broken piece": Change(
        typed=here("Pieces", "pieces", "mishap", "broken", number="POT-001"),
        entry=lambda entries: replace(
            entries, pieces={**entries.pieces, "POT-001": PieceEntry(mishap="broken")}
        ),
        moves=("pieces_status", "tally_here", "pieces_left"),
    ),
    "a reserved piece": Change(
        typed=here("Pieces", "pieces", "reserved_for", "C2", number="POT-001"),
        entry=lambda entries: replace(
            entries, pieces={**entries.pieces, "POT-001": PieceEntry(reserved_for="C2")}
        ),
        moves=("pieces_status", "tally_reserved"),
    ),
    "fewer out of the kiln": Change(
        typed=here("Pieces", "tally", "out_of_the_kiln", "20", code="VASE"),
        entry=lambda entries: replace(entries, made={"VASE": 20}),
        moves=("pieces_status", "tally_here"),
    ),
    "what the hall really cost": Change(
        typed=here("Costs", "costs", "actual", "44", name="hall"),
        entry=lambda entries: replace(entries, actual_costs={"overhead: hall": Decimal(44)}),
        moves=("costs_met_by_sale_now", "pool"),
    ),
    "parcels that nobody planned": Change(
        typed=here("Costs", "unplanned", "amount", "4.44", spent_on="postage, a parcel"),
        entry=lambda entries: replace(
            entries,
            unplanned=(
                UnplannedCost(name="postage, a parcel", amount=Decimal("4.44"), met_by="sale"),
                *entries.unplanned[1:],
            ),
        ),
        moves=("costs_met_by_sale_now", "postage_spent", "pool"),
    ),
    "what the card really cost": Change(
        typed=here("Share-out", "ways", "actual_fee", "1.17", way="card"),
        entry=lambda entries: replace(entries, actual_fees={**entries.actual_fees, "card": Decimal("1.17")}),
        moves=("fees_total", "pool"),
    ),
    "the cash box": Change(
        typed=(
            *here("Cash-up", "cash", "float", "30", day=day_number(DAY)),
            *here("Cash-up", "coins", "count", "9", day=day_number(DAY), denomination=20),
        ),
        entry=lambda entries: replace(
            entries, cash=(DayCount(day=DAY, float_=Decimal(30), counts={Decimal(20): 9}),)
        ),
        moves=("cash_differences",),
    ),
    "the count of the table": Change(
        typed=here("Cash-up", "table", "counted", "20", day=day_number(DAY), code="VASE"),
        entry=lambda entries: replace(entries, table_counts=(TableCount(day=DAY, code="VASE", counted=20),)),
        moves=(),
    ),
    "the bank": Change(
        typed=here("Cash-up", "bank", "arrived", "4.50", what="paid in"),
        entry=lambda entries: replace(
            entries, banked=(Banked(day=DAY, what="paid in", expected=Decimal(5), arrived=Decimal("4.5")),)
        ),
        moves=("banked_arrived",),
    ),
    "a payment to a group": Change(
        typed=here("Share-out", "paid", "amount", "12.50", group=RANGERS),
        entry=lambda entries: replace(
            entries, payments=(GroupPayment(day=DAY, group=RANGERS, amount=Decimal("12.5"), reference="1"),)
        ),
        moves=("paid_total", "to_pay_total"),
    ),
    "a payment that is too much": Change(
        typed=here("Share-out", "paid", "amount", "999", group=RANGERS),
        entry=lambda entries: replace(
            entries, payments=(GroupPayment(day=DAY, group=RANGERS, amount=Decimal(999), reference="1"),)
        ),
        moves=("paid_total", "to_pay_total", "overpaid_groups"),
    ),
    "a digit too many": Change(
        typed=on_line(FIRST_SALE, amount=Decimal(999)),
        entry=line_becomes(FIRST_SALE, amount=Decimal(999)),
        moves=("takings_total", "remarks_count"),
    ),
}


@pytest.fixture(scope="module")
def cases() -> dict[str, Case]:
    with few_free_lines(fewest=20):
        before = book_of_plan(PLAN, BEFORE)
        return {
            name: Case(before=before, changes=change.typed, fresh=book_of_plan(PLAN, change.entry(BEFORE)))
            for name, change in CHANGES.items()
        }


@pytest.fixture(scope="module")
def followed(cases: dict[str, Case]) -> dict[str, dict[Place, Value]]:
    """What LibreOffice makes of each workbook after the change."""
    return recalculated_with_changes(cases)


@needs_libreoffice
@pytest.mark.parametrize("name", CHANGES)
def test_what_is_typed_is_followed_as_if_it_had_been_there(
    name: str, cases: dict[str, Case], followed: dict[str, dict[Place, Value]]
) -> None:
    assert cases[name].not_followed(followed[name]) == []


@needs_libreoffice
@pytest.mark.parametrize("name", CHANGES)
def test_what_it_bears_on_moves_with_it(
    name: str, cases: dict[str, Case], followed: dict[str, dict[Place, Value]]
) -> None:
    assert cases[name].troubles_with(CHANGES[name].moves, followed[name]) == []


@pytest.mark.parametrize("name", CHANGES)
def test_nothing_that_is_typed_leaves_a_plain_value_out_of_date(name: str, cases: dict[str, Case]) -> None:
    assert cases[name].out_of_date_unmarked() == {}
