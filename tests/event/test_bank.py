"""Money in the bank beside the takings."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from salebook.event.bank import WayBanked, ways_banked
from salebook.event.entries import Banked, DayCount, Line
from salebook.event.event import reckon_event
from salebook.event.receipts import banked, money_in
from tests.support.small_event import FIRST, FIRST_DAY, SECOND_DAY, after, line, messy_lines, sale

LINES = (line(1, piece=FIRST), line(2, piece="MAY-002", way="card"), line(3, "raffle", amount="40"))
BOX = DayCount(day=FIRST_DAY, float_=Decimal(20), counts={Decimal(10): 9}, paid_out=Decimal("4.20"))


def arrived(what: str, amount: str, day: date = SECOND_DAY) -> Banked:
    return Banked(day=day, what=what, arrived=Decimal(amount))


def found(*lines: Line, **entries: object) -> dict[str, WayBanked]:
    event = after(*(lines or LINES), **entries)
    return {way.name: way for way in ways_banked(sale().plan, event)}


def test_what_should_arrive_is_what_was_taken_less_the_fee() -> None:
    card = found()["card"]
    assert (card.taken, card.fee, card.expected) == (Decimal(28), Decimal("0.54"), Decimal("27.46"))


def test_cash_should_arrive_as_it_was_counted_less_what_was_paid_out() -> None:
    cash = found(cash=(BOX,))["cash"]
    assert (cash.taken, cash.paid_out, cash.found) == (Decimal(68), Decimal("4.20"), Decimal("6.20"))
    assert cash.expected == Decimal(70)


def test_a_way_straight_to_a_group_ends_in_no_bank_of_the_sale() -> None:
    assert list(found()) == ["cash", "card", "bank * transfer?"]


def test_nothing_is_open_before_anything_has_arrived() -> None:
    assert [way.difference for way in found().values()] == [None, None, None]
    assert not any(way.is_open for way in found().values())


def test_two_pounds_too_much_are_open_until_a_reason_is_chosen() -> None:
    too_much = (arrived("card", "20.00"), arrived("Card ", "9.46"))
    card = found(banked=too_much)["card"]
    assert (card.difference, card.is_open) == (Decimal(2), True)
    explained = found(banked=too_much, bank_reasons={"card": "buyer paid too much"})["card"]
    assert (explained.difference, explained.is_open) == (Decimal(2), False)


def test_what_came_by_no_way_that_is_named_stands_apart() -> None:
    without = found(*LINES, line(4, "raffle", amount="3", way=""), banked=(arrived("paid in", "5"),))[""]
    assert (without.expected, without.arrived, without.is_open) == (Decimal(3), Decimal(5), True)
    assert "" not in found(banked=(arrived("cash", "5"),))


def test_the_difference_of_two_boxes_of_cash_counts_once() -> None:
    event = after(*LINES, cash=(BOX, replace(BOX, day=SECOND_DAY)))
    ways = (*sale().plan.payments[:1], sale().plan.payments[2].model_copy(update={"cash": True}))
    plan = sale().plan.model_copy(update={"payments": ways})
    both = reckon_event(replace(sale(), plan=plan), event.entries)
    assert [bool(way.found) for way in ways_banked(plan, both)] == [True, False, False]


@given(messy_lines(), st.lists(st.sampled_from(("cash", "card", "paid in", "group's own tin")), max_size=3))
@settings(deadline=None)
def test_all_that_was_taken_and_all_that_arrived_stand_in_one_row_each(
    lines: tuple[Line, ...], names: list[str]
) -> None:
    event = after(*lines, banked=tuple(arrived(name, "1.25") for name in names))
    rows = ways_banked(sale().plan, event)
    straight = money_in(event.state, way="group's own tin")
    assert sum(row.taken for row in rows) == money_in(event.state) - straight
    assert sum(row.arrived or 0 for row in rows) == banked(event.entries)
