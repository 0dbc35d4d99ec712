"""Break-even, target profit, sales mix and margin of safety against an open textbook.

Source, unless a test says otherwise: Principles of Accounting, Volume 2: Managerial Accounting, chapter 3,
OpenStax, CC BY-NC-SA 4.0; numbers only. https://openstax.org/books/principles-managerial-accounting
"""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.plan.model import Plan
from salebook.pricing.break_even import break_even, exact_pieces_to_earn, mean_contribution
from salebook.pricing.good import Good
from salebook.pricing.outcome import to_earn
from salebook.pricing.target import pieces_for_target
from tests.support.priced_sales import a_fixed_cost, a_plan, a_ware, costed, for_each_sold

Mix = list[tuple[int, str, str]]
"""Pieces of each kind in one composite, their price and their variable cost."""


def a_business(mix: Mix, fixed: str, profit: str = "0") -> Plan:
    codes = [f"A{number}" for number in range(len(mix))]
    return a_plan(
        target=profit,
        wares=[
            a_ware(code, wanted=count, price=price)
            for code, (count, price, _variable) in zip(codes, mix, strict=True)
        ],
        materials=[
            for_each_sold(variable, code) for code, (_count, _price, variable) in zip(codes, mix, strict=True)
        ],
        overheads=[a_fixed_cost(fixed)],
    )


def composite(goods: tuple[Good, ...]) -> Decimal:
    return sum((good.count * good.contribution for good in goods), Decimal(0))


@pytest.mark.parametrize(
    ("price", "variable", "fixed", "pieces"),
    [
        pytest.param("100", "20", "18000", 225, id="3.2 Hicks birdbath"),
        pytest.param("400", "150", "14000", 56, id="3.2 Marshall & Hirito"),
        pytest.param("35", "20", "3000", 200, id="3.2 haircut"),
        pytest.param("500", "300", "100000", 500, id="3.2 College Creations"),
        pytest.param("200", "140", "6000", 100, id="3 quiz, contribution ratio 30 %"),
        pytest.param("75", "30", "22500", 500, id="3 exercise Maple"),
        pytest.param("400", "160", "36000", 150, id="3 exercise Marlin"),
        pytest.param("120", "90", "180000", 6000, id="3 exercise Cadre"),
        pytest.param("600", "360", "72000", 300, id="3 exercise Kerr"),
        pytest.param("90", "40", "85000", 1700, id="3.5 Manteo Machine"),
        pytest.param("1.55", "0.85", "35000", 50_000, id="College Algebra 7.1, OpenStax, break-even"),
    ],
)
def test_the_break_even_point_is_the_books(price: str, variable: str, fixed: str, pieces: int) -> None:
    goods, costs = costed(a_business([(1, price, variable)], fixed))

    assert pieces == break_even(goods, costs).sale


@pytest.mark.parametrize(
    ("price", "variable", "fixed", "profit", "pieces"),
    [
        pytest.param("100", "20", "18000", "16000", 425, id="3.3 Hicks"),
        pytest.param("100", "20", "18000", "40000", 725, id="3.3 Hicks, 24,000 after 40 % tax"),
        pytest.param("400", "150", "14000", "10000", 96, id="3.3 Marshall & Hirito"),
        pytest.param("500", "300", "100000", "50000", 750, id="3.3 College Creations"),
        pytest.param("400", "150", "10000", "5000", 60, id="3 quiz, contribution 250"),
        pytest.param("75", "30", "22500", "45000", 1500, id="3 exercise Maple"),
        pytest.param("400", "160", "36000", "48000", 350, id="3 exercise Marlin"),
        pytest.param("120", "90", "180000", "300000", 16_000, id="3 exercise Cadre"),
        pytest.param("600", "360", "72000", "120000", 800, id="3 exercise Kerr"),
        pytest.param("150", "90", "15250", "68750", 1400, id="3 exercise Delta, 44,000 after 36 % tax"),
        pytest.param("90", "40", "85000", "10000", 1900, id="3.5 Manteo Machine with a cushion"),
    ],
)
def test_the_pieces_for_a_target_are_the_books(
    price: str, variable: str, fixed: str, profit: str, pieces: int
) -> None:
    plan = a_business([(1, price, variable)], fixed, profit)
    goods, costs = costed(plan)

    assert pieces == pieces_for_target(goods, plan, costs)


@pytest.mark.parametrize(("sold", "profit"), [(175, -4000), (300, 6000)])
def test_profit_away_from_the_break_even_point_is_the_books(sold: int, profit: int) -> None:
    """Hicks birdbath, 3.2."""
    plan = a_business([(1, "100", "20")], "18000")
    goods, costs = costed(plan)

    assert profit == sold * goods[0].contribution - costs.fixed("sale")


@pytest.mark.parametrize(("sold", "profit"), [(0, -100_000), (1, -99_800), (500, 0), (501, 200)])
def test_each_more_sold_brings_its_contribution(sold: int, profit: int) -> None:
    """College Creations, 3.2."""
    goods, costs = costed(a_business([(1, "500", "300")], "100000"))

    assert profit == sold * goods[0].contribution - costs.fixed("sale")


@given(
    price=st.integers(2, 50_000),
    margin=st.integers(1, 50_000),
    fixed=st.integers(0, 5_000_000),
)
def test_whole_pieces_leave_less_than_one_contribution_over(price: int, margin: int, fixed: int) -> None:
    """What follows from the book's definition of the break-even point, in pence."""
    variable = max(0, price - margin)
    goods, costs = costed(a_business([(1, pounds(price), pounds(variable))], pounds(fixed)))
    pieces, each = break_even(goods, costs).sale, goods[0].contribution
    exact = exact_pieces_to_earn(costs.fixed("sale"), each)

    assert pieces is not None
    assert exact is not None
    assert exact * Fraction(each) == Fraction(costs.fixed("sale"))
    assert 0 <= pieces * each - costs.fixed("sale") < each


def pounds(pence: int) -> str:
    return f"{Decimal(pence) / 100:f}"


@pytest.mark.parametrize(
    ("mix", "fixed", "brings", "composites"),
    [
        pytest.param(
            [(5, "6.25", "3.25"), (3, "7.75", "4.50"), (2, "9.25", "6.25")],
            "145000",
            "30.75",
            "4715.447",
            id="3.4 West Brothers",
        ),
        # The text of the book's part B prints 15,385; its figure, and 220,000 / 22, give 10,000.
        pytest.param([(3, "10", "4"), (1, "9", "5")], "220000", "22", "10000", id="3.4 mix of A and B"),
        pytest.param(
            [(7, "320", "170"), (3, "400", "225"), (2, "50", "20")], "196200", "1635", "120", id="Salvador"
        ),
        pytest.param([(4, "60", "28"), (4, "75", "33"), (1, "40", "22")], "18840", "314", "60", id="JJ"),
        pytest.param(
            [(5, "50", "30"), (3, "40", "15"), (2, "30", "10")], "258000", "215", "1200", id="Morris"
        ),
        pytest.param(
            [(4, "275", "185"), (3, "350", "215"), (2, "400", "245")], "430000", "1075", "400", id="Manatoah"
        ),
        pytest.param(
            [(4, "75", "45"), (2, "60", "25"), (1, "55", "15")], "345000", "230", "1500", id="Abilene"
        ),
    ],
)
def test_a_mix_breaks_even_where_the_book_says(mix: Mix, fixed: str, brings: str, composites: str) -> None:
    goods, costs = costed(a_business(mix, fixed))
    pieces = exact_pieces_to_earn(costs.fixed("sale"), mean_contribution(goods, costs, "sale"))

    assert Decimal(brings) == composite(goods)
    assert pieces is not None
    assert float(composites) == pytest.approx(float(pieces) / sum(count for count, _, _ in mix), abs=0.0005)


@pytest.mark.parametrize(
    ("mix", "brings"),
    [
        pytest.param(
            [(5, "1.00", "0.65"), (3, "0.75", "0.50"), (2, "0.80", "0.50"), (1, "1.40", "1.00")],
            "3.50",
            id="3.4 fruit basket: contributions 0.35, 0.25, 0.30, 0.40",
        ),
        pytest.param([(1, "25", "11"), (2, "28", "7")], "56", id="3.4 models 101 and 202"),
    ],
)
def test_a_composite_brings_what_the_book_says(mix: Mix, brings: str) -> None:
    assert Decimal(brings) == composite(costed(a_business(mix, "1"))[0])


def test_the_margin_of_safety_is_the_books() -> None:
    """Manteo Machine, 3.5: sells 2,500 at 90. (The figure's label "1,900 units" beside 153,000 is a slip.)"""
    goods, costs = costed(a_business([(2500, "90", "40")], "85000"))
    least = break_even(goods, costs).sale
    assert least is not None
    margin = (2500 - least) * goods[0].price

    assert margin == 72_000
    assert margin / (2500 * goods[0].price) == Decimal("0.32")


def test_with_a_cushion_the_revenue_is_not_the_one_that_was_rounded_early() -> None:
    """Manteo Machine, 3.5: 1,900 × 90.

    The book's figure rounds the ratio to 0.5555 first and so prints 170,000; its text has 171,000.
    """
    plan = a_business([(1, "90", "40")], "85000", "10000")
    goods, costs = costed(plan)
    pieces = exact_pieces_to_earn(to_earn(plan, costs), goods[0].contribution)

    assert pieces is not None
    assert pieces * 90 == 171_000


def test_whole_composites_leave_the_profit_that_follows_from_rounding_up() -> None:
    """West Brothers, 3.4: 4,716 whole composites; the profit of 17.00 is worked out, not printed."""
    goods, costs = costed(
        a_business([(5, "6.25", "3.25"), (3, "7.75", "4.50"), (2, "9.25", "6.25")], "145000")
    )

    assert Decimal("17.00") == 4716 * composite(goods) - costs.fixed("sale")
