from decimal import Decimal
from itertools import pairwise

import pytest

from salebook.event.denominations import TABLE, denominations_for


def test_coins_and_notes_stand_largest_first_and_once() -> None:
    values = denominations_for("USD").values
    assert values == tuple(sorted(set(values), reverse=True))


def test_a_value_that_is_coin_and_note_is_counted_on_one_line() -> None:
    assert denominations_for("USD").values.count(Decimal(1)) == 1


def test_the_plans_own_coins_win_over_the_table() -> None:
    found = denominations_for("GBP", [Decimal(1), Decimal(50), Decimal(1)])
    assert (found.values, found.known, found.source) == (
        (Decimal(50), Decimal(1)),
        True,
        "sale.denominations",
    )


@pytest.mark.parametrize(
    ("currency", "smallest", "largest"),
    [("MXN", "0.01", "500"), ("KRW", "1", "50000"), ("KWD", "0.001", "50")],
)
def test_an_unknown_currency_gets_a_usual_series_and_is_said_to_be_unknown(
    currency: str, smallest: str, largest: str
) -> None:
    found = denominations_for(currency)
    assert (found.values[-1], found.values[0]) == (Decimal(smallest), Decimal(largest))
    assert (found.known, found.source) == (False, "")


def test_a_currency_of_the_table_is_known() -> None:
    assert denominations_for("SEK").known


def test_a_usual_series_can_make_up_any_amount() -> None:
    values = denominations_for("MXN").values
    assert [(larger / smaller) <= Decimal("2.5") for larger, smaller in pairwise(values)] == [True] * 14


def test_a_code_that_is_no_currency_is_refused() -> None:
    with pytest.raises(ValueError, match="'POT' is not a currency"):
        denominations_for("POT")


ISSUED_BY = {
    "GBP": "The Royal Mint",
    "EUR": "Bank of Finland",
    "USD": "USA.gov",
    "CHF": "Swiss National Bank",
    "JPY": "Bank of Japan",
    "CAD": "Royal Canadian Mint",
    "AUD": "Royal Australian Mint",
    "NZD": "Reserve Bank of New Zealand",
    "SEK": "Sveriges Riksbank",
    "NOK": "Norges Bank",
    "DKK": "Danmarks Nationalbank",
    "PLN": "Narodowy Bank Polski",
    "CZK": "Czech National Bank",
    "ZAR": "South African Reserve Bank",
}


@pytest.mark.parametrize("currency", sorted(TABLE))
def test_a_cash_box_is_told_who_issues_its_coins(currency: str) -> None:
    assert denominations_for(currency).source.startswith(ISSUED_BY[currency])
