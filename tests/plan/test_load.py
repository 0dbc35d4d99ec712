import os
from decimal import Decimal
from pathlib import Path

import pytest

from salebook.base.errors import FaultyPlanError, FileError
from salebook.plan.load import LARGEST_BYTES, load_plan, plan_from_mapping, read_plan
from salebook.plan.model import Plan
from tests.support.sound_plan import SOUND, WORKED_PLAN


def faults_of(text: str) -> list[str]:
    with pytest.raises(FaultyPlanError) as caught:
        read_plan(text, file="plan.toml")
    return [str(fault) for fault in caught.value.faults]


def test_a_plan_file_is_read_whole() -> None:
    plan = load_plan(WORKED_PLAN)
    assert (plan.sale.title, len(plan.wares), len(plan.donated)) == ("Orchard open studio", 2, 1)
    assert Decimal("16.50") == plan.materials[0].pack_price
    assert (plan.energy.rates[0].from_, plan.energy.rates[0].to) == (30, 450) if plan.energy else False


def test_the_same_tables_give_the_same_plan_wherever_they_come_from() -> None:
    assert load_plan(WORKED_PLAN) == plan_from_mapping(SOUND, file="book.xlsx")


def test_a_plan_does_not_change() -> None:
    plan = load_plan(WORKED_PLAN)
    with pytest.raises(ValueError, match="frozen"):
        plan.sale.title = "Other"  # type: ignore[misc]  # the point of the test


def test_a_short_plan_is_enough() -> None:
    plan = read_plan(
        """
        format = 1
        sale = { title = "Pots", maker = "Me", days = [2027-06-12], target = 100 }
        donated = [{ code = "P", name = "Pot", maker = "You", price = 5 }]
        beneficiaries = [{ name = "Group" }]
        """,
        file="plan.toml",
    )
    assert isinstance(plan, Plan)
    assert (plan.payments[0].name, plan.outlooks[0].name) == ("cash", "as expected")
    assert (Decimal(1),) == plan.payment_shares


def test_a_mark_at_the_start_of_the_file_and_other_line_ends_do_no_harm(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_bytes(b"\xef\xbb\xbf" + WORKED_PLAN.read_bytes().replace(b"\n", b"\r\n"))
    assert load_plan(WORKED_PLAN) == load_plan(file)


@pytest.mark.parametrize(
    ("text", "line", "hint"),
    [
        (
            "format = 1\ntitle = Orchard sale",
            "line 2: found “title = Orchard sale”",
            "write a number in figures, and a text in quotation marks",
        ),
        ("price = £12", "line 1: found “price = £12”", "without the sign of its currency"),
        ("price = 12,50", "line 1: found “price = 12,50”", "write a decimal point"),
        ("ball = 12 oz", "line 1: found “ball = 12 oz”", "a number with its unit stands in quotation marks"),
        ("title = “Pots”", "line 1: found “title = “Pots””", "not the straight ones"),
        ("a = 1\na = 2", "line 2: found “a = 2”", "for the second time"),
        ("[sale]\n[sale]", "line 2: found “[sale]”", "for the second time"),
        ("title = \x00", "line 1: found “title = \\u0000”", ""),
    ],
)
def test_a_line_that_cannot_be_read_is_named_with_what_may_be_meant(text: str, line: str, hint: str) -> None:
    (fault,) = faults_of(text)
    assert fault.startswith(f"plan.toml: {line}, expected a line such as price = 16")
    assert hint in fault


@pytest.mark.parametrize(
    ("line", "hint"),
    [
        ("days = [2026-02-30]", "there is no such day"),
        ("days = [4 Dec 2027]", "write a date as year-month-day, such as 2027-06-12"),
        ("days = [2027-06-12, 13th June 2027]", "write a date as year-month-day, such as 2027-06-12"),
        ("days = [June 12, 2027]", "write a date as year-month-day, such as 2027-06-12"),
        ("days = [12/6/2027]", "write a date as year-month-day, such as 2027-06-12"),
        ("days = [2027-6-12]", "write a date as year-month-day, such as 2027-06-12"),
        ("percent = 1.69%", "leave out the % sign; a share is a fraction, 0.05 for 5 %"),
        ('title = "Pots', "a quotation mark is missing"),
        ('name: "hall"', "write = in place of the colon"),
        ("[[wares]", "double brackets are closed by two, as in [[wares]]"),
        ("start = 7:00", 'a time of day stands in quotation marks, such as "07:00"'),
        ("price = 1 000", "leave out what stands between the thousands"),
        ("wanted = 05", "leave out the 0 in front"),
        ("promise = Yes", "write true or false, in small letters"),
        ("ball = 14 1/2 oz", "a number with its unit stands in quotation marks"),
        ("losses = { throwing = 0.1,", "what stands in braces stands on one line"),
    ],
)
def test_a_usual_slip_of_the_pen_is_told_with_its_cure(line: str, hint: str) -> None:
    (fault,) = faults_of(f"format = 1\n{line}\n")
    assert fault.startswith("plan.toml: line 2: found “")
    assert fault.endswith(f"; {hint}")


def test_single_brackets_around_what_comes_more_than_once_are_named() -> None:
    (fault,) = faults_of('[wares]\ncode = "MUG"\n[wares]\ncode = "JUG"\n')
    assert fault.startswith("plan.toml: line 3: found “[wares]”")
    assert fault.endswith("; write [[wares]], with double brackets, above each of them")


@pytest.mark.parametrize(
    "text",
    [
        "x = " + "[" * 100_000,
        "x = " + "{a=" * 100_000,
        "[" + ".".join("a" * 100_000) + "]",
        "x = " + "9" * 5_000,
        "format = 0x" + "f" * 50_000,
        "format = 1e999999999999999999999",
        "#" * (LARGEST_BYTES + 1),
        "\ufeff\ufeff",
    ],
    ids=["lists", "tables", "keys", "digits", "hexadecimal", "exponent", "length", "marks"],
)
def test_a_file_beyond_all_measure_is_a_fault_and_nothing_worse(text: str) -> None:
    assert faults_of(text)


def test_a_missing_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"no\.toml: there is no such file"):
        load_plan(tmp_path / "no.toml")


def test_a_folder_is_told(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="a folder, not a plan file"):
        load_plan(tmp_path)


def test_a_file_that_is_not_utf_8_is_told(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_bytes("title = 'Café'".encode("latin-1"))
    with pytest.raises(FileError, match="not a text file in UTF-8"):
        load_plan(file)


def test_a_file_too_large_for_a_plan_is_not_read(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_bytes(b"#" * (LARGEST_BYTES + 1))
    with pytest.raises(FileError, match="too large for a plan"):
        load_plan(file)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_file_without_rights_is_told(tmp_path: Path) -> None:
    file = tmp_path / "plan.toml"
    file.write_text("format = 1", encoding="utf-8")
    file.chmod(0)
    with pytest.raises(FileError, match="cannot be read"):
        load_plan(file)


@pytest.mark.parametrize("name", ["x" * 5_000, "nul\0name"])
def test_a_path_that_no_disk_has_is_told(name: str) -> None:
    with pytest.raises(FileError, match="cannot be read"):
        load_plan(Path(name))
