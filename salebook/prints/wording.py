"""How prints say sizes, days, sums, costs and shares."""

from collections.abc import Iterable, Sequence
from datetime import time
from decimal import Decimal
from fractions import Fraction

from babel.core import Locale
from babel.dates import format_date, format_interval, format_time
from babel.lists import format_list
from babel.numbers import format_decimal

from salebook.base.words import _
from salebook.making.clay import Sizes
from salebook.plan.model import Beneficiary, Donated, Sale, Ware
from salebook.plan.money import format_money, rounded
from salebook.pricing.costing import CostLine

INCH_TERRITORIES = frozenset({"US", "LR", "MM"})
"""Where lengths are said in inches (CLDR, supplemental measurementData)."""

MM_PER_INCH = Decimal("25.4")
QUARTERS = ("", "¼", "½", "¾")


def words_language() -> str:
    """Return the language tag of the words themselves; a translation says its own in place of "en"."""
    return _("en")


def plan_language(sale: Sale) -> str:
    """Return the language tag of what the plan says: names, care."""
    return sale.locale.replace("_", "-")


def money(amount: Decimal, sale: Sale) -> str:
    """Say an amount as the sale's locale writes it."""
    return format_money(amount, sale.currency, sale.locale)


def list_price(source: Ware | Donated, *, second: bool = False) -> Decimal:
    """Return a piece's price in the plan; a second's where the plan has one."""
    if second and isinstance(source, Ware) and source.seconds_price is not None:
        return source.seconds_price
    return source.price


def fired_size(sizes: Sizes | None, sale: Sale) -> str:
    """Say how high and wide a fired piece is, such as "14 × 7 cm"; empty where the plan does not tell."""
    if sizes is None:
        return ""
    return format_size((sizes.fired_height_mm, sizes.fired_diameter_mm), sale)


def made_size(sizes: Sizes, sale: Sale) -> str:
    """Say how high and wide a piece is as thrown, to the millimetre; empty where the plan does not tell."""
    return format_size((sizes.made_height_mm, sizes.made_diameter_mm), sale, step_mm=Decimal(1))


def format_size(lengths_mm: Iterable[Decimal | None], sale: Sale, *, step_mm: Decimal = Decimal(5)) -> str:
    """Say lengths as one size, in cm rounded to a step, or in quarters of an inch where people use inches."""
    known = [length for length in lengths_mm if length is not None]
    if not known:
        return ""
    if Locale.parse(sale.locale).territory in INCH_TERRITORIES:
        return f"{' × '.join(_inches(length) for length in known)} in"
    steps = (rounded(length / step_mm, 0) * step_mm / 10 for length in known)
    return f"{' × '.join(format_decimal(step, locale=sale.locale) for step in steps)} cm"


def _inches(length_mm: Decimal) -> str:
    quarters = int(rounded(Fraction(length_mm) / Fraction(MM_PER_INCH) * 4, 0))
    whole, rest = divmod(quarters, 4)
    return f"{whole or ''}{QUARTERS[rest]}" or "0"


def format_days(sale: Sale) -> str:
    """Say the days of the sale; those in a row as a stretch."""
    days = sorted(sale.days)
    if len(days) > 1 and (days[-1] - days[0]).days == len(days) - 1:
        return format_interval(days[0], days[-1], "yMMMMd", locale=sale.locale)
    return listed([format_date(day, "long", locale=sale.locale) for day in days], sale)


def hours_said(sale: Sale) -> str:
    """Say from when to when the sale is open; nothing where the plan does not say."""
    if sale.open is None:
        return ""
    opens, closes = (time(at // 60 % 24, at % 60) for at in (sale.open.opens, sale.open.closes))
    return _("Open from {opens} to {closes}").format(
        opens=format_time(opens, "short", locale=sale.locale),
        closes=format_time(closes, "short", locale=sale.locale),
    )


def listed(texts: Sequence[str], sale: Sale) -> str:
    """Say several things one after the other, as the sale's locale does."""
    return format_list(list(texts), locale=sale.locale)


def cost_label(line: CostLine) -> str:
    """Say what a cost was for; the name of a clay or a firing does not tell by itself."""
    says = {"clay": _("Clay: {name}"), "firing": _("Firing: {name}")}
    return says.get(line.kind, "{name}").format(name=line.name)


def part_label(group: Beneficiary, groups: Sequence[Beneficiary]) -> str:
    """Say a group's share in words, such as "2 of 3 parts"."""
    if len(groups) == 1:
        return _("all of it")
    total = sum(each.parts for each in groups)
    return _("{parts} of {total} parts").format(parts=group.parts, total=total)
