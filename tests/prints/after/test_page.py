"""What the prints after the sale have in common."""

from decimal import Decimal

import pytest
from babel.core import Locale

from salebook.prints.after.page import status_lines
from salebook.prints.wording import figure, signed
from salebook.say.time import format_day_short
from tests.support.cldr import number
from tests.support.finished_sale import accounts
from tests.support.small_event import FIRST, FIRST_DAY, line


@pytest.mark.parametrize(
    ("amount", "locale", "currency", "written"),
    [
        ("1234.5", "en_GB", "GBP", "1,234.50"),
        ("-3", "en_GB", "GBP", "-3.00"),
        ("-0", "en_GB", "GBP", "0.00"),
        ("1234.5", "de_CH", "CHF", "1,234.50"),
        ("1234567.5", "de_DE", "EUR", "1,234,567.50"),
        ("1234", "ja_JP", "JPY", "1,234"),
        ("1.234", "en_GB", "KWD", "1.234"),
        ("1234567", "hi_IN", "INR", "12,34,567.00"),
    ],
)
def test_a_figure_has_the_currencys_digits_as_the_locale_writes_them(
    amount: str, locale: str, currency: str, written: str
) -> None:
    assert number(written, locale) == figure(Decimal(amount), currency=currency, locale=locale)


@pytest.mark.parametrize(("amount", "written"), [("2", "+2.00"), ("0", "0.00"), ("-2", "-2.00")])
def test_a_difference_shows_its_sign(amount: str, written: str) -> None:
    assert written == signed(Decimal(amount), currency="GBP", locale="en_GB")


@pytest.mark.parametrize("locale", ["en_GB", "de_CH", "ja_JP"])
def test_a_day_is_said_as_the_locale_does(locale: str) -> None:
    names = Locale.parse(locale)
    weekday = names.days["format"]["abbreviated"][FIRST_DAY.weekday()]
    month = names.months["format"]["abbreviated"][FIRST_DAY.month]
    written = format_day_short(FIRST_DAY, locale)
    assert [part for part in (weekday, str(FIRST_DAY.day), month) if part not in written] == []


class TestStatus:
    def test_final_accounts_say_nothing(self) -> None:
        assert list(status_lines(accounts(line(1, piece=FIRST)))) == []

    def test_questions_are_counted_by_line(self) -> None:
        one = accounts(line(1, piece=FIRST), line(2, piece="MAY-900"))
        two = accounts(line(1, piece=FIRST), line(2, piece="MAY-900"), line(3, piece="MAY-901"))
        assert ["Not final: 1 line needs a look."] == list(status_lines(one))
        assert ["Not final: 2 lines need a look."] == list(status_lines(two))

    def test_what_is_asked_twice_of_one_row_is_one_line(self) -> None:
        report = accounts(line(1, piece="MAY-900"), line(2, piece=FIRST), rows={line(1).identity: 6})
        twice = accounts(
            line(1, piece="MAY-900"), line(2, piece=FIRST), rows={line(1).identity: 6}, asked=report.questions
        )
        assert list(status_lines(report)) == list(status_lines(twice))

    def test_an_interim_report_says_up_to_when(self) -> None:
        (said,) = status_lines(accounts(line(1, piece=FIRST), up_to=FIRST_DAY))
        assert "19 June 2027" in said

    def test_a_pool_below_zero_says_what_is_missing(self) -> None:
        (said,) = status_lines(accounts(line(1, "raffle", amount="1.25")))
        assert "£2.25 is missing" in said
