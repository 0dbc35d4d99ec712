from decimal import ROUND_DOWN, Decimal, localcontext
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.plan.money import (
    format_money,
    in_units,
    is_currency,
    is_locale,
    locale_name,
    minor_digits,
    rounded,
    rounded_up_to_step,
    share_out,
)
from tests.support.cldr import money

PARTS = st.lists(st.integers(0, 1_000_000), min_size=1, max_size=20).filter(any)
UNITS = st.integers(0, 10**12)


@pytest.mark.parametrize(
    ("amount", "digits", "expected"),
    [
        ("0.125", 2, "0.13"),
        ("-0.125", 2, "-0.13"),
        ("0.135", 2, "0.14"),
        ("0.1249999999", 2, "0.12"),
        ("2.5", 0, "3"),
        ("-2.5", 0, "-3"),
        ("1", 3, "1.000"),
        ("-0.001", 2, "0.00"),
    ],
)
def test_halves_are_rounded_away_from_zero(amount: str, digits: int, expected: str) -> None:
    assert expected == str(rounded(Decimal(amount), digits))


def test_a_fraction_is_rounded_without_going_through_a_decimal() -> None:
    assert Decimal("0.33") == rounded(Fraction(1, 3), 2)
    assert Decimal("0.01") == rounded(Fraction(1, 200), 2)
    assert Decimal("0.00") == rounded(Fraction(1, 200) - Fraction(1, 10**40), 2)


def test_the_ambient_decimal_context_has_no_say_in_money() -> None:
    with localcontext() as context:
        context.prec = 3
        context.rounding = ROUND_DOWN
        assert str(rounded(Decimal("123456.785"), 2)) == "123456.79"
        assert str(rounded_up_to_step(Decimal("123456.01"), Decimal("0.50"))) == "123456.50"
        assert tuple(map(str, share_out(Decimal("123456.79"), [1, 1], 2))) == ("61728.40", "61728.39")


@given(st.decimals(-(10**9), 10**9, places=6), st.integers(0, 3))
def test_rounding_moves_an_amount_by_at_most_half_a_unit(amount: Decimal, digits: int) -> None:
    assert abs(Fraction(rounded(amount, digits)) - Fraction(amount)) <= Fraction(1, 2 * 10**digits)
    assert rounded(-amount, digits) == -rounded(amount, digits)


@pytest.mark.parametrize(
    ("price", "step", "expected"),
    [
        ("18.00", "0.50", "18.00"),
        ("18.01", "0.50", "18.50"),
        ("18.90", "0.50", "19.00"),
        ("1234", "50", "1250"),
        ("0.30", "0.10", "0.30"),
        ("7", "0.25", "7.00"),
        ("2.5", "2", "4"),
        ("1234", "5E+1", "1250"),
    ],
)
def test_a_price_is_rounded_up_to_its_step(price: str, step: str, expected: str) -> None:
    assert expected == str(rounded_up_to_step(Decimal(price), Decimal(step)))


@pytest.mark.parametrize("step", ["0", "-0.50"])
def test_a_step_that_is_not_above_zero_is_refused(step: str) -> None:
    with pytest.raises(ValueError, match="above 0"):
        rounded_up_to_step(Decimal(1), Decimal(step))


@given(st.decimals(0, 10**6, places=4), st.decimals("0.01", 100, places=2))
def test_a_price_on_its_step_is_the_first_multiple_at_or_above_it(price: Decimal, step: Decimal) -> None:
    up = rounded_up_to_step(price, step)
    assert Fraction(up) % Fraction(step) == 0
    assert price <= up < price + step


@given(UNITS, PARTS, st.integers(0, 3))
def test_shares_add_up_to_what_was_shared_out(units: int, parts: list[int], digits: int) -> None:
    amount = in_units(units, digits)
    assert amount == sum(share_out(amount, parts, digits))


@given(UNITS, PARTS)
def test_a_share_is_less_than_one_unit_from_its_exact_quota(units: int, parts: list[int]) -> None:
    for share, part in zip(share_out(Decimal(units), parts, 0), parts, strict=True):
        assert abs(Fraction(share) - Fraction(units * part, sum(parts))) < 1


@given(UNITS, PARTS)
def test_a_group_with_more_parts_never_gets_less(units: int, parts: list[int]) -> None:
    by_parts = sorted(zip(parts, share_out(Decimal(units), parts, 0), strict=True))
    for (fewer, less), (more, greater) in pairwise(by_parts):
        assert fewer == more or less <= greater


def test_equal_fractions_go_to_the_one_listed_first() -> None:
    assert (Decimal("0.34"), Decimal("0.33"), Decimal("0.33")) == share_out(Decimal("1.00"), [1, 1, 1], 2)


def test_a_group_without_parts_gets_nothing() -> None:
    assert (Decimal("0.00"), Decimal("0.01")) == share_out(Decimal("0.01"), [0, 5], 2)


@pytest.mark.parametrize(
    ("amount", "parts", "says"),
    [
        ("-1", [1], "0 or more"),
        ("-0.01", [1], "0 or more"),
        ("0.001", [1], "whole minor units"),
        ("1", [], "parts"),
        ("1", [0, 0], "parts"),
        ("1", [2, -1], "parts"),
    ],
)
def test_what_cannot_be_shared_out_is_refused(amount: str, parts: list[int], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        share_out(Decimal(amount), parts, 2)


@pytest.mark.parametrize(("code", "known"), [("GBP", True), ("gbp", False), ("XYZ", False), ("", False)])
def test_currencies_are_known_by_their_codes(code: str, known: bool) -> None:
    assert known == is_currency(code)


def test_the_minor_digits_of_an_unknown_currency_are_a_value_error() -> None:
    with pytest.raises(ValueError, match="'XYZ' is not a currency"):
        minor_digits("XYZ")


@pytest.mark.parametrize(
    ("name", "known"),
    [
        ("en_GB", True),
        ("en-GB", True),
        ("de", True),
        ("zh_CN", True),
        ("en_ZZ", False),
        ("xx_YY", False),
        ("root", False),
        ("C", False),
        ("POSIX", False),
        ("C.UTF-8", False),
        ("", False),
        ("../../etc", False),
    ],
)
def test_locales_are_known_by_their_names(name: str, known: bool) -> None:
    assert known == is_locale(name)


def test_a_locale_is_spelt_as_cldr_spells_it() -> None:
    assert locale_name("en-gb") == "en_GB"


@pytest.mark.parametrize(
    ("amount", "currency", "locale", "expected"),
    [
        ("1234.5", "GBP", "en_GB", "1,234.50"),
        ("1234.5", "JPY", "en_GB", "1,235"),
        ("1234.5", "EUR", "de_DE", "1,234.50"),
        ("1234.5", "CHF", "de_CH", "1,234.50"),
        ("-3", "USD", "en_US", "-3.00"),
    ],
)
def test_money_is_said_as_its_locale_writes_it(
    amount: str, currency: str, locale: str, expected: str
) -> None:
    assert money(expected, currency, locale) == format_money(Decimal(amount), currency, locale)


@pytest.mark.parametrize(
    ("currency", "locale", "written"),
    [
        ("XXX", "en_GB", "XXX12.50"),
        ("XTS", "he_IL", "12.50\N{NO-BREAK SPACE}XTS"),
        ("XTS", "fa_IR", "XTS\N{NO-BREAK SPACE}12.50"),
    ],
)
def test_an_amount_carries_no_sign_that_nobody_knows(currency: str, locale: str, written: str) -> None:
    assert written == format_money(Decimal("12.5"), currency, locale)
