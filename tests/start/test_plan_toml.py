"""A plan that is written down is read as the same plan."""

from pathlib import Path

import pytest
from hypothesis import given

from salebook.plan.load import load_plan, read_plan
from salebook.plan.model import Hours, Making, Plan, Record
from salebook.plan.tables import Place
from salebook.start.plan_toml import TOP, plan_toml
from tests.support.plan_strategies import plans

SAMPLES = Path(__file__).parent.parent.parent / "sample_data"


def keys_said(record: Record) -> dict[str, object]:
    """Return the keys that a record says itself, in the records within it too."""
    return {
        name: [keys_said(each) if isinstance(each, Record) else each for each in _several(record, name)]
        for name in sorted(record.model_fields_set)
    }


def _several(record: Record, name: str) -> tuple[object, ...]:
    value = getattr(record, name)
    return value if isinstance(value, tuple) else (value,)


def read(text: str) -> Plan:
    return read_plan(text, file="plan.toml")


@given(plans())
def test_any_plan_is_read_back_as_it_was(plan: Plan) -> None:
    assert read(plan_toml(plan)) == plan


@pytest.mark.parametrize("name", ["harbour-weekend", "bergmarkt", "first-sale"])
def test_each_sample_keeps_every_key_that_it_says(name: str) -> None:
    plan = load_plan(SAMPLES / f"{name}.toml")
    again = read(plan_toml(plan))
    assert again == plan
    assert keys_said(again) == keys_said(plan)


def test_remarks_stand_above_what_they_are_about() -> None:
    plan = load_plan(SAMPLES / "first-sale.toml")
    remarks = {
        TOP: ["The next plan."],
        Place("wares", "MUG", "price"): ["It was £15.00."],
        Place("wares", "MUG", "demand"): ["Nobody counted."],
        Place("wares", "MUG"): ["The first kind."],
    }
    lines = plan_toml(plan, remarks).splitlines()
    assert lines[0].startswith("# A plan for salebook.")
    assert lines[lines.index("format = 1") - 1] == "# The next plan."
    at = lines.index("[[wares]]")
    assert lines[at - 2 : at] == ["# Nobody counted.", "# The first kind."]
    price = next(n for n, line in enumerate(lines) if line.startswith("price = 16"))
    assert lines[price - 1] == "# It was £15.00."
    assert read("\n".join(lines)) == plan


def test_a_long_remark_is_broken_into_lines_and_never_becomes_a_key() -> None:
    plan = load_plan(SAMPLES / "first-sale.toml")
    text = plan_toml(plan, {TOP: ["title = 1 " * 40]})
    assert read(text) == plan
    assert max(len(line) for line in text.splitlines() if line.startswith("#")) <= 102


def test_a_block_that_says_nothing_is_left_out() -> None:
    plan = load_plan(SAMPLES / "first-sale.toml").model_copy(update={"making": Making(), "hours": Hours()})
    assert "[making]" not in plan_toml(plan)
    assert "[hours]\n" in plan_toml(plan, {Place("hours", "", "rate"): ["Nobody counted."]})
