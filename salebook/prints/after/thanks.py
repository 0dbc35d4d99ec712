"""Thanks to somebody who gave pieces: what they raised, and what goes back to the giver."""

from datetime import date

from salebook.event.givers import Giver
from salebook.event.report import Report
from salebook.prints.after.page import status_lines
from salebook.prints.render import Printer


def thanks_html(printer: Printer, report: Report, giver: Giver, *, today: date) -> str:
    """Return the thanks to one giver, dated `today`."""
    return printer.fill(
        "thanks.html",
        status=tuple(status_lines(report)),
        today=today,
        giver=giver,
        groups=report.plan.beneficiaries,
        takes_back=any(given.sold < given.given.count for given in giver.pieces),
    )
