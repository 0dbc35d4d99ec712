from decimal import Decimal

import pytest
from hypothesis import given as given_that
from hypothesis import strategies as st

from salebook.pricing.break_even import (
    ByBasis,
    break_even,
    exact_pieces_to_earn,
    mean_contribution,
    piece_cost,
    pieces_to_earn,
)
from salebook.pricing.target import pieces_for_target
from tests.support.priced_sales import a_fixed_cost, a_plan, a_studio, a_ware, costed, for_each_sold, given

money = st.decimals(min_value="0.01", max_value=10_000, places=2)


def test_each_basis_counts_what_it_must_pay_back() -> None:
    plan = a_plan(
        wares=[a_ware(price="20")],
        overheads=[
            a_fixed_cost("40"),
            a_fixed_cost("50", met_by="maker"),
            a_fixed_cost("9", met_by="sponsor"),
        ],
    )
    goods, costs = costed(plan, a_studio(plan, hours="61"))

    assert ByBasis(sale=2, spent=5, full=8) == break_even(goods, costs)


def test_costs_for_each_piece_sold_count_only_on_the_bases_that_hold_them() -> None:
    plan = a_plan(
        wares=[a_ware(price="20")],
        materials=[for_each_sold("15", met_by="maker")],
        overheads=[a_fixed_cost("40")],
    )

    assert ByBasis(sale=2, spent=8, full=8) == break_even(*costed(plan))


def test_there_is_no_break_even_where_pieces_bring_nothing() -> None:
    plan = a_plan(wares=[a_ware(price="2")], materials=[for_each_sold("2")], overheads=[a_fixed_cost("40")])

    assert ByBasis(sale=None, spent=None, full=None) == break_even(*costed(plan))


def test_there_is_none_even_where_nothing_has_to_be_paid_back() -> None:
    plan = a_plan(wares=[a_ware(price="2")], materials=[for_each_sold("2")])

    assert ByBasis(sale=None, spent=None, full=None) == break_even(*costed(plan))


def test_where_nothing_is_for_sale_no_piece_costs_or_brings_anything() -> None:
    costs = costed(a_plan(wares=[a_ware()], overheads=[a_fixed_cost("40")]))[1]

    assert ByBasis(sale=Decimal(0), spent=Decimal(0), full=Decimal(0)) == piece_cost((), costs)
    assert mean_contribution((), costs, "sale") == 0


@pytest.mark.parametrize(
    ("amount", "brings", "pieces"),
    [
        ("100", "8", 13),
        ("96", "8", 12),
        ("0", "8", 0),
        ("-50", "8", 0),
        ("1", "0", None),
        ("1", "-3", None),
        ("0", "0", 0),
        ("-50", "-3", 0),
        ("10", "3.333333333333333333333333333", 3),
    ],
)
def test_pieces_to_earn_are_whole_never_below_0_and_none_where_there_is_no_way(
    amount: str, brings: str, pieces: int | None
) -> None:
    assert pieces == pieces_to_earn(Decimal(amount), Decimal(brings))


def test_a_target_below_the_other_income_needs_no_piece() -> None:
    plan = a_plan(target="50", wares=[a_ware()], other_income=[{"name": "raffle", "expected": "80"}])

    assert pieces_for_target(*costed(plan)[:1], plan, costed(plan)[1]) == 0


def test_what_a_piece_costs_is_its_part_of_the_fixed_costs_its_fee_and_its_own_costs() -> None:
    plan = a_plan(
        wares=[a_ware("MUG", wanted=8, price="20"), a_ware("BOWL", wanted=2, price="30")],
        materials=[for_each_sold("0.50"), for_each_sold("0.20", "MUG", met_by="maker")],
        overheads=[a_fixed_cost("40"), a_fixed_cost("10", met_by="maker")],
        payments=[{"name": "card", "percent": "2"}],
    )
    cost = piece_cost(*costed(plan, a_studio(plan, hours="33")))
    fee = (8 * Decimal("0.40") + 2 * Decimal("0.60")) / 10

    assert [4 + fee + Decimal("0.5"), 5 + fee + Decimal("0.66"), Decimal("8.3") + fee + Decimal("0.66")] == [
        cost.sale,
        cost.spent,
        cost.full,
    ]


@given_that(
    fixed=money,
    wares=st.lists(st.tuples(st.integers(1, 200), money), min_size=1, max_size=4),
    kept=st.decimals(0, "0.9", places=2),
)
def test_at_the_unrounded_break_even_nothing_is_left_and_at_the_whole_one_less_than_a_piece(
    fixed: Decimal, wares: list[tuple[int, Decimal]], kept: Decimal
) -> None:
    plan = a_plan(
        wares=[a_ware(f"A{n}", wanted=count, price=price) for n, (count, price) in enumerate(wares)],
        donated=[given(keeps=kept)],
        overheads=[a_fixed_cost(str(fixed))],
        payments=[{"name": "card", "percent": "1.69", "fixed": "0.001"}],
    )
    goods, costs = costed(plan)
    brings = mean_contribution(goods, costs, "sale")
    exact, whole = exact_pieces_to_earn(costs.fixed("sale"), brings), break_even(goods, costs).sale

    assert exact is not None
    assert whole is not None
    assert float(fixed) == pytest.approx(float(exact) * float(brings), rel=1e-12)
    assert -1e-6 <= whole * brings - fixed < brings
