"""No plan, however odd, ends in anything but a plan or faults in plain words."""

import string
from contextlib import suppress
from copy import deepcopy
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from salebook.base.errors import FaultyPlanError, SalebookError
from salebook.plan.load import plan_from_mapping, read_plan
from salebook.plan.model import Plan
from salebook.plan.notes import assumptions, warnings
from salebook.plan.tables import TABLES
from tests.support.sound_plan import SOUND, WORKED_PLAN

pytestmark = pytest.mark.slow

KEYS = sorted({key for kind in TABLES.values() for key in kind.keys()} | set(TABLES))  # noqa: SIM118 (a record)
ODD_WORDS = (
    "",
    " ",
    "=1+1",
    "1 lb 4 oz",
    "160 mm",
    "nan",
    "07:30",
    "2027-06-12",
    "½",
    "-",
    "x" * 300,
    "GBP",
    "VASE",
)

SCALARS = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.integers(min_value=-3, max_value=3),
    st.floats(),
    st.decimals(),
    st.decimals(min_value=0, max_value=1, places=2),
    st.sampled_from([Decimal("1e999999"), Decimal("-1e-999999"), 10**4000, Decimal("0E+999999")]),
    st.text(max_size=30),
    st.sampled_from(ODD_WORDS),
    st.dates(),
    st.times(),
    st.datetimes(),
    st.sampled_from([date(2027, 6, 12), time(7), datetime(2027, 6, 12)]),
)
VALUES = st.recursive(
    SCALARS,
    lambda inner: (
        st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(KEYS) | st.text(), inner, max_size=3)
    ),
    max_leaves=6,
)


def slots(tables: Any, way: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Return the way to each value in a plan, tables and lists included."""
    inside = (
        tables.items() if isinstance(tables, dict) else enumerate(tables) if isinstance(tables, list) else ()
    )
    return [place for key, value in inside for place in ((*way, key), *slots(value, (*way, key)))]


SLOTS = slots(SOUND)


@st.composite
def odd_plans(draw: st.DrawFn) -> dict[str, Any]:
    """Draw the sound plan with one to four values replaced, taken out, renamed or put elsewhere."""
    tables = deepcopy(SOUND)
    for place in draw(st.lists(st.sampled_from(SLOTS), min_size=1, max_size=4)):
        with suppress(AttributeError, KeyError, IndexError, TypeError):
            inside: Any = tables
            for key in place[:-1]:
                inside = inside[key]
            value = inside.pop(place[-1])
            match draw(st.sampled_from(["replace", "take out", "rename", "move"])):
                case "replace" if isinstance(inside, list):
                    inside.insert(place[-1], draw(VALUES))
                case "replace":
                    inside[place[-1]] = draw(VALUES)
                case "rename":
                    inside[draw(st.sampled_from(KEYS) | st.text(max_size=9))] = value
                case "move":
                    tables[draw(st.sampled_from(KEYS))] = value
    return tables


def told(tables: Any) -> None:
    """Read a plan; whatever is wrong with it is a fault whose every part says something."""
    try:
        plan = plan_from_mapping(tables, file="plan.toml")
    except FaultyPlanError as faulty:
        parts = [(fault.place, fault.found, fault.expected) for fault in faulty.faults]
        if not parts or not all(all(part) for part in parts):
            raise AssertionError(parts) from faulty
    else:
        assert all(isinstance(text, str) for text in (*assumptions(plan), *warnings(plan)))


@settings(max_examples=300, deadline=None)
@given(odd_plans())
def test_an_odd_plan_is_read_or_its_faults_are_told(tables: dict[str, Any]) -> None:
    told(tables)


@settings(max_examples=200, deadline=None)
@given(st.sampled_from(SLOTS), VALUES)
def test_any_value_in_any_place_is_read_or_told(place: tuple[Any, ...], value: object) -> None:
    tables = deepcopy(SOUND)
    inside: Any = tables
    for key in place[:-1]:
        inside = inside[key]
    inside[place[-1]] = value
    told(tables)


@settings(max_examples=200, deadline=None)
@given(st.dictionaries(st.sampled_from(KEYS) | st.text(max_size=9), VALUES, max_size=6))
def test_tables_of_any_kind_are_read_or_told(tables: dict[str, Any]) -> None:
    told(tables)


@settings(max_examples=200, deadline=None)
@given(st.text() | st.text(string.ascii_lowercase + "[]{}=.,\"'#\n 0123456789", max_size=80))
def test_any_text_is_read_or_told(text: str) -> None:
    with suppress(SalebookError):
        assert isinstance(read_plan(text, file="plan.toml"), Plan)


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_a_plan_file_with_a_bite_out_of_it_is_read_or_told(data: st.DataObject) -> None:
    text = WORKED_PLAN.read_text(encoding="utf-8")
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 40)))
    with suppress(SalebookError):
        assert isinstance(
            read_plan(text[:start] + data.draw(st.text(max_size=5)) + text[end:], file="p"), Plan
        )
