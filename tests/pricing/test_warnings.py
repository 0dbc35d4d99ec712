from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from salebook.making.firing import FiringNeed, Part
from salebook.plan.model import Plan
from tests.support.priced_sales import a_fixed_cost, a_plan, a_studio, a_ware, advice_on, for_each_sold, given

FALLING = [["10", "0.9"], ["40", "0.3"]]
SETTLED: Mapping[str, Any] = {
    "beneficiaries": [{"name": "Village library", "agreed": "2027-03-01"}],
    "clays": [],
    "donated": [given()],
    "outlooks": [{"name": "quiet", "factor": "0.7"}, {"name": "fair"}],
}


def said_of(plan: Plan) -> str:
    return "\n".join(advice_on(plan).warnings)


@pytest.mark.parametrize(
    ("tables", "words"),
    [
        ({"wares": [a_ware("MUG")]}, "How many would sell at each price is not said for Mug"),
        ({"wares": [a_ware("MUG", demand=FALLING[::-1])]}, "pieces fail one by one"),
        ({"wares": [a_ware("MUG", demand=[["10", "0.3"], ["40", "0.5"]])]}, "would sell at a higher price"),
        ({"wares": [a_ware("MUG", price="20.20")]}, "£20.20 is no whole number of steps of £0.50"),
        ({"wares": [a_ware("MUG", seconds_price="7.20")]}, "£7.20 is no whole number of steps"),
        ({"wares": [a_ware("MUG", spoken_for=11)]}, "Mug: more are spoken for than there are, so only 10"),
        ({"outlooks": []}, "the chance of the target is less certain than it looks"),
        ({"outlooks": [{"name": "a"}, {"name": "b"}]}, "only one kind of day"),
        ({"beneficiaries": [{"name": "Village library"}]}, "no day is given on which the group agreed"),
        ({"payments": [{"name": "card", "fixed": "50"}]}, "paid by card, the fee is more than the price"),
        ({"materials": [for_each_sold("41")]}, "D1: each one sold costs more than it brings"),
        ({"donated": [given(keeps="1")]}, "D1: nothing is left of the price for the groups"),
        ({"materials": [for_each_sold("41")]}, "so no number of them makes the target"),
        (
            {"other_income": [{"name": "raffle", "expected": "100"}]},
            "other income expected (£100.00) makes the target of £100.00 without a piece sold",
        ),
        ({"donated": [given(count=2)]}, "it takes 3 pieces, and there are 2"),
        ({"donated": [given(count=3)]}, "needs nearly every piece sold: 3 of 3"),
    ],
)
def test_what_a_person_should_know_is_said(tables: Mapping[str, Any], words: str) -> None:
    assert words in said_of(a_plan(**{**SETTLED, **tables}))


@pytest.mark.parametrize(
    ("count", "target", "is_said"),
    [(10, "360", True), (10, "400", True), (20, "680", False), (20, "0", False)],
)
def test_nine_of_ten_pieces_are_nearly_all(count: int, target: str, is_said: bool) -> None:
    plan = a_plan(**{**SETTLED, "donated": [given(count=count)]}, target=target)
    assert is_said == ("needs nearly every piece sold" in said_of(plan))


def test_as_many_as_there_are_may_be_spoken_for() -> None:
    assert "spoken for" not in said_of(a_plan(**{**SETTLED, "wares": [a_ware("MUG", spoken_for=10)]}))


def test_pieces_that_are_spoken_for_are_held_against_the_good_ones_and_not_the_seconds() -> None:
    wares = [a_ware("MUG", spoken_for=3, seconds_price="9")]
    plan = a_plan(**{**SETTLED, "wares": wares})
    assert not [
        text for text in advice_on(plan, a_studio(plan, seconds={"MUG": 2})).warnings if "spoken for" in text
    ]


def test_wares_are_named_one_after_the_other_and_seconds_as_such() -> None:
    wares = [a_ware("MUG", seconds_price="1"), a_ware("BOWL")]
    plan = a_plan(**{**SETTLED, "wares": wares, "materials": [for_each_sold("3", "MUG")]})
    found = "\n".join(advice_on(plan, a_studio(plan, seconds={"MUG": 2})).warnings)
    assert "Mug (second): each one sold costs more than it brings" in found
    assert "is not said for Mug, Bowl:" in found


def a_firing(plan: Plan, **changes: Any) -> FiringNeed:
    need = FiringNeed(
        firing=plan.firings[0],
        loads=1,
        ware_kg=9.0,
        hours=9.0,
        kwh=45.0,
        peak_kw=6.0,
        parts=(),
        cost_of_load=0.0,
        cost=Decimal(0),
        correction=1.0,
        basis="walls",
    )
    return replace(need, **changes)


def a_part(short_kw: float) -> Part:
    return Part(
        step=1,
        kind="ramp",
        from_c=20.0,
        to_c=1220.0,
        hours=9.0,
        heat_kwh=45.0,
        kwh=45.0,
        mean_kw=5.0,
        short_kw=short_kw,
        cost=0.0,
    )


ENERGY = {"energy": {"rates": [{"from": "00:00", "to": "24:00", "price": "0.27"}]}}
NOT_METERED = "No firing was metered"
TOO_WEAK = "The kiln may not keep up with the glaze firing"


@pytest.mark.parametrize(
    ("tables", "changes", "said", "not_said"),
    [
        ({}, {}, "the firings are reckoned to cost nothing", "Standing charges"),
        (ENERGY, {}, "Standing charges for energy are left out", "cost nothing"),
        (ENERGY, {}, NOT_METERED, TOO_WEAK),
        (ENERGY, {"basis": "meter", "correction": 1.0}, "Standing charges", NOT_METERED),
        (ENERGY, {"correction": 1.2}, "Standing charges", NOT_METERED),
        (ENERGY, {"basis": "on share"}, "The energy of glaze is a rough one", TOO_WEAK),
        (ENERGY, {"parts": (a_part(0.0), a_part(0.4))}, TOO_WEAK, "a rough one"),
        (ENERGY, {"parts": (a_part(0.0),)}, "Standing charges", TOO_WEAK),
    ],
)
def test_what_is_not_known_of_a_firing_is_said(
    tables: Mapping[str, Any], changes: Mapping[str, Any], said: str, not_said: str
) -> None:
    firing = {"name": "glaze", "stage": "glaze", "steps": [{"rate": 100, "to": 1220}]}
    plan = a_plan(**{**SETTLED, "firings": [firing], **tables})
    studio = replace(a_studio(plan), firings=(a_firing(plan, **changes),))
    remarks = "\n".join(advice_on(plan, studio).warnings)

    assert said in remarks
    assert not_said not in remarks


@pytest.mark.parametrize(
    ("first", "second", "is_estimate"),
    [
        ({}, {}, True),
        ({"basis": "meter"}, {}, False),
        ({}, {"basis": "meter"}, False),
        ({}, {"correction": 0.9}, False),
        ({"basis": "meter"}, {"basis": "meter"}, False),
    ],
)
def test_the_energy_is_an_estimate_until_one_firing_was_metered(
    first: Mapping[str, Any], second: Mapping[str, Any], *, is_estimate: bool
) -> None:
    firing = {"name": "glaze", "stage": "glaze", "steps": [{"rate": 100, "to": 1220}]}
    plan = a_plan(**{**SETTLED, "firings": [firing], **ENERGY})
    needs = (a_firing(plan, **first), a_firing(plan, **second))
    remarks = "\n".join(advice_on(plan, replace(a_studio(plan), firings=needs)).warnings)

    assert (NOT_METERED in remarks) == is_estimate


def test_each_firing_that_is_rough_or_too_fast_is_named() -> None:
    tables = [
        {"name": name, "stage": "glaze", "steps": [{"rate": 100, "to": 1220}]} for name in ("white", "blue")
    ]
    plan = a_plan(**{**SETTLED, "firings": tables, **ENERGY})
    needs = tuple(
        replace(a_firing(plan, basis="on share", parts=(a_part(0.4),)), firing=firing)
        for firing in plan.firings
    )
    remarks = "\n".join(advice_on(plan, replace(a_studio(plan), firings=needs)).warnings)

    assert "The energy of white, blue is a rough one" in remarks
    assert [f"keep up with the {name} firing" in remarks for name in ("white", "blue")] == [True, True]


def test_where_there_is_nothing_to_say_nothing_is_said() -> None:
    assert said_of(a_plan(**{**SETTLED, "donated": [given(count=10)]})) == ""


@pytest.mark.parametrize(
    "tables",
    [
        pytest.param({"wares": [a_ware(price="0.01")]}, id="the smallest price"),
        pytest.param({"wares": [a_ware(sells="0")]}, id="nothing sells"),
        pytest.param({"wares": [a_ware()], "materials": [for_each_sold("99")]}, id="every piece at a loss"),
        pytest.param({"wares": [a_ware()], "materials": [for_each_sold("20")]}, id="every piece for nothing"),
        pytest.param(
            {"wares": [a_ware()], "overheads": [a_fixed_cost("9999")]}, id="costs beyond all takings"
        ),
        pytest.param({"donated": [given(keeps="1")]}, id="the giver keeps all"),
        pytest.param(
            {"wares": [a_ware()], "outlooks": [{"name": "storm", "factor": "0"}]}, id="nobody comes"
        ),
        pytest.param(
            {"wares": [a_ware()], "payments": [{"name": "card", "percent": "100"}]}, id="fees take all"
        ),
        pytest.param({"wares": [a_ware()], "target": "0"}, id="no target"),
    ],
)
def test_odd_sales_are_answered_in_numbers(tables: dict[str, Any]) -> None:
    advice = advice_on(a_plan(**tables))
    target = advice.target

    assert len(advice.ladder) == 19
    assert all(0 <= rung.chance <= 1 and rung.expected_net.is_finite() for rung in advice.ladder)
    assert target.pieces_needed is None or target.pieces_needed >= 0
    assert 0 <= target.chance <= 1
