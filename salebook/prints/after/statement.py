"""The statement for all groups: what came in, what came off and why, how it was shared, who counted."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from pathlib import Path

from babel.numbers import format_decimal

from salebook.base.words import _
from salebook.event.cash_up import CashUp
from salebook.event.costs_met import CostMet
from salebook.event.entries import DayCount
from salebook.event.receipts import ready_to_pay, to_pay
from salebook.event.report import Report
from salebook.event.share_out import GroupShare, ShareOut, WayTaken
from salebook.plan.cash import cash_step
from salebook.plan.model import Sale
from salebook.plan.money import in_units, rounded
from salebook.plan.quantities import plain
from salebook.prints.after.page import (
    Row,
    account_html,
    figure,
    format_day,
    format_day_short,
    purpose_label,
    signed,
)
from salebook.prints.wording import cost_label, listed, money

ZERO = Decimal(0)
MOST_NAMED = 4
"""So many groups are named in a sentence; more stand in the table only."""


@dataclass(frozen=True, kw_only=True)
class GroupRow:
    """One group's line of the share-out, as it is printed."""

    name: str
    parts: str
    share: str
    named: str
    total: str
    paid: str
    to_pay: str
    direct: str


@dataclass(frozen=True, kw_only=True)
class CashRow:
    """One cash box of one day, as it is printed."""

    day: str
    till: str
    float_: str
    taken: str
    paid_out: str
    expected: str
    counted: str
    difference: str
    counted_by: str = ""
    checked_by: str = ""


def statement_html(
    report: Report, *, today: date, with_hours: bool = False, templates: Path | None = None
) -> str:
    """Return the statement drawn up `today`; the maker's hours stand on it only where they are asked for.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    sale, share_out = report.plan.sale, report.event.share_out
    return account_html(
        "statement.html",
        report,
        templates=templates,
        today=format_day(today, sale),
        sentences=tuple(sentences(report)),
        takings=figure(share_out.takings, sale),
        kinds=tuple(_kinds(report)),
        ways=tuple(_ways(report)),
        received_days=tuple(_days(report)),
        off=tuple(rows_off(report)),
        all_off=figure(all_off(share_out), sale),
        pool=figure(share_out.pool, sale),
        groups=tuple(_group(group, sale) for group in share_out.groups),
        all_groups=_all_groups(share_out, sale),
        has_named=bool(share_out.named),
        has_direct=bool(share_out.direct),
        boxes=tuple(_boxes(report)),
        all_boxes=_all_boxes(report) if len(_used(report)) > 1 else None,
        has_paid_out=any(box.paid_out for box in report.cash_ups),
        has_tills=len({box.till for box in _used(report)}) > 1,
        small_coins=_small_coins(sale),
        in_kind=tuple(_in_kind(report)),
        all_in_kind=figure(sum((cost.amount for cost in _met_by_others(report)), ZERO), sale),
        hours=_hours(report) if with_hours else "",
        later=tuple(_later(report)),
    )


def sentences(report: Report) -> Iterator[str]:
    """Yield answers to the first questions: how much came in, what comes off, how it is shared."""
    sale, share_out = report.plan.sale, report.event.share_out
    comes_off = share_out.fees + share_out.costs_met_by_sale + share_out.to_givers
    yield _("{takings} came in. {off} comes off for costs, fees and givers' parts.").format(
        takings=money(share_out.takings, sale), off=money(comes_off, sale)
    )
    if share_out.named:
        yield _("{named} was given for a group by name and goes to that group in full.").format(
            named=money(share_out.named, sale)
        )
    if share_out.pool > 0 and len(share_out.groups) > MOST_NAMED:
        yield _("{pool} is shared by parts among {count} groups.").format(
            pool=money(share_out.pool, sale), count=len(share_out.groups)
        )
    elif share_out.pool > 0:
        shares = listed(
            [
                _("{sum} to {group}").format(sum=money(group.total, sale), group=group.group.name)
                for group in share_out.groups
            ],
            sale,
        )
        yield _("{pool} is shared by parts. In all: {shares}.").format(
            pool=money(share_out.pool, sale), shares=shares
        )


def _kinds(report: Report) -> Iterator[Row]:
    sale, received = report.plan.sale, report.received
    for purpose, amount in received.by_purpose.items():
        yield Row(label=purpose_label(purpose), amount=figure(amount, sale))


def _ways(report: Report) -> Iterator[Row]:
    for way, amount in report.received.by_way.items():
        yield Row(label=way or _("not known"), amount=figure(amount, report.plan.sale))


def _days(report: Report) -> Iterator[Row]:
    for day, amount in report.received.by_day.items():
        yield Row(label=format_day_short(day, report.plan.sale), amount=figure(amount, report.plan.sale))


def rows_off(report: Report) -> Iterator[Row]:
    """Yield what comes off the takings, line by line, each as a positive sum."""
    sale, share_out = report.plan.sale, report.event.share_out
    for group in share_out.groups:
        if group.named:
            label = _("Given for {group}").format(group=group.group.name)
            yield Row(label=label, amount=figure(group.named, sale))
    for taken in share_out.ways:
        if taken.fee:
            label = _("Fees for {way}").format(way=taken.payment.name)
            yield Row(label=label, note=_fee_note(taken, report), amount=figure(taken.fee, sale))
    for cost in report.costs:
        if cost.line.met_by == "sale":
            yield Row(label=cost_label(cost.line), note=cost_note(cost), amount=figure(cost.amount, sale))
    for giver in report.givers:
        if giver.to_giver:
            label = _("Giver's part for {giver}").format(giver=giver.name)
            yield Row(label=label, amount=figure(giver.to_giver, sale))


def all_off(share_out: ShareOut) -> Decimal:
    """Return the sum of what comes off the takings."""
    return share_out.named + share_out.fees + share_out.costs_met_by_sale + share_out.to_givers


def _fee_note(taken: WayTaken, report: Report) -> str:
    if taken.payment.name in report.event.entries.actual_fees:
        return _("by the statement")
    sale = report.plan.sale
    way, terms = taken.payment, []
    if way.percent:
        terms.append(_("{percent} %").format(percent=plain(way.percent)))
    if way.fixed:
        terms.append(f"{taken.payments} × {money(way.fixed, sale)}")
    return " + ".join(terms)


def cost_note(cost: CostMet) -> str:
    """Say how a cost is known: what it really was, by pieces sold, or as planned."""
    if cost.is_actual:
        return _("as paid")
    return _("for each piece sold") if cost.line.grows else _("as planned")


def payer_label(cost: CostMet) -> str:
    """Say who met a cost that the takings did not."""
    return _("maker") if cost.line.met_by == "maker" else _("sponsor")


def _group(group: GroupShare, sale: Sale) -> GroupRow:
    return GroupRow(
        name=group.group.name,
        parts=str(group.group.parts),
        share=figure(group.share, sale),
        named=figure(group.named, sale),
        total=figure(group.total, sale),
        paid=figure(group.paid, sale),
        to_pay=figure(group.to_pay, sale),
        direct=figure(group.direct, sale),
    )


def _all_groups(share_out: ShareOut, sale: Sale) -> GroupRow:
    groups = share_out.groups
    return GroupRow(
        name=_("All groups"),
        parts=str(sum(group.group.parts for group in groups)),
        share=figure(sum((group.share for group in groups), ZERO), sale),
        named=figure(sum((group.named for group in groups), ZERO), sale),
        total=figure(sum((group.total for group in groups), ZERO), sale),
        paid=figure(sum((group.paid for group in groups), ZERO), sale),
        to_pay=figure(to_pay(share_out), sale),
        direct=figure(share_out.direct, sale),
    )


def _boxes(report: Report) -> Iterator[CashRow]:
    counts = {(count.day, count.till): count for count in report.event.entries.cash}
    for box in _used(report):
        yield _box(box, counts.get((box.day, box.till)), report.plan.sale)


def _used(report: Report) -> tuple[CashUp, ...]:
    """Return the cash boxes that were in use; all of them where none was."""
    return tuple(box for box in report.cash_ups if not box.is_empty) or report.cash_ups


def _box(box: CashUp, count: DayCount | None, sale: Sale) -> CashRow:
    return CashRow(
        day=format_day_short(box.day, sale),
        till=box.till,
        float_=figure(box.float_, sale),
        taken=figure(box.cash_takings, sale),
        paid_out=figure(box.paid_out, sale),
        expected=figure(box.float_ + box.expected, sale),
        counted=_("not counted") if box.counted is None else figure(box.counted, sale),
        difference="" if box.difference is None else signed(box.difference, sale),
        counted_by=count.counted_by if count else "",
        checked_by=count.checked_by if count else "",
    )


def _all_boxes(report: Report) -> CashRow:
    """Return what the boxes come to together; floats are left out, since one may serve on several days."""
    sale, boxes = report.plan.sale, report.cash_ups
    differences = [box.difference for box in boxes if box.difference is not None]
    return CashRow(
        day=_("All days"),
        till="",
        float_="",
        taken=figure(sum((box.cash_takings for box in boxes), ZERO), sale),
        paid_out=figure(sum((box.paid_out for box in boxes), ZERO), sale),
        expected="",
        counted="",
        difference=signed(sum(differences, ZERO), sale) if differences else "",
    )


def _small_coins(sale: Sale) -> str:
    """Say that cash is rounded, where a currency's smallest coin is more than its smallest unit."""
    step = cash_step(sale.currency)
    if step == in_units(1, sale.digits):
        return ""
    return _("Cash is rounded to {step}: small differences may come from that.").format(
        step=money(step, sale)
    )


def _met_by_others(report: Report) -> tuple[CostMet, ...]:
    """Return costs that others met: given to the sale, and not taken from the takings."""
    return tuple(cost for cost in report.costs if cost.line.met_by != "sale" and cost.amount)


def _in_kind(report: Report) -> Iterator[Row]:
    for cost in _met_by_others(report):
        how = "" if cost.is_as_planned else f", {cost_note(cost)}"
        note = f"{payer_label(cost)}{how}"
        yield Row(label=cost_label(cost.line), note=note, amount=figure(cost.amount, report.plan.sale))


def _hours(report: Report) -> str:
    hours = rounded(report.reckoning.studio.hours.total, 0)
    said_hours = format_decimal(hours, locale=report.plan.sale.locale)
    return _("The maker gave {hours} hours of work besides: given, not paid.").format(hours=said_hours)


def _later(report: Report) -> Iterator[str]:
    """Say what has not arrived yet, and how much of what is still to pay lies in the bank."""
    sale, share_out = report.plan.sale, report.event.share_out
    waiting = sum((taken.waiting for taken in share_out.ways), ZERO)
    if waiting:
        yield _("{sum} is promised and has not arrived: it is shared once it has.").format(
            sum=money(waiting, sale)
        )
    still = to_pay(share_out)
    if still > 0:
        ready = ready_to_pay(report.event.entries, share_out)
        yield _("Still to pay: {sum}; of it in the bank: {ready}.").format(
            sum=money(still, sale), ready=money(ready, sale)
        )
    for group in share_out.groups:
        if group.to_pay < 0:
            yield f"{group.group.name}: {too_much(group, sale)}"


def too_much(share: GroupShare, sale: Sale) -> str:
    """Say what a group was paid beyond what it gets."""
    return _("{sum} too much was paid: it should come back.").format(sum=money(-share.to_pay, sale))
