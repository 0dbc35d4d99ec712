"""The worked plan: every figure against those that a separate program reckoned.

Counts agree exactly, money to the minor unit, energy to 0.1 %, chances to 0.002.
"""

import json
from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from salebook.jobs.price_json import price_json
from salebook.plan.load import load_plan
from salebook.reckoning import Reckoning, reckon

HERE = Path(__file__).parent
FIGURES: Mapping[str, Any] = json.loads(
    (HERE / "worked-figures.json").read_text(encoding="utf-8"), parse_float=Decimal
)

COUNTS = {
    *("code", "name", "kind", "met_by", "wanted", "started", "to_biscuit", "to_glaze", "seconds", "for_sale"),
    *("batches", "packs", "loads", "change", "pieces_needed", "lowest_change", "best_change", "sure_change"),
}
MONEY = ["cost", "total", "amount", "expected_net", "expected", "value", "maker", "sale", "sponsor"]
ENERGY = ["kg", "hours", "kwh", "peak_kw"]
CHANCES = ["chance", "chance_of_enough"]


@cache
def reckoning() -> Reckoning:
    return reckon(load_plan(HERE / "worked-plan.toml"), loads={"biscuit": 2, "glaze": 2})


@cache
def answer() -> Mapping[str, Any]:
    return price_json(reckoning())


def rows(table: str) -> list[Any]:
    return [pytest.param(place, id=f"{table} {place}") for place in range(len(FIGURES[table]))]


def assert_agrees(figures: Mapping[str, Any], answered: Mapping[str, Any]) -> None:
    """Compare every figure by its kind; one of no known kind is an error, so that none is passed over."""
    for name, figure in figures.items():
        if name in CHANCES:
            assert float(figure) == pytest.approx(answered[name], abs=0.002), name
        elif name in ENERGY:
            assert float(figure) == pytest.approx(answered[name], rel=0.001), name
        elif name == "expected_sold":
            assert float(figure) == pytest.approx(answered[name], abs=1e-9), name
        elif name in COUNTS:
            assert figure == answered[name], name
        else:
            assert name in MONEY, f"a figure of no known kind: {name}"
            assert isinstance(answered[name], str), name
            assert round(Decimal(figure), 2) == Decimal(answered[name]), name


@pytest.mark.parametrize("table", ["wares", "clays", "firings", "ladder", "share_out"])
def test_no_row_is_missing_or_too_many(table: str) -> None:
    assert len(FIGURES[table]) == len(answer()[table])


@pytest.mark.parametrize("place", rows("wares"))
def test_every_ware_is_made_in_the_numbers_of_the_worked_plan(place: int) -> None:
    assert_agrees(FIGURES["wares"][place], answer()["wares"][place])


@pytest.mark.parametrize("place", rows("clays"))
def test_the_clay_to_buy_is_the_worked_plans(place: int) -> None:
    assert_agrees(FIGURES["clays"][place], answer()["clays"][place])


@pytest.mark.parametrize("place", rows("firings"))
def test_every_firing_takes_and_costs_what_the_worked_plan_has(place: int) -> None:
    assert_agrees(FIGURES["firings"][place], answer()["firings"][place])


def test_every_cost_line_is_the_worked_plans() -> None:
    lines = FIGURES["costs"]["lines"]
    answered = answer()["costs"]["lines"]

    assert len(lines) == len(answered)
    for line, answered_line in zip(lines, answered, strict=True):
        assert_agrees(line, answered_line)


def test_who_meets_what_is_the_worked_plans() -> None:
    assert_agrees(FIGURES["costs"]["met_by"], answer()["costs"]["met_by"])
    assert_agrees({"total": FIGURES["costs"]["total"]}, answer()["costs"])


def test_the_hours_and_their_worth_are_the_worked_plans() -> None:
    assert float(FIGURES["hours"]["total"]) == pytest.approx(answer()["hours"]["total"], abs=1e-9)
    assert_agrees({"value": FIGURES["hours"]["value"]}, answer()["hours"])


def test_the_break_even_on_each_basis_is_the_worked_plans() -> None:
    assert FIGURES["break_even"] == answer()["break_even"]


def test_the_target_is_the_worked_plans() -> None:
    assert_agrees(FIGURES["target"], answer()["target"])


@pytest.mark.parametrize("place", rows("ladder"))
def test_every_rung_of_the_ladder_is_the_worked_plans(place: int) -> None:
    assert_agrees(FIGURES["ladder"][place], answer()["ladder"][place])


@pytest.mark.parametrize("place", rows("share_out"))
def test_every_group_can_expect_what_the_worked_plan_has(place: int) -> None:
    assert_agrees(FIGURES["share_out"][place], answer()["share_out"][place])


def test_nothing_is_missing_from_the_answer() -> None:
    assert {*FIGURES, "currency", "days", "must_fetch", "assumed", "warnings"} == set(answer())


def test_the_answer_is_plain_json_with_money_as_text() -> None:
    written = json.loads(json.dumps(dict(answer()), allow_nan=False))
    rung = written["ladder"][8]

    assert (
        written["currency"],
        written["target"]["amount"],
        written["target"]["expected_net"],
    ) == ("GBP", "820.00", "804.94")
    assert (
        rung["change"],
        rung["prices"],
        rung["seconds_prices"],
    ) == (10, {"VASE": "20.00", "POT": "29.00"}, {"POT": "16.50"})


def test_what_the_plan_leaves_open_is_said() -> None:
    said = " ".join(answer()["warnings"])

    assert "No firing was metered" in said
    assert "pieces fail one by one" in said
    assert "the usual breakages" not in said
