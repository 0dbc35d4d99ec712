"""The statement as a table for a bookkeeper, safe to open in a spreadsheet program."""

import csv
import io
from collections.abc import Iterator
from dataclasses import astuple, dataclass
from decimal import Decimal

from salebook.base.csv_text import BYTE_ORDER_MARK, guarded
from salebook.base.words import _
from salebook.event.costs import CostMet
from salebook.event.lines import fold_case
from salebook.event.report import Report
from salebook.plan.money import rounded
from salebook.pricing.costing import KIND_WORDS
from salebook.prints.after.page import reason_label, status_lines, taken_off
from salebook.prints.wording import cost_note, given_note, purpose_label


@dataclass(frozen=True, kw_only=True)
class Entry:
    """One line of the table; money out of the takings is negative, so that "received" to "missing" make 0."""

    part: str
    day: str = ""
    kind: str = ""
    way: str = ""
    name: str = ""
    note: str = ""
    amount: Decimal | str = ""


def statement_csv(report: Report) -> str:
    """Return the table, its lines ended as RFC 4180 says; amounts with a point and the currency's digits."""
    digits = report.plan.sale.digits
    table = io.StringIO()
    table.write(BYTE_ORDER_MARK)
    writer = csv.writer(table, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    amount = _("amount in {currency}").format(currency=report.plan.sale.currency)
    writer.writerow([_("part"), _("day"), _("kind"), _("way to pay"), _("name"), _("note"), amount])
    for entry in _entries(report):
        writer.writerow([_safe(value, digits) for value in astuple(entry)])
    return table.getvalue()


def _safe(value: Decimal | str, digits: int) -> Decimal | str:
    """Let no text begin like a formula; numbers stay numbers."""
    if isinstance(value, Decimal):
        return rounded(value, digits)
    return guarded(value)


def _entries(report: Report) -> Iterator[Entry]:
    yield from (Entry(part=_("status"), note=line) for line in status_lines(report))
    for part in (_received, _taken_off, _shared, _paid, _bank, _apart, _cash, _in_kind):
        yield from part(report)


def _received(report: Report) -> Iterator[Entry]:
    for (day, purpose, way), amount in report.received.together.items():
        yield Entry(
            part=_("received"),
            day=day.isoformat(),
            kind=purpose_label(purpose),
            way=way or _("not known"),
            amount=amount,
        )


def _taken_off(report: Report) -> Iterator[Entry]:
    actual = report.event.entries.actual_fees
    off = taken_off(report)
    for taken, _terms in off.fees:
        note = _("by the statement") if taken.payment.name in actual else _("by the plan")
        yield Entry(part=_("fee"), way=taken.payment.name, note=note, amount=-taken.fee)
    for cost in off.costs:
        yield _cost(_("cost"), cost, _note(cost, report), -cost.amount)
    for giver, _terms in off.givers:
        yield Entry(part=_("giver's part"), name=giver.name, amount=-giver.to_giver)


def _shared(report: Report) -> Iterator[Entry]:
    for share in report.event.share_out.groups:
        if share.named:
            yield Entry(part=_("given by name"), name=share.group.name, amount=-share.named)
    for share in report.event.share_out.groups:
        yield Entry(part=_("share"), name=share.group.name, amount=-share.share)
    if report.missing:
        yield Entry(part=_("missing"), amount=report.missing)


def _paid(report: Report) -> Iterator[Entry]:
    groups = {share.group.name for share in report.event.share_out.groups}
    for payment in report.event.entries.payments:
        if payment.group in groups:
            yield Entry(
                part=_("paid to group"),
                day=payment.day.isoformat(),
                name=payment.group,
                amount=payment.amount,
            )
    ways = {fold_case(way.name): way.name for way in report.plan.payments}
    for banked in report.event.entries.banked:
        if banked.arrived is not None:
            yield Entry(
                part=_("arrived in the bank"),
                day=banked.day.isoformat(),
                way=ways.get(fold_case(banked.what), ""),
                amount=banked.arrived,
            )
    for share in report.event.share_out.groups:
        yield Entry(part=_("still to pay"), name=share.group.name, amount=share.to_pay)


def _bank(report: Report) -> Iterator[Entry]:
    for way in report.banked:
        name = way.name or _("not known")
        yield Entry(part=_("should be in the bank"), way=name, amount=way.expected)
        if way.difference:
            yield Entry(part=_("bank difference"), way=name, note=reason_label(way), amount=way.difference)


def _apart(report: Report) -> Iterator[Entry]:
    for taken in report.event.share_out.ways:
        if taken.waiting:
            yield Entry(part=_("not yet arrived"), way=taken.payment.name, amount=taken.waiting)
        if taken.payment.paid_to and taken.money:
            yield Entry(
                part=_("straight to group"),
                way=taken.payment.name,
                name=taken.payment.paid_to,
                amount=taken.money,
            )


def _cash(report: Report) -> Iterator[Entry]:
    for box in report.cash_ups:
        day, till = box.day.isoformat(), _("till {till}").format(till=box.till)
        if box.paid_out:
            yield Entry(part=_("paid out of the cash box"), day=day, name=till, amount=-box.paid_out)
        yield Entry(part=_("cash expected"), day=day, name=till, amount=box.expected)
        if box.counted is not None and box.difference is not None:
            counted = box.counted - box.float_
            yield Entry(part=_("cash counted"), day=day, name=till, note=_("float off"), amount=counted)
            yield Entry(part=_("cash difference"), day=day, name=till, amount=box.difference)


def _in_kind(report: Report) -> Iterator[Entry]:
    for cost in report.event.share_out.costs:
        if cost.line.met_by != "sale":
            note = given_note(cost, report.plan.sale.currency, report.plan.sale.locale)
            yield _cost(_("given in kind"), cost, note, cost.amount)


def _note(cost: CostMet, report: Report) -> str:
    return cost_note(cost, report.plan.sale.currency, report.plan.sale.locale)


def _cost(part: str, cost: CostMet, note: str, amount: Decimal) -> Entry:
    kind = _(KIND_WORDS[cost.line.kind])
    return Entry(part=part, kind=kind, name=cost.line.name, note=note, amount=amount)
