"""What the prints after the sale have in common: how they say sums and days, and that they are not final."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

from babel.core import Locale
from babel.dates import format_date, format_skeleton
from babel.numbers import format_decimal, get_currency_symbol

from salebook.base.words import _
from salebook.event.breakdown import Purpose
from salebook.event.report import Report
from salebook.plan.model import Sale
from salebook.plan.money import rounded
from salebook.prints.page import page_html
from salebook.prints.wording import money


@dataclass(frozen=True, kw_only=True)
class Row:
    """One line of an account: what it is, what to know of it, and its sum as it is printed."""

    label: str
    amount: str
    note: str = ""


def account_html(template: str, report: Report, *, templates: Path | None = None, **values: object) -> str:
    """Return a print after the sale: its template with the accounts' standing, and further values.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    return page_html(
        template,
        report.plan,
        templates=templates,
        status=tuple(status_lines(report)),
        unit=get_currency_symbol(report.plan.sale.currency, locale=report.plan.sale.locale),
        **values,
    )


def status_lines(report: Report) -> Iterator[str]:
    """Say that figures are not final, that they are of some days only, or that there is nothing to share."""
    if report.questions:
        lines = counted(report.to_look_at, _("1 line needs a look"), _("{count} lines need a look"))
        yield _("Not final: {lines}.").format(lines=lines)
    if report.up_to:
        says = _("Interim: as it stood on the evening of {day}; costs as they are known now.")
        yield says.format(day=format_day(report.up_to, report.plan.sale))
    if report.missing:
        says = _("Nothing to share yet: {sum} is missing until the takings meet what comes off them.")
        yield says.format(sum=money(report.missing, report.plan.sale))


def counted(count: int, one: str, more: str) -> str:
    """Say how many there are."""
    return one if count == 1 else more.format(count=count)


def figure(amount: Decimal, sale: Sale) -> str:
    """Write a sum for a column of figures: with the currency's digits, without its sign."""
    # All of the currency's digits and no sign: right-aligned, sums then stand on the decimal sign.
    pattern = Locale.parse(sale.locale).decimal_formats[None].pattern
    digits = f".{'0' * sale.digits}" if sale.digits else ""
    written = rounded(amount, sale.digits)
    # The pattern's own digits after the point, "#,##0.###", give way to the currency's.
    return format_decimal(
        written if written else abs(written), re.sub(r"\.[0#]+", digits, pattern), locale=sale.locale
    )


def signed(amount: Decimal, sale: Sale) -> str:
    """Write a difference with its sign, plus too."""
    return f"{'+' if amount > 0 else ''}{figure(amount, sale)}"


def format_day(day: date, sale: Sale) -> str:
    """Say a day in full, such as "19 June 2027"."""
    return format_date(day, "long", locale=sale.locale)


def format_day_short(day: date, sale: Sale) -> str:
    """Say a day for a column, such as "Sat, 19 Jun"."""
    return format_skeleton("MMMEd", day, locale=sale.locale)


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
