"""Who gets what, to the last penny."""

from decimal import Decimal

import pytest
from hypothesis import given, settings

from salebook.event.entries import GroupPayment, Line
from salebook.event.share_out import ShareOut
from tests.support.small_event import DONATED, FIRST, FIRST_DAY, SECOND, after, line, messy_lines
from tests.support.sound_sale import event_with, reckoning_with, sale

REED, TIDE = "Reed bank * friends?", "Tide ~ mill"


def way(share_out: ShareOut, name: str) -> tuple[Decimal, Decimal, int, Decimal]:
    taken = next(taken for taken in share_out.ways if taken.payment.name == name)
    return taken.money, taken.positive, taken.payments, taken.fee


def test_the_pool_is_what_is_left_of_the_takings() -> None:
    share_out = after(
        line(1, piece=FIRST), line(2, piece=SECOND, way="card"), line(3, piece=DONATED)
    ).share_out
    # 28 + 18 + 14.50; card 18 x 1.75 % + 0.05; hall 3.50 and three bags of 1/3; a quarter of 14.50
    assert Decimal("60.50") == share_out.takings
    assert Decimal("0.37") == share_out.fees
    assert Decimal("4.50") == share_out.costs_met_by_sale
    assert Decimal("3.63") == share_out.to_givers
    assert Decimal("52.00") == share_out.pool
    assert [Decimal("34.67"), Decimal("17.33")] == [group.share for group in share_out.groups]


def test_a_fee_is_taken_once_for_a_way_and_refunds_give_none_back() -> None:
    share_out = after(
        line(1, piece=FIRST, way="card"),
        line(2, piece=SECOND, way="card", with_above=True, gift="2"),
        line(3, "refund", FIRST, way="card"),
    ).share_out
    # 48 x 1.75 % + 0.05 = 0.89
    assert (Decimal(20), Decimal(48), 1, Decimal("0.89")) == way(share_out, "card")


def test_the_statement_overrules_the_planned_fee() -> None:
    share_out = after(line(1, piece=FIRST, way="card"), actual_fees={"card": Decimal("0.31")}).share_out
    card = next(taken for taken in share_out.ways if taken.payment.name == "card")
    assert (Decimal("0.54"), Decimal("0.31")) == (card.planned_fee, card.fee)
    assert Decimal("0.31") == share_out.fees


def test_an_actual_cost_overrules_the_planned_one() -> None:
    actual = {"overhead: hall": Decimal("5.25"), "material: bags": Decimal(0)}
    share_out = after(line(1, piece=FIRST), actual_costs=actual).share_out
    assert Decimal("5.25") == share_out.costs_met_by_sale


def test_what_a_sponsor_or_the_maker_meets_is_not_taken_off_the_takings() -> None:
    overheads = [
        {"name": name, "amount": amount, "met_by": who}
        for name, amount, who in (("hall", 7, "sale"), ("posters", 20, "sponsor"), ("van", 30, "maker"))
    ]
    sound = reckoning_with((("overheads",), overheads), (("materials",), []), (("firings",), []))
    assert event_with([sale("VASE-001")], sound).share_out.costs_met_by_sale == 7


def test_money_paid_straight_to_a_group_is_counted_beside_the_takings() -> None:
    share_out = after(
        line(1, piece=FIRST, way="group's own tin", group=REED), line(2, piece=SECOND)
    ).share_out
    assert [share_out.takings, share_out.direct, share_out.named] == [Decimal(18), Decimal(28), Decimal(0)]
    assert [group.direct for group in share_out.groups] == [0, 28]
    assert share_out.fees == 0
    # 18 in cash less the hall's 3.50 and two bags, 0.67; and the tin's 28
    assert [share_out.pool, share_out.reached] == [Decimal("13.83"), Decimal("41.83")]


def test_money_that_has_not_arrived_is_shown_apart() -> None:
    share_out = after(line(1, piece=FIRST, way="card", waiting=True)).share_out
    card = next(taken for taken in share_out.ways if taken.payment.name == "card")
    assert [share_out.takings, card.money, card.waiting] == [Decimal(0), Decimal(0), Decimal(28)]
    assert card.payments == 0


def test_a_named_gift_goes_to_its_group_in_full() -> None:
    share_out = after(line(1, piece=FIRST, gift="2", group=TIDE), line(2, "donation", amount="9", group=REED))
    groups = share_out.share_out.groups
    assert [group.named for group in groups] == [9, 2]
    assert Decimal(11) == share_out.share_out.named


def test_a_negative_pool_shares_nothing() -> None:
    share_out = after(line(1, "donation", amount="1", group=REED)).share_out
    assert Decimal("-3.50") == share_out.pool
    assert [group.share for group in share_out.groups] == [0, 0]
    assert Decimal(1) == share_out.reached


def test_payments_to_a_group_are_taken_off_what_is_still_to_pay() -> None:
    payments = tuple(
        GroupPayment(day=FIRST_DAY, group=group, amount=Decimal(amount))
        for group, amount in ((TIDE, "3"), (REED, "5"), (TIDE, "1.50"))
    )
    groups = after(line(1, piece=FIRST), payments=payments).share_out.groups
    # 28 less the hall's 3.50 and a bag, 0.33: two parts of 24.17 and one
    assert [Decimal("11.11"), Decimal("3.56")] == [group.to_pay for group in groups]


@pytest.mark.parametrize(("amount", "counted"), [("10.005", "10.01"), ("0.004", "0.00")])
def test_what_is_typed_beyond_the_minor_unit_is_rounded(amount: str, counted: str) -> None:
    assert Decimal(counted) == after(line(1, "donation", amount=amount)).share_out.takings


@given(messy_lines())
@settings(deadline=None)
def test_nothing_is_lost_and_nothing_made(lines: tuple[Line, ...]) -> None:
    share_out = after(*lines).share_out
    off = share_out.fees + share_out.costs_met_by_sale + share_out.to_givers
    shared = sum((group.share for group in share_out.groups), Decimal(0))
    named = sum((group.named for group in share_out.groups), Decimal(0))
    assert share_out.takings == off + share_out.named + share_out.pool
    assert max(Decimal(0), share_out.pool) == shared
    assert share_out.named == named


@given(messy_lines())
@settings(deadline=None)
def test_all_that_was_taken_is_in_the_takings_straight_or_not_yet_arrived(lines: tuple[Line, ...]) -> None:
    event = after(*lines)
    waiting = sum((counted.waiting for counted in event.state.lines), Decimal(0))
    money = sum((counted.money for counted in event.state.lines), Decimal(0))
    assert money == event.share_out.takings + event.share_out.direct + waiting
