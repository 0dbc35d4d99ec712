import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from salebook.making.studio import Studio, plan_studio
from tests.support.sound_plan import GONE, plan_with

FIGURES: dict[str, Any] = json.loads(
    (Path(__file__).parent.parent / "worked-figures.json").read_text(encoding="utf-8")
)
RUN_COUNTS = ("started", "to_biscuit", "to_glaze", "seconds", "for_sale", "batches")


@pytest.fixture(scope="module")
def studio() -> Studio:
    return plan_studio(plan_with(), loads={"biscuit": 2, "glaze": 2})


def test_the_runs_are_those_reckoned_by_a_separate_program(studio: Studio) -> None:
    assert [[getattr(run, count) for count in RUN_COUNTS] for run in studio.runs] == [
        [ware[count] for count in RUN_COUNTS] for ware in FIGURES["wares"]
    ]
    assert [run.chance_of_enough for run in studio.runs] == pytest.approx(
        [ware["chance_of_enough"] for ware in FIGURES["wares"]], abs=1e-9
    )


def test_the_clay_is_that_reckoned_by_a_separate_program(studio: Studio) -> None:
    for need, expected in zip(studio.clays, FIGURES["clays"], strict=True):
        assert (need.clay.name, need.packs) == (expected["name"], expected["packs"])
        assert float(need.kg) == pytest.approx(expected["kg"], rel=1e-12)
        assert need.cost == Decimal(str(expected["cost"]))


def test_the_firings_are_those_reckoned_by_a_separate_program(studio: Studio) -> None:
    for need, expected in zip(studio.firings, FIGURES["firings"], strict=True):
        assert (need.firing.name, need.loads) == (expected["name"], expected["loads"])
        assert (need.hours, need.kwh, need.peak_kw) == pytest.approx(
            (expected["hours"], expected["kwh"], expected["peak_kw"]), rel=1e-3
        )
        assert need.cost == Decimal(str(expected["cost"]))


def test_the_hours_are_those_reckoned_by_a_separate_program(studio: Studio) -> None:
    assert (float(studio.hours.total), float(studio.hours.value)) == (
        FIGURES["hours"]["total"],
        FIGURES["hours"]["value"],
    )


def test_the_worked_plan_needs_two_loads_of_itself() -> None:
    loadings = plan_studio(plan_with()).loadings
    assert [(loading.stage, loading.to_fire, loading.lower_bound) for loading in loadings] == [
        ("biscuit", 2, 2),
        ("glaze", 2, 2),
    ]


def test_a_sale_of_given_pieces_alone_needs_no_making() -> None:
    plan = plan_with((("wares",), []))
    studio = plan_studio(plan)
    assert (studio.runs, studio.sizes) == ((), ())
    assert [(need.packs, need.cost) for need in studio.clays] == [(0, Decimal(0))]
    assert [(need.loads, need.ware_kg) for need in studio.firings] == [(0, 0), (0, 0)]
    assert [need.cost for need in studio.firings] == [0, 0]
    assert [line.count for line in studio.hours.lines] == [0, 0]


def test_a_plan_without_firings_is_not_fired() -> None:
    studio = plan_studio(plan_with((("kiln",), GONE), (("firings",), GONE), (("energy",), GONE)))
    assert (studio.loadings, studio.firings) == ((), ())
    assert [run.started for run in studio.runs] == [31, 28]
    assert [line.count for line in studio.hours.lines] == [59, 0]
