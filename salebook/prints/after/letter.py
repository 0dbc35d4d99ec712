"""The letter to one group: what it gets, how that was reached, when and how it is paid, and thanks."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from salebook.base.words import _
from salebook.event.receipts import ready_to_pay, to_pay
from salebook.event.report import Report
from salebook.event.share_out import GroupShare
from salebook.plan.cash import in_cash
from salebook.plan.model import Beneficiary
from salebook.prints.after.page import Row, account_html, counted, figure, format_day
from salebook.prints.after.statement import all_off, rows_off, too_much
from salebook.prints.file_name import file_name
from salebook.prints.wording import money, part_label


@dataclass(frozen=True, kw_only=True)
class PaymentRow:
    """A payment to the group, as it is printed."""

    day: str
    amount: str


def letter_html(report: Report, share: GroupShare, *, today: date, templates: Path | None = None) -> str:
    """Return the letter to the group of one share, dated `today`.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    plan = report.plan
    sale, share_out = plan.sale, report.event.share_out
    return account_html(
        "letter.html",
        report,
        templates=templates,
        today=format_day(today, sale),
        group=share.group,
        amount=money(share.total, sale),
        bought=_bought(report),
        takings=figure(share_out.takings, sale),
        off=tuple(rows_off(report)),
        all_off=figure(all_off(share_out), sale),
        pool=figure(share_out.pool, sale),
        own=tuple(_own(report, share)),
        total=figure(share.total, sale),
        direct=money(share.direct, sale) if share.direct else "",
        payments=tuple(_payments(report, share.group)),
        to_pay=tuple(_to_pay(report, share)),
    )


def letter_file(group: Beneficiary, number: int) -> str:
    """Return the file name of a group's letter: its place in the plan and its name in plain letters."""
    return file_name("letter", number, group.name)


def _bought(report: Report) -> str:
    """Say how many bought and gave."""
    people = report.people
    bought = counted(people.purchases, _("1 purchase"), _("{count} purchases"))
    given = counted(people.gifts, _("1 gift of money"), _("{count} gifts of money"))
    return _("{bought} and {given} stand behind it.").format(bought=bought, given=given)


def _own(report: Report, share: GroupShare) -> Iterator[Row]:
    """Yield what the group gets of the money to share, and what was given for it by name."""
    sale = report.plan.sale
    part = part_label(share.group, report.plan.beneficiaries)
    yield Row(label=_("Your share"), note=part, amount=figure(share.share, sale))
    if share.named:
        yield Row(label=_("Given for you by name"), amount=figure(share.named, sale))


def _payments(report: Report, group: Beneficiary) -> Iterator[PaymentRow]:
    sale = report.plan.sale
    for payment in report.event.entries.payments:
        if payment.group == group.name:
            yield PaymentRow(day=format_day(payment.day, sale), amount=figure(payment.amount, sale))


def _to_pay(report: Report, share: GroupShare) -> Iterator[str]:
    """Say what is still to pay, and how."""
    sale = report.plan.sale
    if share.to_pay < 0:
        yield too_much(share, sale)
    if share.to_pay <= 0:
        return
    yield _when(report, share)
    if _is_waiting(report):
        yield _(
            "Some money is promised and has not arrived yet: your part of it follows as a second payment."
        )
    cash = in_cash(share.to_pay, sale.currency)
    if cash != share.to_pay:
        says = _("Please take it by transfer: in coins it can only be paid as {cash}.")
        yield says.format(cash=money(cash, sale))


def _when(report: Report, share: GroupShare) -> str:
    sale, share_out = report.plan.sale, report.event.share_out
    amount = money(share.to_pay, sale)
    says = (
        _("{amount} is still to pay. It lies in the bank and goes to the account that you named.")
        if ready_to_pay(report.event.entries, share_out) >= to_pay(share_out)
        else _("{amount} is still to pay: to the account that you named, once the takings are in the bank.")
    )
    return says.format(amount=amount)


def _is_waiting(report: Report) -> bool:
    return any(taken.waiting for taken in report.event.share_out.ways)
