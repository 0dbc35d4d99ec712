"""Money: minor units, rounding by name, prices on a step, and sharing out to the last penny."""

import math
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from babel.core import Locale, UnknownLocaleError, parse_locale
from babel.numbers import format_currency, get_currency_precision, list_currencies

from salebook.plan.largest_remainder import quotas

ZERO = Decimal(0)
"""No money: where a sum of amounts begins."""

HALF = Fraction(1, 2)
UNSEEN = dict.fromkeys(map(ord, "\u061c\u200e\u200f"))
"""Marks for the direction of writing, which a terminal shows as stray signs."""

NO_LANGUAGE = frozenset({"c", "posix"})
"""What a computer without a place is set to (POSIX, section 7.2); some versions of babel say American."""


@lru_cache
def is_currency(code: str) -> bool:
    """Whether a code such as "GBP" is a currency that CLDR knows."""
    return code in list_currencies()


@lru_cache
def is_locale(name: str) -> bool:
    """Whether a name such as "en_GB" or "en-GB" is a locale that CLDR has data for."""
    try:
        language, territory, *_rest = parse_locale(name.replace("-", "_"))
        found = Locale.parse(name.replace("-", "_"))
    except (ValueError, UnknownLocaleError):
        return False
    is_known = found.language != "root" and territory in {None, found.territory}
    return is_known and language.lower() not in NO_LANGUAGE


def locale_name(name: str) -> str:
    """Spell a locale as CLDR does: "en-gb" is en_GB."""
    return str(Locale.parse(name.replace("-", "_")))


@lru_cache
def minor_digits(currency: str) -> int:
    """Digits of a currency's minor unit by CLDR: GBP 2, JPY 0, KWD 3.

    Raises ValueError for a currency that CLDR does not know.
    """
    if not is_currency(currency):
        raise ValueError(f"{currency!r} is not a currency")
    return get_currency_precision(currency)


def rounded(amount: Decimal | Fraction, digits: int) -> Decimal:
    """Round to `digits` decimal places, halves away from zero, whatever the ambient decimal context."""
    above, below = amount.as_integer_ratio()
    units = (2 * abs(above) * 10**digits + below) // (2 * below)
    return in_units(-units if above < 0 else units, digits)


def in_units(units: int, digits: int) -> Decimal:
    """Return the amount that a whole number of minor units makes, exactly."""
    return Decimal(f"{units}e-{digits}")


def rounded_up_to_step(price: Decimal, step: Decimal) -> Decimal:
    """Round a price up to a whole number of steps, exactly.

    Raises ValueError where the step is not above 0.
    """
    if not step > 0:
        raise ValueError("a price step must be above 0")
    digits = max(0, -int(step.as_tuple().exponent))
    steps = math.ceil(Fraction(price) / Fraction(step))
    return in_units(steps * int(Fraction(step) * 10**digits), digits)


def share_out(amount: Decimal, parts: Sequence[int], digits: int) -> tuple[Decimal, ...]:
    """Share an amount by parts, to the last minor unit, by largest remainder (Hamilton's method).

    Each gets the whole minor units of its exact quota; those left over go one each to the largest
    fractions, the one listed first where fractions are equal. The shares always add up to the amount.

    Raises ValueError for a negative amount, one that is not whole in minor units, or parts that are
    negative or all 0.
    """
    # With one unit more to share, a group may get one less: the method is like that, and it is no fault.
    units = _whole_units(amount, digits)
    if not any(parts) or min(parts) < 0:
        raise ValueError("parts must not be negative, and not all 0")
    steps = quotas(units, parts)
    left_over = units - sum(step.whole for step in steps)
    return tuple(in_units(step.whole + (step.place <= left_over), digits) for step in steps)


def _whole_units(amount: Decimal, digits: int) -> int:
    scaled = Fraction(amount) * Fraction(10**digits)
    if scaled < 0 or scaled.denominator != 1:
        raise ValueError(f"cannot share out {amount}: expected whole minor units, 0 or more")
    return scaled.numerator


def format_money(amount: Decimal, currency: str, locale: str) -> str:
    """Say an amount as a locale writes it, such as "£12.50", with the currency's minor digits.

    A currency without a sign is named by its code; marks for the direction of writing are left out.
    """
    written = format_currency(rounded(amount, minor_digits(currency)), currency, locale=locale)
    return written.translate(UNSEEN).replace("\N{CURRENCY SIGN}", currency)
