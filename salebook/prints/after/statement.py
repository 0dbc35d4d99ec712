"""The statement for all groups: what came in, what came off and why, how it was shared, who counted."""

from collections.abc import Iterator, Sequence
from datetime import date
from decimal import Decimal
from functools import partial

from babel.numbers import format_decimal

from salebook.accounts.lines import fingerprint_of
from salebook.base.words import _, ngettext
from salebook.event.entries import GroupPayment
from salebook.event.receipts import banked, given_back, ready_to_pay, to_pay
from salebook.event.report import Report
from salebook.event.stock import PieceMoney, SoldAt, Stock, piece_money
from salebook.plan.model import Sale
from salebook.plan.money import ZERO, cash_step, in_units, rounded
from salebook.prints.after.page import in_figures, nothing_to_share, reason_label, status_lines, taken_off
from salebook.prints.after.shares import left_over_sentence, share_words
from salebook.prints.render import Printer
from salebook.prints.wording import day_in_full, listed

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
        missing=report.missing,
        reached_by=share_words(report),
        still_to_pay=to_pay(share_out),
        all_overpaid=sum((share.overpaid for share in share_out.groups), ZERO),
        off=taken_off(report),
        boxes=boxes,
        counts={(count.day, count.till): count for count in report.event.entries.cash},
        has_paid_out=any(box.paid_out for box in boxes),
        has_tills=len({box.till for box in boxes}) > 1,
        small_coins=_small_coins(report.plan.sale),
        banked=report.banked,
        bank_columns={
            key for key in ("fee", "paid_out", "found") for way in report.banked if getattr(way, key)
        },
        reason=reason_label,
        stock=report.stock,
        prices=partial(_prices, sale=report.plan.sale),
        beside=tuple(_beside_prices(piece_money(report.event.state))),
        for_pieces=piece_money(report.event.state).in_takings,
        as_planned=[stock.name for stock in report.stock if not stock.is_counted],
        in_kind=[cost for cost in report.event.share_out.costs if cost.line.met_by != "sale" and cost.amount],
        hours=_hours(report) if with_hours else "",
        later=tuple(filter(None, (left_over_sentence(report), *still_open(report)))),
    )


def _prices(stock: Stock, sale: Sale) -> str:
    """Say at which prices pieces were sold, such as "20 at 18.00 and 2 at 15.00"."""
    return listed([_sold_at(some, sale) for some in stock.sold_at], sale.locale)


def _sold_at(some: SoldAt, sale: Sale) -> str:
    if some.price is None:
        says = _("{count} for {sum} in all")
    else:
        says = _("{count} at {sum}") if some.price else _("{count} paid ahead")
    return says.format(count=some.count, sum=in_figures(some.price or some.amount, sale))


def _beside_prices(money: PieceMoney) -> Iterator[tuple[str, Decimal]]:
    """Yield what leads from the prices of the pieces sold to what the takings have for pieces."""
    named = (
        (_("Part paid, not sold yet"), money.part_paid),
        (_("Paid on orders"), money.on_orders),
        (_("On lines that name no piece"), money.without_piece),
        (_("less: not arrived yet"), -money.waiting),
        (_("less: paid straight to a group"), -money.straight),
    )
    yield from ((what, amount) for what, amount in named if amount)


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


def still_open(report: Report) -> Iterator[str]:
    """Say what has not arrived, what is to pay and lies in the bank, and what was paid too much."""
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
    for share in share_out.groups:
        if share.overpaid:
            says = _("{group} was paid {paid} and gets {total}: {sum} too much, which should come back.")
            yield says.format(
                group=share.group.name,
                paid=sale.format_money(share.paid),
                total=sale.format_money(share.total),
                sum=sale.format_money(share.overpaid),
            )
    yield from given_back_since_paid(report, report.event.entries.payments)


def given_back_since_paid(report: Report, payments: Sequence[GroupPayment]) -> Iterator[str]:
    """Say what buyers were given back since the first of some payments: by so much less is shared."""
    first = min((payment.day for payment in payments), default=None)
    back = given_back(report.event.state, first) if first else ZERO
    if first and back > 0:
        sale = report.plan.sale
        says = _("Since the first payment, on {day}, buyers were given back {sum}: that is taken off here.")
        yield says.format(day=day_in_full(first, sale.locale), sum=sale.format_money(back))


def told(report: Report) -> Iterator[str]:
    """Yield what a terminal says of the accounts: how they stand, what is open, how the bank agrees."""
    yield from sentences(report)
    if report.missing:
        yield nothing_to_share(report)
    yield from still_open(report)
    yield from _on_the_bank(report)


def _on_the_bank(report: Report) -> Iterator[str]:
    sale = report.plan.sale
    more = _("{way}: {sum} more arrived in the bank than should, and nobody says why (Cash-up).")
    less = _("{way}: {sum} less arrived in the bank than should, and nobody says why (Cash-up).")
    for way in report.banked:
        if way.is_open and way.name and way.difference:
            says = more if way.difference > 0 else less
            yield says.format(way=way.name, sum=sale.format_money(abs(way.difference)))
        elif way.is_open:
            says = _(
                "{sum} arrived in the bank by no way to pay that is named (Cash-up). In all {arrived} "
                "arrived, and {expected} should."
            )
            yield says.format(
                sum=sale.format_money(way.arrived or ZERO),
                arrived=sale.format_money(banked(report.event.entries)),
                expected=sale.format_money(sum((each.expected for each in report.banked), ZERO)),
            )
