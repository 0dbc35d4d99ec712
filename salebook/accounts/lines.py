"""The list of lines of a sale: everything that counts in the accounts, without a person's name.

Names, contacts and notes are not there, nor is what was typed and not understood, which might be a name.
"""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from salebook.accounts.fingerprint import fingerprint
from salebook.accounts.row import MONEY, Arrived, Row, Status
from salebook.accounts.values import tidy
from salebook.event.posted_line import PostedLine
from salebook.event.report import Report
from salebook.plan.money import ZERO, rounded


def lines_of(report: Report) -> tuple[Row, ...]:
    """Return the list of lines behind the accounts."""
    return tuple(_tidied(row) for row in _rows(report))


def fingerprint_of(report: Report) -> str:
    """Return the fingerprint of the list behind the accounts."""
    return fingerprint(lines_of(report))


def _tidied(row: Row) -> Row:
    return replace(row, **{key: tidy(text) for key, text in vars(row).items() if key not in MONEY})


def _rows(report: Report) -> Iterator[Row]:
    sale = report.plan.sale
    last = report.up_to or max((*sale.days, *(line.day for line in report.event.state.lines)))
    yield Row(part="sale", day=last.isoformat(), kind=_status(report), what=sale.title)
    yield Row(part="currency", kind=sale.currency, parts=str(10**sale.digits))
    for part in (_taken, _fees, _costs, _givers, _shares, _paid):
        yield from part(report)


def _status(report: Report) -> Status:
    if report.up_to:
        return "interim"
    return "final" if report.is_final else "not final"


def _taken(report: Report) -> Iterator[Row]:
    for line in report.event.state.lines:
        yield line_row(line, report.plan.sale.digits)


def line_row(line: PostedLine, digits: int) -> Row:
    """Return the row of one line of takings."""
    return Row(
        part="line",
        till=line.line.till,
        line=str(line.line.number),
        day=line.day.isoformat(),
        kind=line.kind,
        piece=line.piece_number if line.index or line.ware else "",
        what=line.name,
        count=str(line.count) if line.count else "",
        list_price="" if line.list_price is None else amount_of(line.list_price, digits),
        amount=amount_of(line.amount, digits),
        gift=amount_of(line.gift, digits) if line.gift else "",
        way=line.way,
        group=line.paid_to or line.group,
        to_group=amount_of(line.named, digits) if line.named else "",
        arrived=_arrived(line),
    )


def _arrived(line: PostedLine) -> Arrived:
    if line.line.waiting:
        return "no"
    return "straight" if line.straight else "yes"


def _fees(report: Report) -> Iterator[Row]:
    digits = report.plan.sale.digits
    for taken in report.event.share_out.ways:
        if taken.fee:
            yield Row(part="fee", way=taken.payment.name, amount=amount_of(-taken.fee, digits))


def _costs(report: Report) -> Iterator[Row]:
    digits = report.plan.sale.digits
    for cost in report.event.share_out.costs:
        if cost.line.met_by == "sale" and cost.amount:
            amount = amount_of(-cost.amount, digits)
            yield Row(part="cost", kind=cost.line.kind, what=cost.line.name, amount=amount)


def _givers(report: Report) -> Iterator[Row]:
    for given in report.plan.donated:
        own = [piece for piece in report.event.state.pieces if piece.piece.code == given.code]
        to_giver = sum((piece.to_giver for piece in own), ZERO)
        if to_giver:
            amount = amount_of(-to_giver, report.plan.sale.digits)
            yield Row(part="giver", piece=given.code, what=given.name, amount=amount)


def _shares(report: Report) -> Iterator[Row]:
    for place, share in enumerate(report.event.share_out.groups, start=1):
        yield Row(
            part="share",
            line=str(place),
            group=share.group.name,
            amount=amount_of(-share.share, report.plan.sale.digits),
            parts=str(share.group.parts),
        )


def _paid(report: Report) -> Iterator[Row]:
    names = {group.name for group in report.plan.beneficiaries}
    for paid in report.event.entries.payments:
        if paid.group in names:
            amount = amount_of(paid.amount, report.plan.sale.digits)
            yield Row(part="paid", day=paid.day.isoformat(), group=paid.group, amount=amount)


def amount_of(amount: Decimal, digits: int) -> str:
    """Return an amount as the list writes it."""
    money = rounded(amount, digits)
    return f"{money if money else abs(money):.{digits}f}"
