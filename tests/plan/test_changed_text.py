"""A plan's text is changed value by value; every comment and all else stays as it was typed."""

import tomllib
from datetime import date
from decimal import Decimal

import pytest

from salebook.plan.changed_text import ONLY, Spot, toml_value, with_changes, without_records
from salebook.plan.load import read_plan
from tests.support.books import SAMPLES

FULL = SAMPLES["harbour-weekend"].read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("spot", "value", "before", "after"),
    [
        (Spot("wares", 0, "price"), Decimal("22.50"), "price = 20  ", "price = 22.5  "),
        (Spot("wares", 0, "wanted"), 40, "wanted = 36 ", "wanted = 40 "),
        (Spot("sale", ONLY, "target"), Decimal(2000), "target = 1800", "target = 2000"),
        (Spot("sale", ONLY, "maker"), 'A "B"', '"Tern Wharf pots"', '"A \\"B\\""'),
        (
            Spot("beneficiaries", 0, "agreed"),
            date(2027, 4, 1),
            "agreed = 2027-03-02 ",
            "agreed = 2027-04-01 ",
        ),
    ],
)
def test_only_the_value_changes(spot: Spot, value: object, before: str, after: str) -> None:
    assert FULL.count(before) == 1
    assert with_changes(FULL, {spot: value}) == FULL.replace(before, after)


def test_no_change_leaves_every_letter() -> None:
    assert with_changes(FULL, {}) == FULL


def test_a_key_is_added_and_taken_away() -> None:
    spot = Spot("wares", 1, "spoken_for")
    added = with_changes(FULL, {spot: 3})
    assert tomllib.loads(added)["wares"][1]["spoken_for"] == 3
    assert tomllib.loads(with_changes(added, {spot: None})) == tomllib.loads(FULL)


def test_a_record_and_a_table_are_added_at_the_end() -> None:
    changes = {Spot("overheads", 0, "name"): "tent", Spot("overheads", 0, "amount"): Decimal(24)}
    small = SAMPLES["first-sale"].read_text(encoding="utf-8").partition("[[overheads]]")[0]
    found = tomllib.loads(with_changes(small, changes | {Spot("hours", ONLY, "rate"): Decimal(12)}))
    assert found["overheads"] == [{"name": "tent", "amount": 24}]
    assert found["hours"] == {"rate": 12}
    again = with_changes(with_changes(small, changes), {Spot("overheads", 1, "name"): "hall"})
    assert [record["name"] for record in tomllib.loads(again)["overheads"]] == ["tent", "hall"]


def test_records_are_left_out_and_the_table_with_the_last() -> None:
    fewer = tomllib.loads(without_records(FULL, {"wares": {0, 2}, "donated": {0, 1}}))
    assert [ware["code"] for ware in fewer["wares"]] == ["BOWL"]
    assert "donated" not in fewer


@pytest.mark.parametrize(
    ("text", "value"),
    [("[[16, 0.9]]", [[16, 0.9]]), ('{ a = "b" }', {"a": "b"}), ("2027-01-02", date(2027, 1, 2))],
)
def test_a_value_is_read_as_the_file_reads_it(text: str, value: object) -> None:
    assert toml_value(text) == value


@pytest.mark.parametrize("text", ["", "[1", "a b", "1\n[sale]", "1\nother = 2\n= x", "1 # note\nx = 2"])
def test_what_is_no_value_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"\w"):
        toml_value(text)


def test_a_changed_plan_is_read_as_the_plan_it_says() -> None:
    plan = read_plan(with_changes(FULL, {Spot("wares", 2, "price"): Decimal("36.50")}), file="x")
    assert plan.wares[2].price == Decimal("36.5")
