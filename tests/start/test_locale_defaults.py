"""The place is taken from the environment, as programs do."""

from collections.abc import Mapping
from datetime import date

import pytest

from salebook.start.locale_defaults import locale_defaults_of


@pytest.mark.parametrize(
    ("environment", "expected"),
    [
        ({"LANG": "en_US.UTF-8"}, ("en_US", "USD")),
        ({"LANG": "de_DE@euro"}, ("de_DE", "EUR")),
        ({"LANG": "en_GB", "LC_MONETARY": "ja_JP.UTF-8"}, ("ja_JP", "JPY")),
        ({"LANG": "en_GB", "LC_ALL": "de_CH.UTF-8"}, ("de_CH", "CHF")),
        ({"LC_ALL": "", "LANG": "en_NZ"}, ("en_NZ", "NZD")),
        ({"LANG": "C.UTF-8"}, ("en_GB", "GBP")),
        ({"LANG": "POSIX"}, ("en_GB", "GBP")),
        ({"LANG": "en"}, ("en_GB", "GBP")),
        ({"LANG": "tlh_QQ; rm"}, ("en_GB", "GBP")),
        ({}, ("en_GB", "GBP")),
    ],
)
def test_the_place_is_the_one_that_counts_most(
    environment: Mapping[str, str], expected: tuple[str, str]
) -> None:
    defaults = locale_defaults_of(environment, today=date(2027, 3, 10))
    assert expected == (defaults.locale, defaults.currency)
