"""What was taken before a change of plan stays as it was, to the penny."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from salebook.event.entries import Entries, Grade, Line, PieceEntry
from salebook.event.event import Event, reckon_event
from salebook.event.settled import as_settled
from salebook.plan.load import read_plan
from salebook.reckoning import Reckoning, reckon
from tests.event.table import (
    FIRST,
    FIRST_DAY,
    PLAN,
    SECOND,
    SECOND_DAY,
    after,
    amounts_of,
    line,
    messy_lines,
    sale,
)


def changed(wanted: int = 4, *, price: str = "31", seconds_price: str = "22") -> Reckoning:
    text = PLAN.replace("WANTED", str(wanted)).replace("price = 28", f"price = {price}")
    text = text.replace("seconds_price = 18", f"seconds_price = {seconds_price}")
    return reckon(read_plan(text.replace("price = 1.50", f"price = {price}"), file="table.toml"))


def renewed(before: Event, reckoning: Reckoning) -> Event:
    return reckon_event(reckoning, as_settled(before, reckoning).entries)


def test_the_same_plan_types_nothing() -> None:
    before = after(line(1, piece=FIRST), line(2, "balance", SECOND), line(3, "refund", FIRST))
    settled = as_settled(before, sale())
    assert (before.entries, 0) == (settled.entries, settled.lines)


def test_sales_balances_and_refunds_keep_what_they_counted() -> None:
    before = after(
        line(1, piece=FIRST),
        line(2, "deposit", "MAY-002", "10"),
        line(3, "balance", "MAY-002"),
        line(4, piece="MAY-003"),
        line(5, "refund", "MAY-003"),
        line(6, piece="DOT", count=3),
    )
    settled = as_settled(before, changed())
    assert [Decimal(amount) for amount in ("28", "10", "18", "28", "28", "4.5")] == [
        one.amount for one in settled.entries.lines
    ]
    assert settled.lines == 5
    assert amounts_of(before) == amounts_of(reckon_event(changed(), settled.entries))


def test_a_piece_with_lines_keeps_its_grade_and_one_without_takes_the_new_one() -> None:
    before = after(line(1, piece=SECOND))
    (second,) = (piece for piece in before.standing.pieces if piece.piece.number == SECOND)
    settled = as_settled(before, changed(8, price="28", seconds_price="18"))
    expected: tuple[Grade, int] = ("second", 0)
    assert expected == (second.grade, settled.lines)
    assert {SECOND: PieceEntry(grade="second")} == settled.entries.pieces


def test_a_day_put_before_the_first_leaves_lines_without_a_day_where_they_were() -> None:
    before = after(
        line(1, piece=FIRST), line(2, piece=SECOND, day=SECOND_DAY), line(3, "donation", amount="1")
    )
    earlier = PLAN.replace("WANTED", "4").replace("days = [", "days = [2027-06-18, ")
    settled = as_settled(before, reckon(read_plan(earlier, file="table.toml")))
    assert [FIRST_DAY, SECOND_DAY, None] == [one.day for one in settled.entries.lines]


def test_a_line_that_needs_a_look_is_named_where_its_amount_is_typed() -> None:
    before = after(line(1, "deposit", FIRST, "10"), line(2, piece=FIRST), line(3, piece="MAY-900"))
    assert [2] == [one.line.number for one in as_settled(before, changed()).doubtful]
    assert () == as_settled(before, sale()).doubtful


def _known(lines: tuple[Line, ...]) -> tuple[Line, ...]:
    return tuple(replace(one, piece="") if one.piece == "MAY-900" else one for one in lines)


@given(
    messy_lines(),
    st.integers(1, 12),
    st.sampled_from(("0.50", "18", "28", "31", "280")),
    st.sampled_from(("0.50", "17", "22")),
)
def test_other_prices_and_numbers_change_no_line(
    lines: tuple[Line, ...], wanted: int, price: str, seconds_price: str
) -> None:
    before = reckon_event(sale(), Entries(lines=_known(lines)))
    later = renewed(before, changed(wanted, price=price, seconds_price=seconds_price))
    assert amounts_of(before) == amounts_of(later)
    assert before.share_out.takings == later.share_out.takings
