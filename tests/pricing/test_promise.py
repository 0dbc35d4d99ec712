from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import assume
from hypothesis import given as given_that
from hypothesis import strategies as st

from salebook.plan.model import Payment, Plan
from salebook.pricing.fees import fee_on
from salebook.pricing.good import Good
from salebook.pricing.promise import promise_of
from tests.support.priced_sales import Keys, a_fixed_cost, a_plan, a_ware, costed, for_each_sold, given

QUIET_OR_FAIR = [{"name": "fair", "factor": "1"}, {"name": "quiet", "factor": "0.5"}]


def sums_of(plan: Plan) -> list[Decimal | None]:
    return [promised.sum for promised in promise_of(costed(plan)[0], plan, costed(plan)[1]).sums]


def test_the_quiet_days_pieces_bear_the_fixed_costs() -> None:
    """16 × 0.5 × 20 = 160 come in on a quiet day, of which the hall takes a quarter."""
    plan = a_plan(
        wares=[a_ware(wanted=16, price="20", sells="1")],
        overheads=[a_fixed_cost("40")],
        outlooks=QUIET_OR_FAIR,
    )
    promise = promise_of(*costed(plan)[:1], plan, costed(plan)[1])

    assert (8, Decimal(160), [Decimal(15)]) == (
        promise.pieces,
        promise.contributions,
        [promised.sum for promised in promise.sums],
    )


def test_with_one_kind_of_day_half_of_all_pieces_are_named() -> None:
    plan = a_plan(wares=[a_ware(wanted=9, sells="1")])

    assert promise_of(*costed(plan)[:1], plan, costed(plan)[1]).pieces == 4


def test_the_pieces_that_bring_least_are_counted_under_the_dearest_way_to_pay() -> None:
    plan = a_plan(
        wares=[a_ware("MUG", wanted=6, price="20"), a_ware("BOWL", wanted=6, price="50")],
        overheads=[a_fixed_cost("9.50")],
        payments=[{"name": "cash", "share": "1"}, {"name": "card", "percent": "5", "share": "0"}],
    )

    # C = 6 × 19 = 114, of which a twelfth is 9.50: 19 × 11/12 = 17.4, 47.50 × 11/12 = 43.5
    assert [Decimal(17), Decimal(43)] == sums_of(plan)


@pytest.mark.parametrize(
    ("hall", "sums"), [("99.99", [Decimal(0)]), ("100", [None]), ("500", [None]), ("0", [Decimal(20)])]
)
def test_nothing_is_promised_where_the_costs_take_all(hall: str, sums: list[Decimal | None]) -> None:
    assert sums == sums_of(a_plan(wares=[a_ware(wanted=10, price="20")], overheads=[a_fixed_cost(hall)]))


def test_a_piece_that_brings_nothing_has_no_promise() -> None:
    dishes = a_ware("DISH", price="2", wanted=2)
    plan = a_plan(wares=[a_ware("MUG"), dishes], materials=[for_each_sold("2", "DISH")])

    assert [Decimal(20), None] == sums_of(plan)


def test_while_some_piece_costs_more_than_it_brings_no_label_promises_anything() -> None:
    plan = a_plan(wares=[a_ware("MUG"), a_ware("DISH", price="2")], materials=[for_each_sold("3", "DISH")])

    assert sums_of(plan) == [None, None]


def test_what_a_sponsor_meets_takes_nothing_from_a_promise() -> None:
    plan = a_plan(
        wares=[a_ware(wanted=10, price="20")],
        overheads=[a_fixed_cost("60", met_by="sponsor")],
        materials=[for_each_sold("2", "MUG", met_by="sponsor")],
    )

    assert sums_of(plan) == [Decimal(20)]


def test_even_a_small_loss_on_a_piece_takes_every_promise() -> None:
    dish = a_ware("DISH", wanted=1, price="2")
    plan = a_plan(wares=[a_ware("MUG"), dish], materials=[for_each_sold("2.50", "DISH")])
    promise = promise_of(*costed(plan)[:1], plan, costed(plan)[1])

    assert promise.share_left == 0
    assert [promised.sum for promised in promise.sums] == [None, None]


def test_a_piece_that_brings_less_than_a_whole_unit_promises_none() -> None:
    assert sums_of(a_plan(wares=[a_ware(price="0.80")])) == [Decimal(0)]


def test_of_the_pieces_expected_on_the_quietest_day_only_whole_ones_are_named() -> None:
    plan = a_plan(wares=[a_ware(wanted=9, sells="1")], outlooks=QUIET_OR_FAIR)

    assert promise_of(*costed(plan)[:1], plan, costed(plan)[1]).pieces == 4


prices = st.decimals(min_value="0.50", max_value=90, places=2)
wares = st.lists(st.tuples(st.integers(1, 12), prices), min_size=1, max_size=4)
ways = st.lists(
    st.tuples(st.decimals(0, 5, places=2), st.decimals(0, "0.30", places=2)), min_size=1, max_size=3
)


def a_sale(
    kinds: Sequence[tuple[int, Decimal]],
    pay: Sequence[tuple[Decimal, Decimal]],
    hall: Decimal,
    keeps: Decimal,
    outlooks: Sequence[Keys],
) -> Plan:
    return a_plan(
        wares=[a_ware(f"A{n}", wanted=count, price=price) for n, (count, price) in enumerate(kinds)],
        donated=[given(price="30", count=3, keeps=keeps)],
        overheads=[a_fixed_cost(str(hall))],
        materials=[for_each_sold("0.20")],
        payments=[
            {"name": f"way {n}", "percent": percent, "fixed": fixed, "share": str(Fraction(n == 0))}
            for n, (percent, fixed) in enumerate(pay)
        ],
        outlooks=outlooks,
    )


def brought(good: Good, way: Payment) -> Fraction:
    """What one piece sold under one way to pay brings, worked out from the plan's own figures."""
    return (
        Fraction(good.price) * (1 - Fraction(good.keeps)) - Fraction(fee_on(good.price, way)) - Fraction(1, 5)
    )


@given_that(
    kinds=wares,
    pay=ways,
    hall=st.decimals(0, 300, places=2),
    keeps=st.decimals(0, "0.9", places=2),
    outlooks=st.sampled_from([[], QUIET_OR_FAIR]),
    data=st.data(),
)
def test_once_contributions_reach_what_the_print_names_the_groups_get_the_sum_of_the_promises(
    *,
    kinds: list[tuple[int, Decimal]],
    pay: list[tuple[Decimal, Decimal]],
    hall: Decimal,
    keeps: Decimal,
    outlooks: list[Keys],
    data: st.DataObject,
) -> None:
    plan = a_sale(kinds, pay, hall, keeps, outlooks)
    goods, costs = costed(plan)
    promise = promise_of(goods, plan, costs)
    sold = [
        (promised, data.draw(st.sampled_from(plan.payments)))
        for promised in promise.sums
        for _piece in range(data.draw(st.integers(0, promised.good.count)))
    ]
    contributions = sum((brought(promised.good, way) for promised, way in sold), Fraction(0))
    assume(contributions >= promise.contributions)
    promises = sum((promised.sum or Decimal(0) for promised, _way in sold), Decimal(0))

    if promises:
        assert contributions - Fraction(hall) >= Fraction(promises)
