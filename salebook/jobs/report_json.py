"""The answer of `salebook report --json`: the accounts as plain values, without a buyer's name anywhere."""

from collections.abc import Callable, Iterable
from dataclasses import asdict
from decimal import Decimal
from functools import partial

from salebook.accounts.lines import fingerprint_of
from salebook.event.bank import WayBanked
from salebook.event.cash_up import CashUp
from salebook.event.costs import CostMet
from salebook.event.report import Report
from salebook.event.stock import Stock
from salebook.jobs.price_json import JsonObject, json_money
from salebook.prints.after.page import status_lines

Money = Callable[[Decimal], str]


def report_json(report: Report) -> JsonObject:
    """Return the accounts as values that JSON holds: money as text with the currency's digits, counts whole.

    Takings are without what was paid straight to a group; `by_kind`, `by_payment` and `by_day` each add up to
    their total. "" in `by_payment` is money of which the way to pay is not known. `expected` cash is what was
    taken less what was paid out; where there are several tills each entry names its own. `status` says in
    words why the figures are not final, as the prints do; it is empty where nothing is to be said.
    `costs` are all, whoever meets them: whether each was planned, and whether what it really cost is known.
    In `stock` the price is null where only the sum of several pieces is known. In `bank` a way to pay is ""
    where none is named, and what arrived is null while nothing has.
    `notes` are what was understood although the workbook's own sheets may count it otherwise.
    """
    share_out = report.event.share_out
    money = partial(json_money, digits=report.plan.sale.digits)
    has_tills = len({box.till for box in report.cash_ups}) > 1
    return {
        "currency": report.plan.sale.currency,
        "final": report.is_final,
        "status": list(status_lines(report)),
        "takings": _takings(report, money),
        **_sums(share_out, ("fees", "costs_met_by_sale", "to_givers", "pool"), money),
        "costs": [_cost(cost, money) for cost in share_out.costs],
        "share_out": [
            {"name": share.group.name, **_sums(share, ("named", "share", "total", "paid", "to_pay"), money)}
            for share in share_out.groups
        ],
        "pieces": {
            standing: sum(getattr(totals, standing) for totals in report.event.state.piece_totals)
            for standing in ("here", "reserved", "deposit", "sold")
        },
        "stock": [_stock(stock, money) for stock in report.stock],
        "to_collect": sum(not waiting.is_sent for waiting in report.waiting),
        "to_send": sum(waiting.is_sent for waiting in report.waiting),
        "cash_up": [_cash_up(box, money, has_tills=has_tills) for box in report.cash_ups],
        "bank": [_banked(way, money) for way in report.banked],
        "target": _target(report, money),
        "fingerprint": fingerprint_of(report),
        "questions": [asdict(question) for question in report.questions],
        "notes": [asdict(note) for note in report.notes],
    }


def _sums(record: object, keys: Iterable[str], money: Money) -> JsonObject:
    amounts = {key: getattr(record, key) for key in keys}
    return {key: None if amount is None else money(amount) for key, amount in amounts.items()}


def _cost(cost: CostMet, money: Money) -> JsonObject:
    told = {"name": cost.line.name, "kind": cost.line.kind, "met_by": cost.line.met_by}
    return {**told, "amount": money(cost.amount), "planned": cost.is_planned, "actual": cost.is_actual}


def _takings(report: Report, money: Money) -> JsonObject:
    received = report.received
    return {
        "total": money(report.event.share_out.takings),
        "by_kind": {kind: money(amount) for kind, amount in received.by_kind.items()},
        "by_payment": {way: money(amount) for way, amount in received.by_way.items()},
        "by_day": {day.isoformat(): money(amount) for day, amount in received.by_day.items()},
    }


def _cash_up(box: CashUp, money: Money, *, has_tills: bool) -> JsonObject:
    return {
        "day": box.day.isoformat(),
        **({"till": box.till} if has_tills else {}),
        "float": money(box.float_),
        **_sums(box, ("expected", "counted", "difference"), money),
    }


def _stock(stock: Stock, money: Money) -> JsonObject:
    counts = ("made", "given_away", "lost", "left", "sold")
    return {
        "code": stock.code,
        "name": stock.name,
        **{key: getattr(stock, key) for key in counts},
        "sold_at": [
            {"count": some.count, **_sums(some, ("price", "amount"), money)} for some in stock.sold_at
        ],
    }


def _banked(way: WayBanked, money: Money) -> JsonObject:
    sums = ("taken", "fee", "paid_out", "found", "expected", "arrived", "difference")
    return {"way": way.name, **_sums(way, sums, money), "reason": way.reason, "open": way.is_open}


def _target(report: Report, money: Money) -> JsonObject:
    target, reached = report.plan.sale.target, report.event.share_out.reached
    share = float(reached / target) if target else 1.0
    return {"amount": money(target), "reached": money(reached), "share": share}
