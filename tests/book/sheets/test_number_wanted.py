"""A number that the plan leaves to the target stands on Plan as a number, and reckons the same again."""

from copy import deepcopy
from typing import Any

from salebook.reckoning import reckon
from tests.support.books import book_of_plan, few_free_lines, sample_tables
from tests.support.cells import values_of
from tests.support.inputs import input_place
from tests.support.plan_strategies import plan_of


def test_the_number_that_was_taken_stands_on_plan() -> None:
    tables: dict[str, Any] = deepcopy(dict(sample_tables("first-sale")))
    del tables["wares"][0]["wanted"]
    plan = plan_of(tables)
    with few_free_lines():
        book = book_of_plan(plan)
    place = input_place(book, "Plan", "wares", "wanted", {"code": "MUG"})
    tables["wares"][0]["wanted"] = int(values_of(book)[place])
    assert reckon(plan_of(tables)).advice.target == reckon(plan).advice.target
