"""The tables on Making from which the number to start is read where losses were counted."""

from collections.abc import Mapping
from decimal import Decimal
from math import prod
from typing import Any

import pytest

from salebook.book.sheets.making.counted_chances import Chances
from salebook.book.sheets.making.earlier_counts import STAGES
from salebook.making.losses import run_of
from tests.support.books import book_of_plan, few_free_lines
from tests.support.cells import Place, Value, changed, values_of
from tests.support.counted_plan import SEEN, counted_book, counted_plan, counted_vase
from tests.support.engines import by_formualizer
from tests.support.inputs import input_place
from tests.support.rules import Opened
from tests.support.sound_plan import plan_with

Changes = Mapping[tuple[str, str, str], Value | Decimal]
"""A section of Plan, a key, and the stage or nothing: what is typed there for the vase or the sale."""


def named(book: bytes, values: Mapping[Place, Value], name: str) -> list[Value]:
    return [values[place] for place in Opened(book).places(name)]


def typed(code: str, changes: Changes) -> bytes:
    cells = {
        input_place(
            counted_book(), "Plan", section, key, {"code": code} | ({"stage": stage} if stage else {})
        ): value
        for (section, key, stage), value in changes.items()
    }
    return changed(counted_book(), cells)


def test_the_ways_of_the_table_give_the_chances_of_every_stage() -> None:
    plan = counted_plan()
    table = Chances(run=run_of(plan.wares[0], plan))
    after = [float(number >= 36) for number in range(table.first, table.last + 1)]
    for stage in reversed(STAGES):
        ways = table.ways[stage]
        weighed = [
            sum(map(prod, zip(ways.lost[-1 - n :], ways.kept, after[: n + 1], strict=False))) / either
            for n, either in enumerate(ways.either)
        ]
        assert weighed == pytest.approx(table.enough[stage][table.first :], abs=1e-12)
        after = weighed


@pytest.mark.slow
def test_the_table_leads_to_the_number_that_is_started() -> None:
    shown = values_of(counted_book())
    started, chances = named(counted_book(), shown, "ware_started"), named(counted_book(), shown, "chances_1")
    numbers = range(35, 35 + len(chances))
    enough = [number for number, chance in zip(numbers, chances, strict=True) if float(chance) >= 0.9]
    assert started[0] == enough[0] == 52
    assert float(chances[52 - 35]) == pytest.approx(0.9116, abs=5e-5)


FOLLOWED: dict[str, tuple[Changes, dict[str, Any]]] = {
    "more were lost": ({("seen_before", "lost", "glaze"): 9}, {"seen": {**SEEN, "glaze": [9, 44]}}),
    "more are wanted": ({("wares", "wanted", ""): 38}, {"wanted": 38}),
    "less was believed": ({("wares", "seconds", ""): 0}, {"seconds": 0}),
}


@pytest.mark.slow
@pytest.mark.parametrize("change", FOLLOWED)
def test_a_change_on_plan_moves_the_table_and_the_number(change: str) -> None:
    changes, values = FOLLOWED[change]
    changed_book = typed("VASE", changes)
    fresh = plan_with(*counted_vase(), *(((("wares", 0, key), value)) for key, value in values.items()))
    with few_free_lines():
        due_book = book_of_plan(fresh)
    now, due = by_formualizer(changed_book), values_of(due_book)
    for name in ("ware_started", "ware_seconds"):
        assert named(changed_book, now, name)[0] == named(due_book, due, name)[0]
    both = zip(named(changed_book, now, "chances_1"), named(due_book, due, "chances_1"), strict=False)
    assert all(found == pytest.approx(wanted, abs=1e-9) for found, wanted in both)


@pytest.mark.slow
def test_a_number_that_no_formula_can_give_is_said_to_be_old() -> None:
    assert named(counted_book(), by_formualizer(counted_book()), "stale_starts") == [0]
    changed_book = typed("POT", {("seen_before", "lost", "glaze"): 30})
    now = by_formualizer(changed_book)
    assert named(changed_book, now, "stale_starts") == [2]
    assert "Some numbers to start are old: what they were worked out from has changed" in now.values()
