"""What other prices would bring is what the whole reckoning says, at once, and can be put into the plan."""

from decimal import Decimal
from pathlib import Path

import pytest

from salebook.base.errors import FaultyPlanError, FileError
from salebook.jobs.other_prices import brings, knobs_of, plan_tried, take_prices
from salebook.jobs.plan_keys import state_of
from salebook.plan.load import load_plan
from salebook.reckoning import reckon
from tests.support.books import SAMPLES

FULL = SAMPLES["harbour-weekend"]
DEARER = {"wares.0.price": "22.50", "wares.0.wanted": "40", "donated.0.price": "50"}


@pytest.fixture
def file(tmp_path: Path) -> Path:
    file = tmp_path / "plan.toml"
    file.write_bytes(FULL.read_bytes())
    return file


def test_every_price_and_number_can_be_tried_out() -> None:
    found = {knob.field: f"{knob.name} {knob.value}" for knob in knobs_of(load_plan(FULL))}
    assert found["wares.0.price"] == "Harbour mug 20"
    assert found["wares.2.seconds_price"] == "Pouring jug 22"
    assert found["wares.1.wanted"] == "Soup bowl 22"
    assert found["donated.1.count"] == "Pack of linocut cards 15"
    assert len(found) == 3 * 3 + 2 * 2


def test_a_ware_whose_seconds_are_not_sold_has_no_slider_for_them() -> None:
    assert "wares.0.seconds_price" not in {knob.field for knob in knobs_of(load_plan(SAMPLES["first-sale"]))}


@pytest.mark.parametrize("typed", [{}, DEARER, {"wares.2.wanted": "3"}], ids=str)
def test_it_brings_what_the_whole_reckoning_says(typed: dict[str, str]) -> None:
    plan = plan_tried(FULL, typed)
    found, advice = brings(plan), reckon(plan).advice
    as_it_is = next(rung for rung in advice.ladder if rung.change == 0)
    assert found.net == plan.sale.format_money(as_it_is.expected_net)
    assert found.chance == f"{as_it_is.chance:.0%}"
    assert [share for _group, share in found.shares] == [
        plan.sale.format_money(share.expected) for share in advice.share_out
    ]


def test_what_is_tried_out_is_in_the_plan_that_is_reckoned() -> None:
    plan = plan_tried(FULL, DEARER)
    assert (plan.wares[0].price, plan.wares[0].wanted) == (Decimal("22.50"), 40)
    assert plan.donated[0].price == 50


def test_a_price_of_which_nothing_is_known_has_its_mark() -> None:
    found = brings(plan_tried(FULL, {"wares.0.price": "90"}))
    assert found.chance.endswith("?")
    assert "does not say how many would sell" in found.note


def test_prices_are_taken_and_nothing_else_is_touched(file: Path) -> None:
    assert take_prices(file, DEARER | {"wares.1.price": "26.00"}) == 3
    before, after = FULL.read_text(encoding="utf-8"), file.read_text(encoding="utf-8")
    changed = [
        (old.split("#")[0].strip(), new.split("#")[0].strip())
        for old, new in zip(before.splitlines(), after.splitlines(), strict=True)
        if old != new
    ]
    assert changed == [
        ("wanted = 36", "wanted = 40"),
        ("price = 20", "price = 22.5"),
        ("price = 45", "price = 50"),
    ]
    assert before.count("#") == after.count("#")


def test_the_same_prices_change_nothing(file: Path) -> None:
    assert take_prices(file, {"wares.0.price": "20.00", "wares.0.wanted": "36"}) == 0
    assert file.read_bytes() == FULL.read_bytes()


@pytest.mark.parametrize("text", ["", "x", "-1", "NaN", "Infinity", "0.001", "1.5.2"])
@pytest.mark.parametrize("field", ["wares.0.price", "wares.0.wanted"])
def test_what_is_no_price_is_a_fault_and_changes_nothing(file: Path, field: str, text: str) -> None:
    with pytest.raises(FaultyPlanError, match="MUG → "):
        take_prices(file, {field: text})
    assert file.read_bytes() == FULL.read_bytes()


@pytest.mark.parametrize(
    "field",
    ["sale.0.target", "wares.0.name", "wares.9.price", "wares.x.price", "wares", "", "wares.-1.price"],
)
def test_no_field_reaches_anything_else(field: str) -> None:
    assert plan_tried(FULL, {field: "7"}) == load_plan(FULL)


@pytest.mark.parametrize("typed", ["1e999999999", "-1e999999999", "1e30", "1e-30"])
def test_a_number_of_endless_length_is_told_at_once(typed: str) -> None:
    with pytest.raises(FaultyPlanError, match="wanted"):
        plan_tried(FULL, {"wares.0.wanted": typed})


def test_prices_of_a_plan_that_was_changed_meanwhile_are_not_taken(file: Path) -> None:
    typed = DEARER | {"state": state_of(file.read_text(encoding="utf-8"))}
    changed = FULL.read_bytes().replace(b"price = 26", b"price = 27")
    file.write_bytes(changed)
    with pytest.raises(FileError, match="changed meanwhile"):
        take_prices(file, typed)
    assert file.read_bytes() == changed
