"""The place where a plan is written, as its computer has been told."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from babel import Locale
from babel.core import UnknownLocaleError
from babel.numbers import get_territory_currencies

from salebook.plan.money import is_currency, is_locale

VARIABLES = ("LC_ALL", "LC_MONETARY", "LANG")
"""Environment variables that name a locale, the one that counts most first (POSIX, section 8.2)."""


@dataclass(frozen=True, kw_only=True)
class LocaleDefaults:
    """When and where the plan is written: the day, and the locale and currency of the place."""

    today: date
    locale: str = "en_GB"
    currency: str = "GBP"


def locale_defaults_of(environment: Mapping[str, str], *, today: date) -> LocaleDefaults:
    """Return the locale and currency that an environment names; British ones where it names none."""
    told = next((environment[name] for name in VARIABLES if environment.get(name)), "")
    name = told.split(".")[0].split("@")[0]
    currency = _currency_of(name, today)
    return (
        LocaleDefaults(today=today)
        if currency is None
        else LocaleDefaults(today=today, locale=name, currency=currency)
    )


def _currency_of(name: str, today: date) -> str | None:
    """Return the currency of a locale's country; None where there is no such locale or country."""
    try:
        territory = Locale.parse(name).territory if is_locale(name) else None
    except (ValueError, UnknownLocaleError):
        return None
    used = get_territory_currencies(territory, today, today) if territory else []
    return next((code for code in used if is_currency(code)), None)
