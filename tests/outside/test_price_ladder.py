"""The best rung of the ladder against the best price at a straight-line demand.

Source: College Algebra, section 5.1, OpenStax: a newspaper sells 84,000 copies at 30 and 79,000 at 32, so
that it sells 159,000 - 2,500 p; the best price is 31.80, with a revenue of 2,528,100. The other values are
worked out from the same line. https://openstax.org/books/college-algebra-2e/pages/5-1-quadratic-functions
"""

from decimal import Decimal

import pytest

from salebook.plan.model import Plan
from salebook.pricing.advice import Advice
from tests.support.priced_sales import a_plan, a_ware, advice_on, for_each_sold

COPIES = 10_000
COPIES_EACH = 10
"""One piece here stands for ten copies."""


def newspaper(price: str, *, step: str = "0.10", unit_cost: str = "0") -> Plan:
    line = [[at, (159_000 - 2500 * at) / Decimal(COPIES * COPIES_EACH)] for at in (24, 30, 32, 56)]
    return a_plan(
        sale={"price_step": step},
        wares=[a_ware("NEWS", wanted=COPIES, price=price, demand=line)],
        materials=[for_each_sold(unit_cost)],
    )


def revenue(advice: Advice, change: int) -> Decimal:
    rung = next(rung for rung in advice.ladder if rung.change == change)
    return rung.expected_net * COPIES_EACH


def test_the_books_best_price_is_the_best_rung() -> None:
    advice = advice_on(newspaper("31.80"))

    assert advice.target.best_change == 0
    assert revenue(advice, 0) == 2_528_100


@pytest.mark.parametrize(("change", "expected"), [(0, 2_520_000), (5, 2_527_875), (10, 2_524_500)])
def test_every_rung_brings_what_the_line_gives(change: int, expected: int) -> None:
    assert expected == revenue(advice_on(newspaper("30")), change)


@pytest.mark.parametrize(
    ("price", "expected"),
    [("30", 2_520_000), ("31", 2_526_500), ("31.50", 2_527_875), ("32", 2_528_000), ("33", 2_524_500)],
)
def test_every_price_of_the_plan_brings_what_the_line_gives(price: str, expected: int) -> None:
    assert expected == advice_on(newspaper(price)).target.expected_net * COPIES_EACH


def test_in_whole_units_of_currency_the_best_price_is_32() -> None:
    advice = advice_on(newspaper("30", step="1"))
    best = next(rung for rung in advice.ladder if rung.change == advice.target.best_change)

    assert best.prices == {"NEWS": Decimal(32)}
    assert revenue(advice, best.change) == 2_528_000


def test_a_cost_for_each_piece_raises_the_best_price_by_half_of_it() -> None:
    advice = advice_on(newspaper("32", unit_cost="10"))
    best = next(rung for rung in advice.ladder if rung.change == advice.target.best_change)

    assert best.prices == {"NEWS": Decimal("36.8")}
    assert revenue(advice, best.change) == 1_795_600
