"""The worked states: what can be expected from each, against figures that a separate program reckoned.

Chances agree to 0.002, pieces and money to 0.01.
"""

import json
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from salebook.forecast.figures import figures_of
from tests.support.sale_states import state_from

WORKED: list[Mapping[str, Any]] = json.loads(
    (Path(__file__).parent / "worked-now.json").read_text(encoding="utf-8"), parse_float=Decimal
)
IDS = [f"{case['change']} % with {case['state']['over']} over" for case in WORKED]


@pytest.mark.parametrize("case", WORKED, ids=IDS)
def test_pieces_and_money_expected_are_the_worked_ones(case: Mapping[str, Any]) -> None:
    due, state = case["figures"], state_from(case["state"])
    found = figures_of(state)
    assert float(due["expected_more_sold"]) == pytest.approx(float(found.expected_more_sold), abs=0.01)
    assert float(due["expected_net"]) == pytest.approx(float(found.expected_net), abs=0.01)
    assert float(due["still_needed"]) == pytest.approx(float(state.still_needed), abs=0.01)


@pytest.mark.parametrize("case", WORKED, ids=IDS)
def test_the_chance_and_the_kinds_of_day_are_the_worked_ones(case: Mapping[str, Any]) -> None:
    due, found = case["figures"], figures_of(state_from(case["state"]))
    assert float(due["chance"]) == pytest.approx(found.chance, abs=0.002)
    assert [float(weight) for weight in due["outlooks"]] == pytest.approx(
        [float(weight) for weight in found.outlooks], abs=0.002
    )
