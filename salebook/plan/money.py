"""Money: minor units, rounding by name, cash, prices on a step, and sharing out to the last penny."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from babel.core import Locale, UnknownLocaleError, get_global, parse_locale
from babel.numbers import format_currency, get_currency_precision, list_currencies

ZERO = Decimal(0)
"""No money: where a sum of amounts begins."""

MOST_MONEY = Decimal(10) ** 12
MOST_IN_A_CELL = Decimal(10) ** 9
"""Of one cell: ten thousand of them still make a sum that a spreadsheet holds to the last coin."""

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


def is_finer_than_coins(amount: Decimal, currency: str) -> bool:
    """Whether an amount has more digits than the currency's minor unit."""
    return amount != rounded(amount, minor_digits(currency))


def in_units(units: int, digits: int) -> Decimal:
    """Return the amount that a whole number of minor units makes, exactly."""
    return Decimal(f"{units}e-{digits}")


def cash_step(currency: str) -> Decimal:
    """Return the step to which sums paid in cash are rounded, by CLDR: CHF 0.05, SEK 1, GBP 0.01.

    Raises ValueError for a currency that CLDR does not know.
    """
    if not is_currency(currency):
        raise ValueError(f"{currency!r} is not a currency")
    fractions = get_global("currency_fractions")
    _digits, _rounding, cash_digits, cash_rounding = fractions.get(currency, fractions["DEFAULT"])
    return in_units(cash_rounding or 1, cash_digits)


def in_cash(amount: Decimal, currency: str) -> Decimal:
    """Return an amount as it is paid in cash: the nearest step, halves away from zero.

    Raises ValueError for a currency that CLDR does not know.
    """
    step = cash_step(currency)
    return rounded(amount / step, 0) * step


def rounded_up_to_step(price: Decimal, step: Decimal) -> Decimal:
    """Round a price up to a whole number of steps, exactly.

    Raises ValueError where the step is not above 0.
    """
    if not step > 0:
        raise ValueError("a price step must be above 0")
    digits = max(0, -int(step.as_tuple().exponent))
    steps = math.ceil(Fraction(price) / Fraction(step))
    return in_units(steps * int(Fraction(step) * 10**digits), digits)


@dataclass(frozen=True, kw_only=True)
class Quota:
    """One group's quota in whole minor units: what is sure, and the place in line for one more."""

    whole: int
    remainder: int
    """In parts of a minor unit: of as many as there are parts in all."""
    place: int
    """1 for the largest remainder; the one listed first where remainders are equal."""


def quotas(units: int, parts: Sequence[int]) -> tuple[Quota, ...]:
    """Return the quotas of an amount in minor units, 0 or more, shared by parts."""
    divided = [divmod(units * part, sum(parts)) for part in parts]
    line = sorted(range(len(parts)), key=lambda index: -divided[index][1])
    places = {index: place for place, index in enumerate(line, start=1)}
    return tuple(
        Quota(whole=whole, remainder=remainder, place=places[index])
        for index, (whole, remainder) in enumerate(divided)
    )


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
