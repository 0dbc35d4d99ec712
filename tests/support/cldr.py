"""Numbers and sums as the data of CLDR that is installed writes them.

How a locale writes them is other people's to change, and they do: a test that has a copy of it fails one day.
"""

from babel.core import Locale
from babel.numbers import get_currency_symbol, get_decimal_symbol, get_group_symbol


def number(plain: str, locale: str) -> str:
    """Return a number such as "1,234.50" with the marks of a locale in place of comma and point."""
    return plain.translate({ord(","): get_group_symbol(locale), ord("."): get_decimal_symbol(locale)})


def money(plain: str, currency: str, locale: str) -> str:
    """Return a sum such as "-1,234.50" as a locale writes it, the currency's sign in its place."""
    pattern = Locale.parse(locale).currency_formats["standard"]
    negative = plain.startswith("-")
    written: str = (
        pattern.prefix[negative] + number(plain.removeprefix("-"), locale) + pattern.suffix[negative]
    )
    return written.replace("¤", get_currency_symbol(currency, locale))
