"""The page of an evening: what the day's lines come to and their fingerprint, for two people to sign."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from salebook.accounts.lines import lines_of
from salebook.accounts.row import Row
from salebook.accounts.sums import money_of, sums_of
from salebook.accounts.verification import days_of
from salebook.base.errors import WrongUseError
from salebook.base.words import _
from salebook.event.breakdown import KINDS
from salebook.event.entries import LineKind
from salebook.event.report import Report
from salebook.plan.money import ZERO
from salebook.prints.after.page import status_lines
from salebook.prints.render import Printer
from salebook.prints.wording import day_in_full, listed


@dataclass(frozen=True, kw_only=True)
class KindOfLines:
    """The lines of one kind: how many, the pieces that they move, the money that came in."""

    kind: LineKind
    lines: int
    pieces: int
    money: Decimal


def evening_name(day: date) -> str:
    """Return the file name of an evening's page."""
    return f"evening-{day.isoformat()}.html"


def evening_html(printer: Printer, report: Report, day: date, *, today: date) -> str:
    """Return the page of one day's evening, dated `today`.

    Raises WrongUseError where no line is of that day.
    """
    lines = [row for row in lines_of(report) if row.part == "line" and row.day == day.isoformat()]
    if not lines:
        raise WrongUseError(_no_line(report, day))
    boxes = tuple(box for box in report.cash_ups if box.day == day)
    return printer.fill(
        "evening.html",
        status=tuple(status_lines(report)),
        today=today,
        day=day,
        kinds=_kinds(lines),
        sums=sums_of(lines, report.plan.sale.digits),
        straight=sum((money_of(line) for line in lines if line.arrived == "straight"), ZERO),
        fingerprints=tuple(days_of(lines, report.plan.sale.digits)),
        boxes=tuple(box for box in boxes if not box.is_empty),
    )


def _kinds(lines: Sequence[Row]) -> tuple[KindOfLines, ...]:
    by_kind = {kind: [line for line in lines if line.kind == kind] for kind in KINDS}
    return tuple(
        KindOfLines(
            kind=kind,
            lines=len(of_kind),
            pieces=sum(int(line.count or 0) for line in of_kind),
            money=sum((money_of(line) for line in of_kind if line.arrived == "yes"), ZERO),
        )
        for kind, of_kind in by_kind.items()
        if of_kind
    )


def _no_line(report: Report, day: date) -> str:
    locale = report.plan.sale.locale
    days = sorted({line.day for line in report.event.state.lines})
    if not days:
        return _("--evening: the book has no line of takings yet.")
    says = _("--evening: no line of takings is of {day}; there are lines of {days}.")
    return says.format(
        day=day_in_full(day, locale), days=listed([day_in_full(one, locale) for one in days], locale)
    )
