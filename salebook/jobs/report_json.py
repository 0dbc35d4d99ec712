"""The answer of `salebook report --json`: the accounts as plain values, without a buyer's name anywhere."""

from collections.abc import Iterable, Iterator
from dataclasses import asdict

from salebook.event.cash_up import CashUp
from salebook.event.report import Report
from salebook.event.share_out import GroupShare
from salebook.jobs.price_json import JsonObject, json_money
from salebook.prints.after.page import status_lines


def report_json(report: Report) -> JsonObject:
    """Return the accounts as values that JSON holds: money as text with the currency's digits, counts whole.

    Takings are without what was paid straight to a group; `by_kind`, `by_payment` and `by_day` each add up to
    their total. "" in `by_payment` is money of which the way to pay is not known. `expected` cash is what was
    taken less what was paid out; where there are several tills each entry names its own. `status` says in
    words why the figures are not final, as the prints do; it is empty where nothing is to be said.
    `notes` are what was understood although the workbook's own sheets may count it otherwise.
    """
    sale, share_out = report.plan.sale, report.event.share_out
    digits = sale.digits
    return {
        "currency": sale.currency,
        "final": report.is_final,
        "status": list(status_lines(report)),
        "takings": _takings(report),
        "fees": json_money(share_out.fees, digits),
        "costs_met_by_sale": json_money(share_out.costs_met_by_sale, digits),
        "to_givers": json_money(share_out.to_givers, digits),
        "pool": json_money(share_out.pool, digits),
        "share_out": [_group(group, digits) for group in share_out.groups],
        "pieces": _pieces(report),
        "to_collect": sum(not waiting.is_sent for waiting in report.waiting),
        "to_send": sum(waiting.is_sent for waiting in report.waiting),
        "cash_up": _cash_ups(report.cash_ups, digits),
        "target": _target(report),
        "questions": [asdict(question) for question in report.questions],
        "notes": [asdict(note) for note in report.notes],
    }


def _takings(report: Report) -> JsonObject:
    received, digits = report.received, report.plan.sale.digits
    return {
        "total": json_money(report.event.share_out.takings, digits),
        "by_kind": {kind: json_money(amount, digits) for kind, amount in received.by_kind.items()},
        "by_payment": {way: json_money(amount, digits) for way, amount in received.by_way.items()},
        "by_day": {day.isoformat(): json_money(amount, digits) for day, amount in received.by_day.items()},
    }


def _group(group: GroupShare, digits: int) -> JsonObject:
    return {
        "name": group.group.name,
        "named": json_money(group.named, digits),
        "share": json_money(group.share, digits),
        "total": json_money(group.total, digits),
        "paid": json_money(group.paid, digits),
        "to_pay": json_money(group.to_pay, digits),
    }


def _pieces(report: Report) -> JsonObject:
    piece_totals = report.event.state.piece_totals
    return {
        "here": sum(totals.here for totals in piece_totals),
        "reserved": sum(totals.reserved for totals in piece_totals),
        "deposit": sum(totals.deposit for totals in piece_totals),
        "sold": sum(totals.sold for totals in piece_totals),
    }


def _cash_ups(cash_ups: Iterable[CashUp], digits: int) -> list[JsonObject]:
    boxes = list(cash_ups)
    has_tills = len({box.till for box in boxes}) > 1
    return [dict(_cash_up(box, digits, has_tills=has_tills)) for box in boxes]


def _cash_up(box: CashUp, digits: int, *, has_tills: bool) -> Iterator[tuple[str, str | None]]:
    yield "day", box.day.isoformat()
    if has_tills:
        yield "till", box.till
    yield "float", json_money(box.float_, digits)
    yield "expected", json_money(box.expected, digits)
    yield "counted", None if box.counted is None else json_money(box.counted, digits)
    yield "difference", None if box.difference is None else json_money(box.difference, digits)


def _target(report: Report) -> JsonObject:
    target, reached = report.plan.sale.target, report.event.share_out.reached
    return {
        "amount": json_money(target, report.plan.sale.digits),
        "reached": json_money(reached, report.plan.sale.digits),
        "share": float(reached / target) if target else 1.0,
    }
