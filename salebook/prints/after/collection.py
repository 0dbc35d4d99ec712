"""What is still to hand over: a list for the maker and a slip for each person; the only print with names."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from salebook.base.words import _
from salebook.event.report import Report
from salebook.event.waiting import Waiting
from salebook.plan.cash import in_cash
from salebook.prints.after.page import account_html, figure, format_day
from salebook.prints.wording import money


@dataclass(frozen=True, kw_only=True)
class Slip:
    """One claim, as it is printed."""

    claim: str
    name: str
    contact: str
    what: str
    things: tuple[str, ...]
    how: str
    paid: str
    to_pay: str
    to_pay_said: str
    in_coins: str


def collection_html(report: Report, *, today: date, templates: Path | None = None) -> str:
    """Return the list, as it stands `today`, and the slips of what is to fetch and to send.

    Holds names and contacts.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    slips = sorted(report.waiting, key=lambda waiting: waiting.is_sent)
    return account_html(
        "collection.html",
        report,
        templates=templates,
        today=format_day(today, report.plan.sale),
        slips=tuple(_slip(waiting, report) for waiting in slips),
    )


def _slip(waiting: Waiting, report: Report) -> Slip:
    sale, claim = report.plan.sale, waiting.claim
    cash = in_cash(waiting.to_pay, sale.currency)
    return Slip(
        claim=claim.claim.strip(),
        name=claim.name.strip(),
        contact=claim.contact.strip(),
        what=claim.what.strip(),
        things=tuple(_things(waiting)),
        how=_("to send") if waiting.is_sent else _("to fetch"),
        paid=figure(waiting.paid, sale),
        to_pay=figure(waiting.to_pay, sale),
        to_pay_said=money(waiting.to_pay, sale) if waiting.to_pay else _("nothing, all is paid"),
        in_coins="" if cash == waiting.to_pay else money(cash, sale),
    )


def _things(waiting: Waiting) -> Iterator[str]:
    for piece in waiting.pieces:
        yield f"{piece.piece.number} {piece.piece.name}"
    for name, count in waiting.to_make.items():
        yield _("ordered: {count} × {name}").format(count=count, name=name)
