"""Every key of a plan can be changed in its field; nothing else is lost, and faults stand at their field."""

import tomllib
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from salebook.base.errors import FileError
from salebook.jobs.plan_keys import Field, PlanKeys, changed_keys, plan_keys, value_of
from salebook.plan.changed_text import with_changes
from salebook.plan.keys import keys_of
from salebook.plan.load import load_plan, read_plan
from salebook.plan.tables import TABLES
from tests.support.books import SAMPLES

FULL = SAMPLES["harbour-weekend"]
TODAY = date(2027, 3, 1)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    file = tmp_path / "plan.toml"
    file.write_bytes(FULL.read_bytes())
    return file


def fields_in(shown: PlanKeys) -> Iterator[Field]:
    return (field for block in shown.blocks for group in block.groups for field in group.fields)


def change(file: Path, **typed: str) -> PlanKeys | None:
    """Type in fields, `wares_0_price` for "wares.0.price", all others as they are shown."""
    shown = plan_keys(file)
    as_shown = {field.name: field.text for field in fields_in(shown)}
    names = {name.replace(".-1.", ".").replace(".", "_"): name for name in as_shown}
    changed = {names.get(name, name): text for name, text in typed.items()}
    return changed_keys(file, as_shown | {"state": shown.state} | changed, today=TODAY)


def troubles(shown: PlanKeys | None) -> dict[str, tuple[str, ...]]:
    assert shown is not None
    return {field.name: field.troubles for field in fields_in(shown) if field.troubles}


def test_every_key_that_a_plan_can_have_has_a_field(file: Path) -> None:
    shown = {(field.spot.table, field.spot.key) for field in fields_in(plan_keys(file))}
    assert shown == {(table, key.name) for table, kind in TABLES.items() for key in keys_of(kind)}


@pytest.mark.parametrize("sample", SAMPLES)
def test_a_plan_kept_as_it_is_shown_does_not_change_by_a_letter(sample: str, tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_bytes(SAMPLES[sample].read_bytes())
    assert change(file) is None
    assert file.read_bytes() == SAMPLES[sample].read_bytes()
    assert list(tmp_path.iterdir()) == [file]


@pytest.mark.parametrize("sample", SAMPLES)
def test_a_plan_typed_anew_as_its_fields_show_it_is_the_same_plan(sample: str) -> None:
    fields = list(fields_in(plan_keys(SAMPLES[sample])))
    typed = {field.spot: value_of(field.text, field.key) for field in fields if field.text}
    assert read_plan(with_changes("format = 1\n", typed), file="") == load_plan(SAMPLES[sample])


def test_a_changed_plan_keeps_its_notes_and_the_one_before_is_kept_with_its_day(file: Path) -> None:
    assert change(file, wares_0_price="22.50", sale_days="2027-06-19, 2027-06-20, 2027-06-21") is None
    plan, text = load_plan(file), file.read_text(encoding="utf-8")
    assert (plan.wares[0].price, plan.sale.days[2]) == (Decimal("22.5"), date(2027, 6, 21))
    assert text.count("#") == FULL.read_text(encoding="utf-8").count("#")
    assert file.with_name("plan-2027-03-01.toml").read_bytes() == FULL.read_bytes()


@pytest.mark.parametrize(
    ("field", "text", "value"),
    [
        ("wares_0_price", "22", 22),
        ("wares_0_seconds", "5 %", "5 %"),
        ("wares_0_ball", "1 lb 2 oz", "1 lb 2 oz"),
        ("wares_0_numbered", "no", False),
        ("wares_0_demand", "[[16, 0.9], [30, 0.4]]", [[16, 0.9], [30, 0.4]]),
        ("wares_0_losses", "{ throwing = 0.1, drying = 0, biscuit = 0, glaze = 0.1 }", None),
        ("beneficiaries_1_agreed", "2027-04-01", date(2027, 4, 1)),
        ("materials_0_wares", "MUG, JUG", ["MUG", "JUG"]),
        ("sale_denominations", "20, 5, 0.5", [20, 5, 0.5]),
        ("firings_0_start", "06:15", "06:15"),
        ("sale_venue", "", "gone"),
        ("sale_maker", 'A "quoted" \u00e9 maker # no note', 'A "quoted" \u00e9 maker # no note'),
    ],
)
def test_each_kind_of_value_is_put_down_as_the_file_has_it(
    file: Path, field: str, text: str, value: object
) -> None:
    assert change(file, **{field: text}) is None
    table, *at, key = field.split("_")
    found = tomllib.loads(file.read_text(encoding="utf-8"))[table]
    record = found[int(at[0])] if at and at[0].isdigit() else found
    if value is None:
        assert record[key]["throwing"] == 0.1
    else:
        assert record.get(key, "gone") == value


def test_a_record_is_added_and_one_is_left_out(file: Path) -> None:
    added = {"overheads_3_name": "tent", "overheads_3_amount": "24"}
    assert change(file, **added, **{"donated.1.left out": "yes"}) is None
    plan = load_plan(file)
    assert (plan.overheads[3].name, plan.overheads[3].amount) == ("tent", Decimal(24))
    assert [piece.code for piece in plan.donated] == ["LAMP"]


def test_a_table_is_added_and_one_that_is_emptied_goes(file: Path) -> None:
    shown = plan_keys(file)
    hours = {field.name.replace(".-1.", "_"): "" for field in fields_in(shown) if field.spot.table == "hours"}
    assert change(file, **hours) is None
    assert "[hours]" not in file.read_text(encoding="utf-8")
    assert change(file, hours_rate="15") is None
    assert load_plan(file).hours.rate == 15


@pytest.mark.parametrize(
    ("field", "text"),
    [
        ("wares_0_price", "-1"),
        ("wares_0_price", "cheap"),
        ("wares_0_losses", "{ throwing = 0.1"),
        ("wares_0_demand", "[[16, 0.9]"),
        ("sale_days", "tomorrow"),
        ("sale_title", ""),
        ("kiln_fuel", "wood"),
        ("wares_0_clay", "no such clay"),
        ("beneficiaries_0_parts", "NaN"),
    ],
)
def test_a_fault_stands_at_its_field_and_nothing_is_written(file: Path, field: str, text: str) -> None:
    found = troubles(change(file, **{field: text}))
    assert [name.replace(".-1.", ".").replace(".", "_") for name in found] == [field]
    assert file.read_bytes() == FULL.read_bytes()


def test_what_was_typed_stays_in_a_faulty_form_a_record_that_is_new_too(file: Path) -> None:
    shown = change(file, overheads_3_name="tent", wares_0_price="22")
    assert list(troubles(shown)) == ["overheads.3.amount"]
    assert shown is not None
    texts = {field.name: field.text for field in fields_in(shown)}
    assert (texts["overheads.3.name"], texts["wares.0.price"]) == ("tent", "22")


def test_a_plan_that_has_faults_already_can_be_opened_and_mended(file: Path) -> None:
    file.write_text(FULL.read_text(encoding="utf-8").replace("price = 26", "price = -26"), encoding="utf-8")
    assert list(troubles(plan_keys(file))) == ["wares.1.price"]
    assert change(file, wares_1_price="26") is None


def test_two_windows_do_not_undo_each_other(file: Path) -> None:
    first = plan_keys(file)
    assert change(file, wares_0_price="22") is None
    with pytest.raises(FileError, match="was changed meanwhile"):
        changed_keys(file, {"state": first.state, "wares.0.price": "30"}, today=TODAY)
    assert load_plan(file).wares[0].price == 22
