"""What is typed into a cell is read as the place of the sale writes it, and never guessed at."""

from datetime import date
from decimal import Decimal

import pytest

from salebook.base.errors import UnfitError
from salebook.book.reading.plan_sheet import cell_number
from salebook.book.reading.raw import Percentage
from salebook.book.reading.typed import CellParser


def parser(locale: str, currency: str) -> CellParser:
    return CellParser(locale=locale, currency=currency, first_day=date(2027, 6, 19))


@pytest.mark.parametrize(
    ("locale", "currency", "typed", "amount"),
    [
        ("en_GB", "GBP", "£1,234.50", "1234.50"),
        ("en_GB", "GBP", "1.234,50", "1234.50"),
        ("en_GB", "GBP", "1 234", "1234"),
        ("en_GB", "GBP", "-£5", "-5"),
        ("de_DE", "EUR", "1.234", "1234"),
        ("de_CH", "CHF", "1'234.50", "1234.50"),
        ("de_CH", "CHF", "12.-", "12"),
        ("fr_FR", "EUR", "1 234,5 €", "1234.5"),
    ],
)
def test_an_amount_is_read_as_the_place_writes_it(
    locale: str, currency: str, typed: str, amount: str
) -> None:
    assert parser(locale, currency).amount(typed) == Decimal(amount)


@pytest.mark.parametrize(
    ("locale", "currency", "typed"),
    [
        ("en_GB", "GBP", "€5"),
        ("en_GB", "GBP", "0.005"),
        ("en_GB", "GBP", "1.234"),
        ("de_DE", "EUR", "0.005"),
        ("de_CH", "CHF", "1,234"),
        ("en_GB", "GBP", "1000000001"),
    ],
)
def test_an_amount_that_is_finer_than_coins_or_reads_two_ways_is_not_read(
    locale: str, currency: str, typed: str
) -> None:
    with pytest.raises(UnfitError):
        parser(locale, currency).amount(typed)


@pytest.mark.parametrize(
    ("locale", "typed", "day"),
    [
        ("en_GB", "Saturday 19 June", date(2027, 6, 19)),
        ("en_GB", "27 June 26", date(2026, 6, 27)),
        ("en_GB", "6/20/2027", date(2027, 6, 20)),
        ("sv_SE", "12/6", date(2027, 6, 12)),
        ("hu_HU", "2027. június 12.", date(2027, 6, 12)),
        ("en_GB", 46_192, date(2026, 6, 19)),
    ],
)
def test_a_day_is_read_as_the_place_writes_it(locale: str, typed: object, day: date) -> None:
    assert parser(locale, "EUR").day(typed) == day


@pytest.mark.parametrize(
    "typed", ["12-13 June", "13 to 12 June", "12 June 1999", 36_525, 109_575, True, None]
)
def test_what_is_no_one_day_is_not_read(typed: object) -> None:
    with pytest.raises(UnfitError):
        parser("en_GB", "GBP").day(typed)


def test_what_a_cell_shows_in_per_cent_is_handed_to_its_key_as_it_shows() -> None:
    assert cell_number(Percentage(0.0175)) == "1.75 %"
    assert cell_number(" 90 % ") == "90 %"
    assert cell_number(0.1) == Decimal("0.1")
