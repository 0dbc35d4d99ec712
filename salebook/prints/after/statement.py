"""The statement for all groups: what came in, what came off and why, how it was shared, who counted."""

from collections.abc import Iterator
from datetime import date

from babel.numbers import format_decimal

from salebook.accounts.lines import fingerprint_of
from salebook.base.words import _, ngettext
from salebook.event.receipts import ready_to_pay, to_pay
from salebook.event.report import Report
from salebook.event.share_out import GroupShare
from salebook.plan.model import Sale
from salebook.plan.money import ZERO, cash_step, in_units, rounded
from salebook.prints.after.page import status_lines, taken_off
from salebook.prints.render import Printer
from salebook.prints.wording import listed

MOST_NAMED = 4
"""So many groups are named in a sentence; more stand in the table only."""


def statement_html(printer: Printer, report: Report, *, today: date, with_hours: bool = False) -> str:
    """Return the statement drawn up `today`; the maker's hours stand on it only where they are asked for."""
    share_out = report.event.share_out
    boxes = tuple(box for box in report.cash_ups if not box.is_empty) or report.cash_ups
    return printer.fill(
        "statement.html",
        status=tuple(status_lines(report)),
        today=today,
        fingerprint=fingerprint_of(report),
        sentences=tuple(sentences(report)),
        received=report.received,
        share_out=share_out,
        still_to_pay=to_pay(share_out),
        off=taken_off(report),
        boxes=boxes,
        counts={(count.day, count.till): count for count in report.event.entries.cash},
        has_paid_out=any(box.paid_out for box in boxes),
        has_tills=len({box.till for box in boxes}) > 1,
        small_coins=_small_coins(report.plan.sale),
        in_kind=[cost for cost in report.event.share_out.costs if cost.line.met_by != "sale" and cost.amount],
        hours=_hours(report) if with_hours else "",
        later=tuple(_later(report)),
    )


def sentences(report: Report) -> Iterator[str]:
    """Yield answers to the first questions: how much came in, what comes off, how it is shared."""
    sale, share_out = report.plan.sale, report.event.share_out
    comes_off = share_out.fees + share_out.costs_met_by_sale + share_out.to_givers
    yield _("{takings} came in. {off} comes off for costs, fees and givers' parts.").format(
        takings=sale.format_money(share_out.takings), off=sale.format_money(comes_off)
    )
    if share_out.named:
        yield _("{named} was given for a group by name and goes to that group in full.").format(
            named=sale.format_money(share_out.named)
        )
    if share_out.pool > 0 and len(share_out.groups) > MOST_NAMED:
        says = ngettext(
            "{pool} is shared by parts among {count} group.",
            "{pool} is shared by parts among {count} groups.",
            len(share_out.groups),
        )
        yield says.format(pool=sale.format_money(share_out.pool), count=len(share_out.groups))
    elif share_out.pool > 0:
        shares = listed(
            [
                _("{sum} to {group}").format(sum=sale.format_money(group.total), group=group.group.name)
                for group in share_out.groups
            ],
            sale.locale,
        )
        yield _("{pool} is shared by parts. In all: {shares}.").format(
            pool=sale.format_money(share_out.pool), shares=shares
        )


def _small_coins(sale: Sale) -> str:
    """Say that cash is rounded, where a currency's smallest coin is more than its smallest unit."""
    step = cash_step(sale.currency)
    if step == in_units(1, sale.digits):
        return ""
    return _("Cash is rounded to {step}: small differences may come from that.").format(
        step=sale.format_money(step)
    )


def _hours(report: Report) -> str:
    hours = rounded(report.reckoning.studio.hours.total, 0)
    said_hours = format_decimal(hours, locale=report.plan.sale.locale)
    says = ngettext(
        "The maker gave {hours} hour of work besides: given, not paid.",
        "The maker gave {hours} hours of work besides: given, not paid.",
        int(hours),
    )
    return says.format(hours=said_hours)


def _later(report: Report) -> Iterator[str]:
    """Say what has not arrived yet, and how much of what is still to pay lies in the bank."""
    sale, share_out = report.plan.sale, report.event.share_out
    waiting = sum((taken.waiting for taken in share_out.ways), ZERO)
    if waiting:
        yield _("{sum} is promised and has not arrived: it is shared once it has.").format(
            sum=sale.format_money(waiting)
        )
    still = to_pay(share_out)
    if still > 0:
        ready = ready_to_pay(report.event.entries, share_out)
        yield _("Still to pay: {sum}; of it in the bank: {ready}.").format(
            sum=sale.format_money(still), ready=sale.format_money(ready)
        )
    for group in share_out.groups:
        if group.to_pay < 0:
            yield f"{group.group.name}: {too_much(group, sale)}"


def too_much(share: GroupShare, sale: Sale) -> str:
    """Say what a group was paid beyond what it gets."""
    return _("{sum} too much was paid: it should come back.").format(sum=sale.format_money(-share.to_pay))
