"""How prints say sizes, days, sums, costs and shares."""

import re
from collections.abc import Callable, Iterable, Sequence
from datetime import date, time
from decimal import Decimal
from fractions import Fraction
from functools import partial

from babel.core import Locale
from babel.dates import format_date, format_interval, format_time
from babel.lists import format_list
from babel.numbers import format_decimal

from salebook.base.words import _, ngettext
from salebook.event.breakdown import Purpose
from salebook.event.costs import CostMet
from salebook.making.clay import Sizes
from salebook.making.days import Task
from salebook.making.firing import HOURS_PER_DAY, MINUTES_PER_HOUR
from salebook.plan.model import Beneficiary, MetBy, Payment, Sale, Source, Ware
from salebook.plan.money import format_money, in_cash, minor_digits, rounded
from salebook.plan.quantities import plain
from salebook.pricing.costing import CostLine
from salebook.say.kiln import load_sentence
from salebook.say.time import format_day, format_day_short, task_label

INCH_TERRITORIES = frozenset({"US", "LR", "MM"})
"""Where lengths are said in inches (CLDR, supplemental measurementData)."""

MM_PER_INCH = Decimal("25.4")
QUARTERS = ("", "¼", "½", "¾")

MOST_PLACES = 9
"""After the decimal sign, of a cost for each piece sold."""

TOLERANCE_MINUTES = 0.01
"""What a time may fall short of a whole minute by and still count as one."""


def filters_of(currency: str, locale: str) -> dict[str, Callable[..., object]]:
    """Return what templates say values with, such as `{{ cost.total|money }}`, by name."""
    return {
        "mm": as_mm,
        "plain": plain,
        "rounded": rounded,
        "number": partial(number, locale=locale),
        "money": partial(_money, currency=currency, locale=locale),
        "figure": partial(figure, currency=currency, locale=locale),
        "signed": partial(signed, currency=currency, locale=locale),
        "in_coins": partial(in_cash, currency=currency),
        "day": partial(day_in_full, locale=locale),
        "weekday": partial(format_day, locale=locale),
        "short_day": partial(format_day_short, locale=locale),
        "stretch": partial(stretch, locale=locale),
        "clock": clock,
        "lasting": lasting,
        "made_size": partial(made_size, locale=locale),
        "fired_size": partial(fired_size, locale=locale),
        "listed": partial(listed, locale=locale),
        "part": part_label,
        "cost": cost_label,
        "cost_note": partial(cost_note, currency=currency, locale=locale),
        "payer": payer_label,
        "given": partial(given_note, currency=currency, locale=locale),
        "fee": partial(fee_terms, currency=currency, locale=locale),
        "met_by": met_by_label,
        "purpose": purpose_label,
        "task": task_label,
        "load": load_sentence,
    }


def as_mm(length_mm: float) -> str:
    """Write a length for a style: three places are a thousandth of a millimetre."""
    return f"{length_mm:.3f}".rstrip("0").rstrip(".") + "mm"


def _money(amount: Decimal | float, currency: str, locale: str) -> str:
    return format_money(_exact(amount), currency, locale)


def number(value: Decimal | float, places: int | None = None, *, locale: str) -> str:
    """Write a number as a locale does, with so many places after the decimal sign, or with those it has."""
    if places is None:
        return format_decimal(value, locale=locale)
    # The pattern's own digits after the point, "#,##0.###", give way to those wanted.
    digits = f".{'0' * places}" if places else ""
    pattern = re.sub(r"\.[0#]+", digits, Locale.parse(locale).decimal_formats[None].pattern)
    written = rounded(_exact(value), places)
    return format_decimal(written if written else abs(written), pattern, locale=locale)


def _exact(value: Decimal | float) -> Decimal:
    """Return a number without what reckoning in binary leaves in its last places."""
    return value if isinstance(value, Decimal) else Decimal(repr(round(value, 9)))


def figure(amount: Decimal, *, currency: str, locale: str) -> str:
    """Write a sum for a column of figures: with the currency's digits, without its sign."""
    # All of the currency's digits and no sign: right-aligned, sums then stand on the decimal sign.
    return number(amount, minor_digits(currency), locale=locale)


def signed(amount: Decimal, *, currency: str, locale: str) -> str:
    """Write a difference with its sign, plus too."""
    return f"{'+' if amount > 0 else ''}{figure(amount, currency=currency, locale=locale)}"


def list_price(source: Source, *, second: bool = False) -> Decimal:
    """Return a piece's price in the plan; a second's where the plan has one."""
    if second and isinstance(source, Ware) and source.seconds_price is not None:
        return source.seconds_price
    return source.price


def fired_size(sizes: Sizes | None, locale: str) -> str:
    """Say how high and wide a fired piece is, such as "14 × 7 cm"; empty where the plan does not tell."""
    if sizes is None:
        return ""
    return format_size((sizes.fired_height_mm, sizes.fired_diameter_mm), locale)


def made_size(sizes: Sizes, locale: str) -> str:
    """Say how high and wide a piece is as thrown, to the millimetre; empty where the plan does not tell."""
    return format_size((sizes.made_height_mm, sizes.made_diameter_mm), locale, step_mm=Decimal(1))


def format_size(lengths_mm: Iterable[Decimal | None], locale: str, *, step_mm: Decimal = Decimal(5)) -> str:
    """Say lengths as one size, in cm rounded to a step, or in quarters of an inch where people use inches."""
    known = [length for length in lengths_mm if length is not None]
    if not known:
        return ""
    if Locale.parse(locale).territory in INCH_TERRITORIES:
        return f"{' × '.join(_inches(length) for length in known)} in"
    steps = (rounded(length / step_mm, 0) * step_mm / 10 for length in known)
    return f"{' × '.join(format_decimal(step, locale=locale) for step in steps)} cm"


def _inches(length_mm: Decimal) -> str:
    quarters = int(rounded(Fraction(length_mm) / Fraction(MM_PER_INCH) * 4, 0))
    whole, rest = divmod(quarters, 4)
    return f"{whole or ''}{QUARTERS[rest]}" or "0"


def day_in_full(day: date, locale: str) -> str:
    """Say a day in full, such as "19 June 2027"."""
    return format_date(day, "long", locale=locale)


def stretch(task: Task, locale: str) -> str:
    """Say the days of a task, from the first to the last."""
    first, last = (format_day_short(day, locale) for day in (task.first, task.last))
    return first if task.first == task.last else _("{first} to {last}").format(first=first, last=last)


def format_days(sale: Sale) -> str:
    """Say the days of the sale; those in a row as a stretch."""
    days = sorted(sale.days)
    if len(days) > 1 and (days[-1] - days[0]).days == len(days) - 1:
        return format_interval(days[0], days[-1], "yMMMMd", locale=sale.locale)
    return listed([day_in_full(day, sale.locale) for day in days], sale.locale)


def hours_said(sale: Sale) -> str:
    """Say from when to when the sale is open; nothing where the plan does not say."""
    if sale.open is None:
        return ""
    opens, closes = (time(at // 60 % 24, at % 60) for at in (sale.open.opens, sale.open.closes))
    return _("Open from {opens} to {closes}").format(
        opens=format_time(opens, "short", locale=sale.locale),
        closes=format_time(closes, "short", locale=sale.locale),
    )


def clock(hour: float) -> str:
    """Say a clock time, counted in hours from the first midnight: "03:48", and how many days later."""
    # Of a clock that nobody changes; the card says what a night of changed clocks does to the times.
    minutes = whole_minutes(hour)
    days, minutes = divmod(minutes, int(HOURS_PER_DAY * MINUTES_PER_HOUR))
    said = f"{minutes // 60:02}:{minutes % 60:02}"
    if days == 0:
        return said
    return _("{clock}, next day").format(clock=said) if days == 1 else f"{said}, +{days}"


def lasting(hours: float) -> str:
    """Say a duration: "5 h 48 min"."""
    minutes = whole_minutes(hours)
    if minutes < MINUTES_PER_HOUR:
        return _("{minutes} min").format(minutes=minutes)
    return _("{hours} h {minutes:02} min").format(hours=minutes // 60, minutes=minutes % 60)


def whole_minutes(hours: float) -> int:
    """Return the whole minutes of a time, as spreadsheet programs show them: the rest is left off."""
    return int(hours * MINUTES_PER_HOUR + TOLERANCE_MINUTES)


def listed(texts: Iterable[str], locale: str) -> str:
    """Say several things one after the other, as a locale does."""
    return format_list(list(texts), locale=locale)


def cost_label(line: CostLine) -> str:
    """Say what a cost was for; the name of a clay or a firing does not tell by itself."""
    says = {"clay": _("Clay: {name}"), "firing": _("Firing: {name}")}
    return says.get(line.kind, "{name}").format(name=line.name)


def cost_note(cost: CostMet, currency: str, locale: str) -> str:
    """Say how a cost is known: what it really was, by pieces sold, or as planned."""
    if not cost.is_planned:
        return _("as paid, not planned")
    if cost.is_actual:
        return _("as paid")
    if not cost.line.grows:
        return _("as planned")
    each = cost.line.per_piece_sold
    places = places_for(each, cost.sold, cost.amount, minor_digits(currency))
    says = ngettext("{each} for {count} piece sold", "{each} for each of {count} pieces sold", cost.sold)
    return says.format(each=number(each, places, locale=locale), count=cost.sold)


def given_note(cost: CostMet, currency: str, locale: str) -> str:
    """Say who met a cost that the takings did not, and how it is known."""
    maker = cost.line.met_by == "maker"
    if not cost.is_planned:
        return _("maker, as paid, not planned") if maker else _("sponsor, as paid, not planned")
    if cost.is_actual:
        return _("maker, as paid") if maker else _("sponsor, as paid")
    if not cost.line.grows:
        return _("maker, as planned") if maker else _("sponsor, as planned")
    terms = cost_note(cost, currency, locale)
    return (_("maker, {terms}") if maker else _("sponsor, {terms}")).format(terms=terms)


def fee_terms(way: Payment, currency: str, locale: str) -> str:
    """Say what a way to pay costs, such as "1.69 % of each payment"."""
    says = {
        (True, True): _("{percent} % of each payment, and {fixed} besides"),
        (True, False): _("{percent} % of each payment"),
        (False, True): _("{fixed} for each payment"),
    }[bool(way.percent), bool(way.fixed)]
    return says.format(percent=plain(way.percent), fixed=format_money(way.fixed, currency, locale))


def places_for(each: Decimal, count: int, amount: Decimal, digits: int) -> int:
    """Return how many places one piece's cost needs, so that a hand that multiplies it reaches the amount."""
    reaches = (
        places
        for places in range(digits, MOST_PLACES)
        if rounded(rounded(each, places) * count, digits) == amount
    )
    return next(reaches, MOST_PLACES)


def payer_label(cost: CostMet) -> str:
    """Say who met a cost that the takings did not."""
    return met_by_label(cost.line.met_by)


def met_by_label(who: MetBy) -> str:
    """Say who meets a cost."""
    return {"maker": _("maker"), "sale": _("takings"), "sponsor": _("sponsor")}[who]


def part_label(group: Beneficiary, groups: Sequence[Beneficiary]) -> str:
    """Say a group's share in words, such as "2 of 3 parts"."""
    if len(groups) == 1:
        return _("all of it")
    total = sum(each.parts for each in groups)
    return _("{parts} of {total} parts").format(parts=group.parts, total=total)


def purpose_label(purpose: Purpose) -> str:
    """Say what money was for."""
    words: dict[Purpose, str] = {
        "sale": _("Pieces sold"),
        "order": _("Paid on orders"),
        "deposit": _("Deposits"),
        "balance": _("Balances of deposits"),
        "refund": _("Given back"),
        "gift": _("Gifts on top of a price"),
        "donation": _("Gifts of money"),
        "raffle": _("Raffle"),
        "refreshments": _("Refreshments"),
        "postage": _("Postage"),
        "other": _("Other"),
    }
    return words[purpose]
