"""The letter to each group: what it gets and how that was reached; thanks to each giver of pieces."""

from collections.abc import Iterator
from datetime import date

from salebook.accounts.lines import fingerprint_of
from salebook.base.words import _, ngettext
from salebook.event.givers import Giver
from salebook.event.receipts import ready_to_pay, to_pay
from salebook.event.report import Report
from salebook.event.share_out import GroupShare
from salebook.plan.model import Sale
from salebook.plan.money import in_cash
from salebook.prints.after.page import status_lines, taken_off
from salebook.prints.after.shares import share_words
from salebook.prints.after.statement import given_back_since_paid
from salebook.prints.render import Printer


def letter_html(printer: Printer, report: Report, share: GroupShare, *, today: date) -> str:
    """Return the letter to the group of one share, dated `today`."""
    payments = [paid for paid in report.event.entries.payments if paid.group == share.group.name]
    return printer.fill(
        "letter.html",
        status=tuple(status_lines(report)),
        today=today,
        fingerprint=fingerprint_of(report),
        group=share.group,
        groups=report.plan.beneficiaries,
        share=share,
        reached_by=share_words(report)[share.group.name],
        missing=report.missing,
        share_out=report.event.share_out,
        sold_and_given=tuple(_sold_and_given(report)),
        off=taken_off(report),
        payments=payments,
        to_pay=(*given_back_since_paid(report, payments), *_to_pay(report, share)),
    )


def _sold_and_given(report: Report) -> Iterator[str]:
    """Say how many pieces were sold and how often money was given; nothing of what nobody did."""
    sold, given = sum(totals.sold for totals in report.event.state.piece_totals), report.gifts
    if sold:
        yield ngettext("{count} piece was sold.", "{count} pieces were sold.", sold).format(count=sold)
    if given:
        says = ngettext("Money was given {count} time.", "Money was given {count} times.", given)
        yield says.format(count=given)


def _to_pay(report: Report, share: GroupShare) -> Iterator[str]:
    """Say what is still to pay and how, or what was paid too much."""
    sale = report.plan.sale
    comes_late = any(taken.waiting for taken in report.event.share_out.ways)
    if share.overpaid:
        yield _too_much(share, sale, comes_late=comes_late)
    elif not share.to_pay:
        yield _("Nothing is left to pay.") if share.total else _("You owe nothing, and nothing is to pay.")
    else:
        yield _when(report, share)
    if comes_late and not share.overpaid:
        yield _(
            "Some money is promised and has not arrived yet: your part of it follows as a second payment."
        )
    cash = in_cash(share.to_pay, sale.currency)
    if share.to_pay > 0 and cash != share.to_pay:
        says = _("Please take it by transfer: in coins it can only be paid as {cash}.")
        yield says.format(cash=sale.format_money(cash))


def _too_much(share: GroupShare, sale: Sale, *, comes_late: bool) -> str:
    says = (
        _(
            "You were paid {paid} and get {total}: {sum} too much. Some money is promised and has "
            "not arrived yet: keep the {sum} until then, it is taken off your part of that."
        )
        if comes_late
        else _("You were paid {paid} and get {total}: {sum} too much. Please pay the {sum} back to us.")
    )
    amounts = {"paid": share.paid, "total": share.total, "sum": share.overpaid}
    return says.format(**{name: sale.format_money(amount) for name, amount in amounts.items()})


def _when(report: Report, share: GroupShare) -> str:
    sale, share_out = report.plan.sale, report.event.share_out
    amount = sale.format_money(share.to_pay)
    says = (
        _("{amount} is still to pay. It lies in the bank and goes to the account that you named.")
        if ready_to_pay(report.event.entries, share_out) >= to_pay(share_out)
        else _("{amount} is still to pay: to the account that you named, once the takings are in the bank.")
    )
    return says.format(amount=amount)


def thanks_html(printer: Printer, report: Report, giver: Giver, *, today: date) -> str:
    """Return the thanks to one giver, dated `today`: what the pieces raised, and what goes back."""
    return printer.fill(
        "thanks.html",
        status=tuple(status_lines(report)),
        today=today,
        giver=giver,
        groups=report.plan.beneficiaries,
        takes_back=any(given.sold < given.given.count for given in giver.pieces),
    )
