"""What is still to hand over: a list for the maker and a slip for each person; the only print with names."""

from collections.abc import Iterator
from datetime import date

from salebook.base.words import _
from salebook.event.claims import ClaimState
from salebook.event.report import Report
from salebook.prints.after.page import status_lines
from salebook.prints.render import Printer


def collection_html(printer: Printer, report: Report, *, today: date) -> str:
    """Return the list, as it stands `today`, and slips of what is to fetch and to send, with names."""
    return printer.fill(
        "collection.html",
        status=tuple(status_lines(report)),
        today=today,
        slips=sorted(report.waiting, key=lambda waiting: waiting.is_sent),
        things=_things,
    )


def _things(waiting: ClaimState) -> Iterator[str]:
    for piece in waiting.to_hand_over:
        yield f"{piece.piece.number} {piece.piece.name}"
    for name, count in waiting.to_make.items():
        yield _("ordered: {count} × {name}").format(count=count, name=name)
