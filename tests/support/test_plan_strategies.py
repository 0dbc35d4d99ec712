"""Plans and filled-in sales by chance are what salebook takes."""

import tomllib
from decimal import Decimal

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from salebook.plan.load import read_plan
from salebook.plan.model import Plan
from salebook.reckoning import reckon
from tests.support.entry_strategies import a_day_of_takings, entries, piece_numbers
from tests.support.plan_strategies import SMALL, plan_of, plan_tables, plans
from tests.support.strategies import Tables
from tests.support.toml_text import toml_text

pytestmark = pytest.mark.slow

BY_CHANCE = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@BY_CHANCE
@given(plan_tables())
def test_tables_written_as_a_plan_file_are_the_same_when_read(tables: Tables) -> None:
    assert tomllib.loads(toml_text(tables), parse_float=Decimal) == tables


@BY_CHANCE
@given(plan_tables())
def test_every_plan_by_chance_is_valid_and_can_be_reckoned(tables: Tables) -> None:
    plan = read_plan(toml_text(tables), file="plan by chance")
    assert [run.ware.code for run in reckon(plan).studio.runs] == [ware["code"] for ware in tables["wares"]]


@BY_CHANCE
@given(plans(SMALL), st.data())
def test_what_is_filled_in_by_chance_fits_its_plan(plan: Plan, data: st.DataObject) -> None:
    filled = data.draw(entries(plan))
    assert {line.way for line in filled.lines} <= {way.name for way in plan.payments} | {""}
    assert set(filled.pieces) <= set(piece_numbers(plan))


@BY_CHANCE
@given(plans(SMALL))
def test_the_day_of_takings_fits_any_plan(plan: Plan) -> None:
    lines = a_day_of_takings(plan).lines
    assert [line.number for line in lines] == list(range(1, len(lines) + 1))
    assert {line.piece for line in lines} - {""} <= set(piece_numbers(plan))


def test_tables_of_every_kind_are_written_as_toml() -> None:
    tables: Tables = {
        "format": 1,
        "sale": {"title": 'a "b" \\ ', "days": [], "open": True},
        "wares": [{"demand": [[Decimal("1.50"), 1]], "losses": {"glaze": Decimal(0)}}, {"code": "A"}],
    }
    assert tomllib.loads(toml_text(tables), parse_float=Decimal) == tables


def test_a_plan_by_chance_is_read_as_any_other_file() -> None:
    tables: Tables = {
        "format": 1,
        "sale": {"title": "Yard sale", "maker": "A maker", "days": ["2027-05-08"], "target": 10},
        "beneficiaries": [{"name": "Library"}],
        "donated": [{"code": "SPN", "name": "Spoon", "maker": "A neighbour", "price": 3}],
    }
    assert plan_of(tables).donated[0].price == Decimal(3)
