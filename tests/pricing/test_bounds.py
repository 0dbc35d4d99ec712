"""Plans at the edge of what may be asked: each is answered soon, in figures or in words."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from salebook.base.errors import FaultyPlanError
from salebook.plan.load import plan_from_mapping
from salebook.plan.ware_rules import MOST_PIECES
from salebook.pricing.number_wanted import MOST_WORK, WORK_OF_COSTS, _Search, with_number_wanted
from salebook.reckoning import reckon
from tests.pricing.test_number_wanted import left_out
from tests.support.priced_sales import a_fixed_cost, a_plan, a_ware, for_each_sold
from tests.support.priced_sales import given as a_gift
from tests.support.sound_plan import changed
from tests.support.strategies import at_most

EXTREME = at_most(60, suppress_health_check=[HealthCheck.too_slow])
OUTLOOKS, MOST_WARES = 6, 20
ONE_STEP = WORK_OF_COSTS + 16 * OUTLOOKS * (2 * MOST_WARES + 2)
"""The last step of a search may go so far beyond: a search by halves among 10 000 at most."""

money = st.sampled_from(["0.01", "0.05", "1", "7.77", "20", "99.99", "99999.99", "1000000"])
shares = st.sampled_from(["0", "0.001", "0.3", "0.9", "0.999", "0.99999", "1"])
payers = st.sampled_from(["sale", "maker"])


@st.composite
def extreme_tables(draw: st.DrawFn) -> dict[str, Any]:
    """Many wares, odd targets, shares of nearly 1, extreme weights, tiny and huge prices."""
    wanted = st.sampled_from([1, 3, 10, 50, 200])
    others = [
        a_ware(f"W{n}", price=draw(money), sells=draw(shares), wanted=draw(wanted))
        for n in range(draw(st.integers(0, MOST_WARES - 1)))
    ]
    mine = left_out(price=draw(money), sells=draw(shares), seconds=draw(st.sampled_from(["0", "0.1", "0.5"])))
    weights = st.sampled_from(["0.000001", "1", "1000000"])
    factors = st.sampled_from(["0", "0.3", "0.7", "1", "10"])
    pack = {"name": "clay", "pack": draw(st.sampled_from(["1 kg", "1000 kg"])), "shrinkage": "0.1"}
    fees = {"name": "card", "percent": draw(st.sampled_from(["0", "1.69", "50"])), "fixed": draw(money)}
    return {
        "target": draw(st.sampled_from(["0", "0.01", "1", "2000", "50000", "1000000"])),
        "sale": {"confidence": draw(st.sampled_from(["0.5", "0.9", "0.999"]))},
        "clays": [{**pack, "pack_price": draw(money), "met_by": draw(payers)}],
        "wares": [{**mine, "seconds_price": draw(money)}, *others],
        "materials": [for_each_sold(draw(money), met_by=draw(payers))],
        "overheads": [a_fixed_cost(draw(money))],
        "payments": [fees] if draw(st.booleans()) else [],
        "outlooks": [
            {"name": str(n), "weight": draw(weights), "factor": draw(factors)}
            for n in range(draw(st.integers(0, OUTLOOKS)))
        ],
        "donated": [a_gift(price=draw(money), count=draw(wanted), keeps=draw(shares), sells=draw(shares))],
    }


@EXTREME
@given(extreme_tables())
def test_the_search_for_a_number_ends_after_so_much_work(tables: dict[str, Any]) -> None:
    with pytest.MonkeyPatch.context() as patched:
        searches: list[_Search] = []
        wanting = _Search.wanting

        def seen(search: _Search, number: int) -> Any:
            searches.append(search)
            return wanting(search, number)

        patched.setattr(_Search, "wanting", seen)
        try:
            found = with_number_wanted(a_plan(**tables)).wares[0].wanted
        except FaultyPlanError as faulty:
            found = int("as none up to" in str(faulty))
        assert 1 <= found <= MOST_PIECES
    assert searches[-1].done <= MOST_WORK + ONE_STEP


def test_pieces_that_cost_more_to_sell_than_they_bring_are_given_up_at_once() -> None:
    """A fee of 5.00 on a piece of 0.01: no number makes up for that, and none is tried but the ends."""
    plan = a_plan(target="0", wares=[left_out(price="0.01")], payments=[{"name": "card", "fixed": "5"}])
    with pytest.raises(FaultyPlanError, match="none up to 5311 makes the target"):
        reckon(plan)


@pytest.mark.slow
def test_a_search_that_would_go_on_for_long_says_how_far_it_looked() -> None:
    """Each piece brings 10.00, and its clay costs nearly that: each step leads little further."""
    clay = {"name": "clay", "pack": "400 g", "pack_price": "8.80", "shrinkage": "0.1", "waste": 0}
    plan = a_plan(
        target="900",
        wares=[left_out(price="10", sells="1")],
        clays=[{**clay, "whole_packs": False, "met_by": "sale"}],
    )
    with pytest.raises(FaultyPlanError, match="larger ones were not looked at"):
        with_number_wanted(plan)


@pytest.mark.parametrize(
    ("changes", "place"),
    [
        ([(("wares", 0, "price"), Decimal("9999999999.99"))], "wares → VASE → price"),
        ([(("sale", "target"), Decimal("999999999999.99"))], "sale → target"),
        ([(("clays", 0, "pack_price"), Decimal("99999999999.99"))], "clays → buff stoneware → pack_price"),
        ([(("energy", "rates", 0, "price"), 10**9)], "firings → glaze → metered_kwh"),
        ([(("overheads", 0, "amount"), Decimal("999999999999.99"))], "overheads → "),
        ([(("hours", "rate"), Decimal("99999999999.99"))], "hours → rate"),
        ([(("payments", 1, "fixed"), Decimal("99999999999.99"))], "payments → card → fixed"),
        ([(("sale", "price_step"), 10**12)], "sale → price_step"),
    ],
)
def test_sums_that_no_spreadsheet_can_hold_are_refused_with_their_key(
    changes: list[tuple[tuple[str | int, ...], object]], place: str
) -> None:
    plan = plan_from_mapping(changed(*changes), file="plan.toml")
    with pytest.raises(FaultyPlanError) as told:
        reckon(plan)
    assert place in str(told.value)
    assert "at most 100 000 000 000 GBP in all, as a spreadsheet keeps 15 digits" in str(told.value)


def test_many_amounts_that_are_too_large_together_name_the_largest() -> None:
    wares = [a_ware(f"W{n}", price=f"{1_000_000_000 + n}", wanted=9) for n in range(12)]
    with pytest.raises(FaultyPlanError) as told:
        reckon(a_plan(wares=wares))
    assert [fault.place for fault in told.value.faults] == ["wares → W11 → price"]
