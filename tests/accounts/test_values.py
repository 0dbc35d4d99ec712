"""One way to write each value, whatever a spreadsheet program made of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.accounts.values import amount_text, day_text, is_day_first, tidy, whole_text


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        (" mug\t\r\n", "mug"),
        ("\u00a0mug", "\u00a0mug"),  # JavaScript's trim would take it, Python's strip("…") not
        ("cafe\u0301", "caf\u00e9"),
        ("'=1+1", "=1+1"),
        ("''-mug", "-mug"),
        ("'mug", "'mug"),
        ("XL", "XL"),
        ("=1+1", "=1+1"),
        ("", ""),
    ],
)
def test_a_text_is_trimmed_by_name_composed_and_without_its_guard(typed: str, read: str) -> None:
    assert tidy(typed) == read


@given(st.text(alphabet=st.one_of(st.sampled_from("'=+-@ \t\r\ne\u0301\u0338"), st.characters())))
def test_a_tidied_text_stays_as_it_is(text: str) -> None:
    assert tidy(tidy(text)) == tidy(text)


@pytest.mark.parametrize(
    ("typed", "digits", "read"),
    [
        ("12.50", 2, "12.50"),
        ("12.5", 2, "12.50"),
        ("12", 2, "12.00"),
        ("12,5", 2, "12.50"),
        ("-12,50", 2, "-12.50"),
        ("\u221212.50", 2, "-12.50"),
        ("1,234.50", 2, "1234.50"),
        ("1.234,50", 2, "1234.50"),
        ("1 234,50", 2, "1234.50"),
        ("1\u00a0234,50", 2, "1234.50"),
        ("1\u202f234,50", 2, "1234.50"),
        ("1'234.50", 2, "1234.50"),
        ("1,234", 2, "1234.00"),
        ("1,234,567", 2, "1234567.00"),
        ("1.234", 3, "1.234"),
        ("1,234.5", 3, "1234.500"),
        ("0.125", 3, "0.125"),
        ("0.500", 2, "0.50"),
        ("1,234", 0, "1234"),
        ("12.00", 0, "12"),
        (".5", 2, "0.50"),
        (".500", 2, "0.50"),
        ("123,456.78", 2, "123456.78"),
        ("1.234.567,89", 2, "1234567.89"),
        ("007", 2, "7.00"),
        ("-0.00", 2, "0.00"),
        ("12.345", 2, "12345.00"),  # so a program groups; salebook itself never writes three digits here
        ("-3.6300000000000000001", 2, "-3.63"),
        ("3.62999999999999989", 2, "3.63"),
        ("9.9999999", 0, "10"),
        ("3.630001", 2, None),
        ("0.125", 2, None),
        ("12.5", 0, None),
        ("1.2.3", 2, None),
        ("1,23,4.50", 2, None),
        ("1234,567.89", 2, None),
        ("1,234.567.89", 2, None),
        ("123456789012345.67", 2, "123456789012345.67"),
        ("1234567890123456", 2, None),
        ("9" * 5000, 2, None),
        ("0" * 9000 + "7", 2, "7.00"),
        ("12.", 2, None),
        ("12,", 2, None),
        ("", 2, None),
        ("-", 2, None),
        ("1e3", 2, None),
        ("£12", 2, None),
        ("twelve", 2, None),
        ("१२", 2, None),
    ],
)
def test_an_amount_is_read_in_every_way_that_programs_write_it(
    typed: str, digits: int, read: str | None
) -> None:
    assert amount_text(typed, digits) == read


@given(st.integers(-(10**9), 10**9), st.sampled_from((0, 2, 3)))
def test_an_amount_that_was_written_here_stays_as_it_is(units: int, digits: int) -> None:
    text = f"{units / 10**digits:.{digits}f}" if abs(units) < 10**9 else f"{units}"
    written = amount_text(text, digits)
    assert written is not None
    assert amount_text(written, digits) == written


@pytest.mark.parametrize(
    ("typed", "read"),
    [("3", "3"), ("3.0", "3"), ("3,00", "3"), ("1,000", "1000"), ("3.5", None), ("", None)],
)
def test_a_whole_number_loses_its_decimals(typed: str, read: str | None) -> None:
    assert whole_text(typed) == read


@pytest.mark.parametrize(
    ("typed", "day_first", "read"),
    [
        ("2027-06-19", True, "2027-06-19"),
        ("2027/6/9", True, "2027-06-09"),
        ("19/06/2027", True, "2027-06-19"),
        ("19.6.27", True, "2027-06-19"),
        ("06/19/2027", False, "2027-06-19"),
        ("06/07/2027", True, "2027-07-06"),
        ("06/07/2027", False, "2027-06-07"),
        ("19/06/2027", False, None),
        ("2027-02-30", True, None),
        ("19 June", True, None),
        ("46557", True, None),
    ],
)
def test_a_day_is_read_with_its_year_first_or_last(typed: str, day_first: bool, read: str | None) -> None:
    assert day_text(typed, day_first=day_first) == read


@pytest.mark.parametrize(
    ("days", "expected"),
    [
        (["2027-06-19"], False),
        (["05/06/2027", "19/06/2027"], True),
        (["05/06/2027", "06/19/2027"], False),
        (["05/06/2027", "06/06/2027"], None),
        (["12/06/2027"], None),
        (["13/06/2027"], True),
        (["06/12/2027"], None),
        (["06/13/2027"], False),
        ([], False),
    ],
)
def test_one_day_beyond_the_twelfth_tells_the_order_of_all(days: list[str], expected: bool | None) -> None:
    assert is_day_first(days) is expected
