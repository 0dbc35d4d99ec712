"""What each piece must fetch stands on Price as the terminal says it, and follows what is changed on Plan."""

from collections.abc import Mapping
from copy import deepcopy
from decimal import Decimal
from functools import cache
from typing import Any

import pytest
from hypothesis import given

from salebook.book.sheets.price.chances import price_cases
from salebook.book.sheets.price.ladder import ladder_rows
from salebook.book.sheets.price.must_fetch_search import Search, Tried
from salebook.book.sheets.price.sheet import goods_with_all_seconds
from salebook.forecast.figures import chance_of_target
from salebook.forecast.live_chance import WITHIN
from salebook.forecast.must_fetch import change_of, must_fetch
from salebook.forecast.standing import planned_standing, state_at
from salebook.jobs.price import must_fetch_where_missed
from salebook.plan.model import Plan
from salebook.pricing.ladder import prices_at
from salebook.reckoning import Reckoning, reckon
from tests.support.books import book_of_plan, few_free_lines, sample_tables
from tests.support.cells import Place, Value, changed, values_of
from tests.support.engines import by_ironcalc
from tests.support.inputs import input_place
from tests.support.plan_strategies import plan_of, plans
from tests.support.priced_sales import a_plan, a_ware
from tests.support.strategies import at_most

SAMPLE = "first-sale"
COLUMNS = ("at_all", "at_planned", "at_sure")


def search_of(reckoning: Reckoning) -> Search:
    goods, rungs = goods_with_all_seconds(reckoning), ladder_rows(reckoning)
    cases = {case.key: case for case in price_cases(reckoning, goods, rungs)}
    return Search(reckoning, goods, rungs, cases)


@given(plans())
@at_most(20)
def test_the_workbook_finds_what_the_terminal_says_and_the_sure_price_by_the_curve(plan: Plan) -> None:
    reckoning = reckon(plan)
    search = search_of(reckoning)
    standing = planned_standing(reckoning)
    for one, said in zip(search.found.values(), must_fetch(standing), strict=True):
        if one.assuming != "sure":
            assert one.tenths == (0 if said.change is None else 1000 + 10 * said.change)
        elif one.first and not at(one.tenths, search).case.reckoned.is_rough:
            state = state_at(standing, prices_at(plan, change_of(one.tenths)))
            assert chance_of_target(state) >= float(plan.sale.confidence) - WITHIN


def at(tenths: int, search: Search) -> Tried:
    """Return the prices tried that are so many tenths of a per cent of the plan's."""
    between = (halved.tried for halved in search.found["sure"].halved)
    return next(tried for tried in (*between, *search.tried) if tried.tenths == tenths)


def with_changes(price: str, target: str) -> tuple[Reckoning, bytes]:
    """Return the sample as a plan has it with another price and target, and its book with these typed."""
    tables: dict[str, Any] = deepcopy(dict(sample_tables(SAMPLE)))
    tables["sale"]["target"], tables["wares"][0]["price"] = Decimal(target), Decimal(price)
    cells = {
        input_place(book(), "Plan", "sale", "target"): Decimal(target),
        input_place(book(), "Plan", "wares", "price", {"code": "MUG"}): Decimal(price),
    }
    return reckon(plan_of(tables)), changed(book(), cells)


@cache
def book() -> bytes:
    with few_free_lines():
        return book_of_plan(plan_of(sample_tables(SAMPLE)))


def prices_of(xlsx: bytes, values: Mapping[Place, Value]) -> list[Value]:
    places = (input_place(xlsx, "Price", "must_fetch", column, {"name": "Mug"}) for column in COLUMNS)
    return [values[place] for place in places]


CHANGES = {
    "a price that is enough": ("16", "240"),
    "a price somewhat too low": ("13.50", "240"),
    "a price much too low": ("1", "240"),
    "a target out of all reach": ("0.50", "99999"),
}


@pytest.mark.slow
@pytest.mark.parametrize("case", CHANGES)
def test_it_follows_what_is_typed_on_plan(case: str) -> None:
    reckoning, xlsx = with_changes(*CHANGES[case])
    said = must_fetch_where_missed(reckoning)
    prices = [float(one.prices.firsts["MUG"]) if one.prices.firsts else "none" for one in said]
    assert prices_of(xlsx, by_ironcalc(xlsx)) == (prices or ["", "", ""])


def test_three_prices_stand_there_where_the_plans_price_misses_the_target() -> None:
    """Ten mugs for 200.00: 20.00 if all sell, 22.50 for the nine that are expected; P(8 or more) is 0.93."""
    xlsx = book_of_plan(a_plan(target="200", wares=[a_ware(price="19")]))
    assert prices_of(xlsx, values_of(xlsx)) == [20, 22.5, 25]


@pytest.mark.parametrize(
    ("target", "known"),
    [
        # From 20.00 to 24.00 the plan knows that 0.9 buy, then none: 216 can be expected, 240 if all sell.
        pytest.param("210", ["yes", "yes", "yes"], id="known"),
        pytest.param("216.50", ["yes", "", ""], id="no price"),
        pytest.param("250", ["no", "", ""], id="beyond what is known"),
        pytest.param("150", ["", "", ""], id="not asked"),
    ],
)
def test_it_says_whether_the_plan_knows_how_many_buy_at_such_prices(target: str, known: list[str]) -> None:
    demand = [["20", "0.9"], ["24", "0.9"], ["24.01", "0"]]
    wares = [a_ware(demand=demand)]
    xlsx = book_of_plan(a_plan(target=target, wares=wares, sale={"confidence": "0.5"}))
    values = values_of(xlsx)
    row = next(cell[1:] for (_sheet, cell), value in values.items() if value == "Plan says how many buy")
    assert [values.get(("Price", f"{column}{row}")) for column in "DEF"] == known
