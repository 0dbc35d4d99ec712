"""Amounts and fees are read as people say them."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.base.errors import UnfitError
from salebook.start.spoken_money import amount_and_currency, amount_in, fee_in, format_fee


@pytest.mark.parametrize(
    ("text", "usual", "expected"),
    [
        ("600", "GBP", ("600", "GBP")),
        ("£1,800", "GBP", ("1800", "GBP")),
        ("£ 1 800.50", "GBP", ("1800.50", "GBP")),
        ("1.800,50 €", "EUR", ("1800.50", "EUR")),
        ("1’129.5 CHF", "CHF", ("1129.5", "CHF")),
        ("20p", "GBP", ("0.20", "GBP")),
        ("50 cents", "USD", ("0.50", "USD")),
        ("$20", "USD", ("20", "USD")),
        ("$20", "CAD", ("20", "CAD")),
        ("$20", "GBP", ("20", "USD")),
        ("CAD 300", "CAD", ("300", "CAD")),
        ("CA$300", "CAD", ("300", "CAD")),
        ("ca. 300", "CAD", ("300", "CAD")),
        ("16 euros", "GBP", ("16", "EUR")),
        ("GBP 300", "USD", ("300", "GBP")),
        ("60,000 yen", "GBP", ("60000", "JPY")),
        ("1.250", "KWD", ("1.25", "KWD")),
        ("nothing", "GBP", ("0", "GBP")),
        ("900 kr", "SEK", ("900", "SEK")),
        ("16 GBP", "GBP", ("16", "GBP")),
        ("¥90000", "GBP", ("90000", "JPY")),
        ("90000 JPY", "EUR", ("90000", "JPY")),
        ("four thousand pounds", "GBP", ("4000", "GBP")),
        ("two thousand four hundred and fifty", "EUR", ("2450", "EUR")),
        ("about 28p", "GBP", ("0.28", "GBP")),
        ("28 pence", "GBP", ("0.28", "GBP")),
        ("28p a kWh", "GBP", ("0.28", "GBP")),
        ("£28.40 each", "GBP", ("28.40", "GBP")),
        ("£4,000 or so", "GBP", ("4000", "GBP")),
    ],
)
def test_an_amount_is_read_with_its_currency(text: str, usual: str, expected: tuple[str, str]) -> None:
    amount, currency = amount_and_currency(text, usual)
    assert (Decimal(expected[0]), expected[1]) == (amount, currency)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "much",
        "-5",
        "£",
        "5 quids",
        "£5 €",
        "0.005",
        "1,80,0",
        "5 pounds or 6",
        "2, 1",
        "1, 800",
    ],
)
def test_what_is_no_amount_is_told(text: str) -> None:
    with pytest.raises(UnfitError, match="amount"):
        amount_and_currency(text, "GBP")


def test_an_amount_of_too_many_digits_is_told() -> None:
    with pytest.raises(UnfitError, match="at most 15 digits"):
        amount_and_currency("9" * 20, "GBP")


def test_crowns_are_asked_for_by_their_code() -> None:
    with pytest.raises(UnfitError, match="by its code, since several have crowns: SEK, NOK, DKK"):
        amount_and_currency("900 kr", "GBP")


def test_another_currency_than_before_is_told() -> None:
    with pytest.raises(UnfitError, match="an amount in GBP, as the target; for other money go back"):
        amount_in("€16", "GBP")


def test_a_price_of_nothing_is_told() -> None:
    with pytest.raises(UnfitError, match="above 0"):
        amount_in("0", "GBP", above_nothing=True)


@pytest.mark.parametrize(
    ("text", "percent", "fixed"),
    [
        ("1.69 %", "1.69", "0"),
        ("1,69%", "1.69", "0"),
        ("1.4 % + 20p", "1.4", "0.20"),
        ("2.5 per cent and £0.10", "2.5", "0.10"),
        ("1.75% of the amount", "1.75", "0"),
        ("30p", "0", "0.30"),
        ("about 1.7 %", "1.7", "0"),
        ("nothing", "0", "0"),
    ],
)
def test_a_fee_is_read_as_its_two_parts(text: str, percent: str, fixed: str) -> None:
    assert (Decimal(percent), Decimal(fixed)) == fee_in(text, "GBP")


@pytest.mark.parametrize("text", ["", "a lot", "101 %", "1 % + x", "€1"])
def test_what_is_no_fee_is_told(text: str) -> None:
    with pytest.raises(UnfitError, match="a part of the amount"):
        fee_in(text, "GBP")


@given(percent=st.integers(0, 10_000), fixed=st.integers(0, 10_000))
def test_a_fee_that_was_said_reads_the_same_again(percent: int, fixed: int) -> None:
    fee = Decimal(percent) / 100, Decimal(fixed) / 100
    assert fee == fee_in(format_fee(*fee), "GBP")
