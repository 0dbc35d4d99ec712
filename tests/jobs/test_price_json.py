from decimal import Decimal

import pytest

from salebook.jobs.price_json import json_money


@pytest.mark.parametrize(
    ("amount", "digits", "written"),
    [
        ("804.9387763", 2, "804.94"),
        ("0.005", 2, "0.01"),
        ("-0.005", 2, "-0.01"),
        ("-0.001", 2, "0.00"),
        ("1E+3", 2, "1000.00"),
        ("1234.5", 0, "1235"),
        ("-0.4", 0, "0"),
        ("1.2345", 3, "1.235"),
    ],
)
def test_money_is_written_with_the_currencys_digits(amount: str, digits: int, written: str) -> None:
    assert written == json_money(Decimal(amount), digits)
