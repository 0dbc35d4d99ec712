"""What was taken before a change of plan stays as it was, to the penny."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from salebook.event.claims import claim_state
from salebook.event.entries import Claim, Entries, Grade, Line, PieceEntry
from salebook.event.event import Event, reckon_event
from salebook.event.frozen_amounts import freeze_amounts
from salebook.plan.load import read_plan
from salebook.reckoning import Reckoning, reckon
from tests.support.small_event import (
    DONATED,
    FIRST,
    FIRST_DAY,
    PLAN,
    SECOND,
    SECOND_DAY,
    after,
    amounts_of,
    line,
    messy_lines,
    money,
    piece_of,
    sale,
)


def changed(wanted: int = 4, *, price: str = "31", seconds_price: str = "22") -> Reckoning:
    text = PLAN.replace("WANTED", str(wanted)).replace("price = 28", f"price = {price}")
    text = text.replace("seconds_price = 18", f"seconds_price = {seconds_price}")
    return reckon(read_plan(text.replace("price = 1.50", f"price = {price}"), file="table.toml"))


def renewed(before: Event, reckoning: Reckoning) -> Event:
    return reckon_event(reckoning, freeze_amounts(before, reckoning).entries)


def test_the_same_plan_types_nothing() -> None:
    before = after(line(1, piece=FIRST), line(2, "balance", SECOND), line(3, "refund", FIRST))
    settled = freeze_amounts(before, sale())
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
    settled = freeze_amounts(before, changed())
    assert [amount and Decimal(amount) for amount in ("28", "10", None, "28", "28", "4.5")] == [
        one.amount for one in settled.entries.lines
    ]
    assert settled.lines == 4
    assert amounts_of(before) == amounts_of(reckon_event(changed(), settled.entries))


def test_a_piece_with_lines_keeps_its_grade_and_one_without_takes_the_new_one() -> None:
    before = after(line(1, piece=SECOND))
    (second,) = (piece for piece in before.state.pieces if piece.piece.number == SECOND)
    settled = freeze_amounts(before, changed(8, price="28", seconds_price="18"))
    expected: tuple[Grade, int] = ("second", 0)
    assert expected == (second.grade, settled.lines)
    assert {SECOND: PieceEntry(grade="second")} == settled.entries.pieces


def test_a_day_put_before_the_first_leaves_lines_without_a_day_where_they_were() -> None:
    before = after(
        line(1, piece=FIRST), line(2, piece=SECOND, day=SECOND_DAY), line(3, "donation", amount="1")
    )
    earlier = PLAN.replace("WANTED", "4").replace("days = [", "days = [2027-06-18, ")
    settled = freeze_amounts(before, reckon(read_plan(earlier, file="table.toml")))
    assert [FIRST_DAY, SECOND_DAY, None] == [one.day for one in settled.entries.lines]


def test_what_is_spoken_for_keeps_its_price_and_what_is_free_takes_the_new_one() -> None:
    before = after(
        line(1, "deposit", FIRST, "10"),
        line(2, "order", "MAY", count=2, claim="C7"),
        line(3, piece="MAY-003"),
        line(4, "deposit", "MAY-004", "5"),
        line(5, "refund", "MAY-004"),
        line(6, "order", DONATED, claim="C8"),
        pieces={"MAY-002": PieceEntry(reserved_for="C9")},
    )
    settled = freeze_amounts(before, changed())
    later = reckon_event(changed(), settled.entries)
    again = renewed(later, changed(price="50"))
    for event in (later, again):
        prices = {piece.piece.number: piece.price for piece in event.state.pieces}
        assert [prices[FIRST], prices["MAY-002"]] == money("28", "28")
        assert piece_of(event, FIRST).to_pay == 18
        assert claim_state(Claim(claim="C7"), event.state).to_pay == 56
    assert {31} == {piece_of(later, number).price for number in ("MAY-003", "MAY-004")}
    assert [FIRST, "MAY-002", "MAY"] == [one.number for one in settled.agreed]
    assert {Decimal(28)} == {one.price for one in settled.agreed}


def test_a_piece_put_to_an_order_after_the_change_costs_what_was_agreed_with_the_order() -> None:
    before = after(line(1, "order", "MAY", count=2, claim="C7"))
    entries = freeze_amounts(before, changed()).entries
    held = {number: PieceEntry(reserved_for="C7") for number in (FIRST, "MAY-002")}
    event = reckon_event(changed(), replace(entries, pieces=held))
    assert [28, 28] == [piece_of(event, number).to_pay for number in held]
    assert claim_state(Claim(claim="C7"), event.state).to_pay == 56


def test_orders_of_one_claim_at_several_prices_cost_what_they_do_together() -> None:
    orders = (
        replace(line(1, "order", "MAY", count=2, claim="C7"), agreed_price=Decimal(28)),
        replace(line(2, "order", "MAY", claim="C7"), agreed_price=Decimal(35)),
    )
    held = {f"MAY-00{number}": PieceEntry(reserved_for="C7") for number in (1, 2, 3)}
    event = after(*orders, pieces=held)
    assert {Decimal("30.33")} == {piece_of(event, number).price for number in held}
    assert claim_state(Claim(claim="C7"), event.state).to_pay == 91


def test_a_line_that_needs_a_look_is_named_where_its_amount_is_typed() -> None:
    before = after(line(1, piece=FIRST, group="Nobody"), line(2, piece="MAY-900"))
    assert [1] == [one.line.number for one in freeze_amounts(before, changed()).doubtful]
    assert () == freeze_amounts(before, sale()).doubtful


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
