import re

import pytest

from salebook.base.errors import WrongUseError
from salebook.prints.labels.choice import chosen
from tests.support.print_sales import pieces, sale


@pytest.mark.parametrize(
    ("only", "expected"),
    [
        ("LAN-003", ["LAN-003"]),
        (" lan-003 , LAN-001,", ["LAN-001", "LAN-003"]),
        ("LAN-007..009", ["LAN-007", "LAN-008", "LAN-009"]),
        ("LAN-023..LAN-024, SPN-002", ["LAN-023", "LAN-024", "SPN-002"]),
        ("LAN-002,LAN-001..003", ["LAN-001", "LAN-002", "LAN-003"]),
    ],
)
def test_numbers_and_stretches_are_picked_once_in_order(only: str, expected: list[str]) -> None:
    assert [piece.number for piece in chosen(pieces(sale()), only)] == expected


@pytest.mark.parametrize(
    ("only", "says"),
    [
        ("LNA-003", "There is no piece LNA-003; the nearest is LAN-003"),
        ("LAN-099", "There is no piece LAN-099; the nearest is LAN-030."),
        ("LAN-000", "There is no piece LAN-000; the nearest is LAN-001."),
        ("SPM-099", "There is no piece SPM-099; the nearest is SPN-002."),
        ("LAN", "There is no piece LAN; the nearest is LAN-001."),
        ("LAN-001..999", "There is no piece LAN-999; the nearest is LAN-030."),
        ("LAN-009..007", "no stretch of numbers"),
        ("LAN-001..SPN-002", "no stretch of numbers"),
        (" , ", "No numbers to print"),
        ("", "No numbers to print"),
        ("LAN-001..", "“LAN-001..” is no stretch of numbers"),
        ("..LAN-003", "“..LAN-003” is no stretch of numbers"),
        ("..", "“..” is no stretch of numbers"),
    ],
)
def test_numbers_that_are_not_there_are_named(only: str, says: str) -> None:
    register = pieces(sale())
    with pytest.raises(WrongUseError, match=re.escape(says)):
        chosen(register, only)


def test_where_no_number_is_named_all_are_printed() -> None:
    assert chosen(pieces(sale()), None) == pieces(sale())


def test_a_long_text_is_named_in_short() -> None:
    register = pieces(sale())
    with pytest.raises(WrongUseError) as raised:
        chosen(register, "X" * 40_000)
    assert len(str(raised.value)) < 120
