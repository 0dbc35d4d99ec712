"""A change typed into Plan is followed everywhere, as if the plan had always said so."""

from collections.abc import Mapping
from copy import deepcopy
from decimal import Decimal
from typing import Any

import pytest

from tests.support.books import book_of_plan, few_free_lines, sample_tables
from tests.support.cells import Place, Value
from tests.support.changes import Case, Typed, recalculated_with_changes
from tests.support.entry_strategies import a_day_of_takings
from tests.support.plan_strategies import plan_of
from tests.support.programs import needs_libreoffice
from tests.support.strategies import Tables

pytestmark = pytest.mark.slow

SAMPLE = "harbour-weekend"


def a_change(section: str, key: str, value: str, **where: Value) -> Typed:
    number = value.replace(".", "").replace("-", "").isdigit()
    return Typed(section=section, key=key, value=Decimal(value) if number else value, where=where)


CHANGES: dict[str, tuple[tuple[Typed, ...], tuple[str, ...]]] = {
    "a price": ((a_change("wares", "price", "24", code="MUG"),), ("expected_net", "pieces_needed")),
    "a price of seconds": ((a_change("wares", "seconds_price", "9", code="JUG"),), ("expected_net",)),
    "a point of demand": (
        (a_change("demand", "share", "0.7", code="MUG", price=22),),
        ("expected_net",),
    ),
    "a giver's part": ((a_change("donated", "keeps", "0.25", code="LAMP"),), ("expected_net",)),
    "how many would sell": ((a_change("donated", "sells", "0.6", code="CARD"),), ("expected_net",)),
    "shares of the ways to pay": (
        (
            a_change("payments", "share", "0.25", name="cash"),
            a_change("payments", "share", "0.75", name="card"),
        ),
        ("expected_net",),
    ),
    "a fee": ((a_change("payments", "percent", "2.5", name="card"),), ("expected_net",)),
    "a loss": ((a_change("wares", "throwing", "0.12", code="MUG"),), ("ware_started", "clay_kg")),
    "seconds": ((a_change("wares", "seconds", "0.12", code="MUG"),), ("ware_started", "ware_seconds")),
    "what a bag of clay costs": (
        (a_change("clays", "pack_price", "19.90", name="speckled stoneware"),),
        ("clay_costs", "fixed_spent", "mean_spent"),
    ),
    "who pays for the clay": (
        (a_change("clays", "met_by", "sale", name="speckled stoneware"),),
        ("expected_net", "costs_met_by_sale_now"),
    ),
    "a material": (
        (a_change("materials", "pack_price", "19", name="bag, tissue and string"),),
        ("expected_net",),
    ),
    "another cost": (
        (a_change("overheads", "amount", "55.50", name="public liability cover"),),
        ("expected_net", "costs_met_by_sale_now", "pool"),
    ),
    "the target": ((a_change("sale", "target", "2100"),), ("pieces_needed", "share_of_target")),
    "how sure": ((a_change("sale", "confidence", "0.8"),), ("ware_started",)),
    "other money": ((a_change("other_income", "expected", "140", name="raffle"),), ("expected_net",)),
    "a group's parts": (
        (a_change("beneficiaries", "parts", "3", name="Shingle Bank seal watch"),),
        ("group_parts", "group_shares"),
    ),
    "a kind of day": (
        (a_change("outlooks", "factor", "0.6", name="wet and windy"),),
        ("expected_net",),
    ),
    "how likely a kind of day is": (
        (a_change("outlooks", "weight", "3", name="ordinary"),),
        ("expected_net",),
    ),
    "the worth of an hour": ((a_change("hours", "rate", "15"),), ("hours_value", "fixed_full")),
    "a step of a firing": (
        (a_change("steps", "rate", "100", firing="stoneware glaze", n=2),),
        ("hours_2", "kwh_2", "expected_net"),
    ),
    "the price of energy": ((a_change("energy.rates", "price", "0.312", price=0.289),), ("expected_net",)),
    "the meter": ((a_change("firings", "metered_kwh", "52.5", name="stoneware glaze"),), ("expected_net",)),
    "what lies in the kiln": ((a_change("kiln", "furniture_kg", "22"),), ("heat_2", "expected_net")),
}
"""What is typed, and named results that must move with it."""


def with_changes(tables: Mapping[str, Any], changes: tuple[Typed, ...]) -> Tables:
    """Return the plan's tables as if it had been written so from the start."""
    new = deepcopy(dict(tables))
    for change in changes:
        _put(new, change)
    return new


def _put(tables: Tables, change: Typed) -> None:
    match change.section:
        case "demand":
            ware = _record(tables["wares"], {"code": change.where["code"]})
            point = next(point for point in ware["demand"] if point[0] == change.where["price"])
            point[1] = change.value
        case "steps":
            firing = _record(tables["firings"], {"name": change.where["firing"]})
            firing["steps"][int(change.where["n"]) - 1][change.key] = change.value
        case "energy.rates":
            (rate,) = (r for r in tables["energy"]["rates"] if float(r["price"]) == change.where["price"])
            rate["price"] = change.value
        case section if change.where:
            record = _record(tables[section], change.where)
            (record["losses"] if change.key in record.get("losses", {}) else record)[change.key] = (
                change.value
            )
        case section:
            tables[section][change.key] = change.value


def _record(records: list[Tables], where: Mapping[str, Value]) -> Tables:
    (found,) = (record for record in records if all(record[key] == value for key, value in where.items()))
    return found


@pytest.fixture(scope="module")
def cases() -> dict[str, Case]:
    tables = sample_tables(SAMPLE)
    filled = a_day_of_takings(plan_of(tables))
    with few_free_lines():
        before = book_of_plan(plan_of(tables), filled)
        fresh = {
            name: book_of_plan(plan_of(with_changes(tables, changes)), filled)
            for name, (changes, _moves) in CHANGES.items()
        }
    return {name: Case(before=before, changes=CHANGES[name][0], fresh=fresh[name]) for name in CHANGES}


@pytest.fixture(scope="module")
def followed(cases: dict[str, Case]) -> dict[str, dict[Place, Value]]:
    """What LibreOffice makes of each workbook after the change."""
    return recalculated_with_changes(cases)


@needs_libreoffice
@pytest.mark.parametrize("name", CHANGES)
def test_a_changed_input_is_followed_as_if_the_plan_had_said_so(
    name: str, cases: dict[str, Case], followed: dict[str, dict[Place, Value]]
) -> None:
    assert cases[name].not_followed(followed[name]) == []


@needs_libreoffice
@pytest.mark.parametrize("name", CHANGES)
def test_what_a_change_bears_on_moves_with_it(
    name: str, cases: dict[str, Case], followed: dict[str, dict[Place, Value]]
) -> None:
    assert cases[name].troubles_with(CHANGES[name][1], followed[name]) == []


@pytest.mark.parametrize("name", CHANGES)
def test_only_what_is_marked_as_worked_out_can_be_out_of_date(name: str, cases: dict[str, Case]) -> None:
    assert cases[name].out_of_date_unmarked() == {}
