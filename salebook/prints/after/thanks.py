"""Thanks to somebody who gave pieces: what they raised, and what goes back to the giver."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from salebook.base.words import _
from salebook.event.givers import Giver
from salebook.event.report import Report
from salebook.plan.quantities import plain
from salebook.prints.after.page import account_html, figure, format_day
from salebook.prints.file_name import file_name
from salebook.prints.wording import listed, money


@dataclass(frozen=True, kw_only=True)
class GivenRow:
    """One kind of piece that was given, as it is printed."""

    name: str
    sold: str
    paid: str
    keeps: str
    raised: str


def thanks_html(report: Report, giver: Giver, *, today: date, templates: Path | None = None) -> str:
    """Return the thanks to one giver, dated `today`.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    sale = report.plan.sale
    return account_html(
        "thanks.html",
        report,
        templates=templates,
        today=format_day(today, sale),
        giver=giver.name,
        raised=money(giver.raised, sale) if giver.raised > 0 else "",
        groups=listed([group.name for group in report.plan.beneficiaries], sale),
        rows=tuple(_rows(report, giver)),
        all_raised=figure(giver.raised, sale),
        keeps_any=bool(giver.to_giver),
        to_giver=money(giver.to_giver, sale) if giver.to_giver else "",
        takes_back=any(given.sold < given.given.count for given in giver.pieces),
    )


def thanks_file(giver: Giver, number: int) -> str:
    """Return the file name of the thanks to a giver: a number and the giver's name in plain letters."""
    return file_name("thanks", number, giver.name)


def _rows(report: Report, giver: Giver) -> Iterator[GivenRow]:
    sale = report.plan.sale
    for given in giver.pieces:
        keeps = given.given.keeps
        yield GivenRow(
            name=given.given.name,
            sold=_("{sold} of {count}").format(sold=given.sold, count=given.given.count),
            paid=figure(given.paid, sale),
            keeps=_("{sum} ({percent} %)").format(
                sum=figure(given.to_giver, sale), percent=plain(keeps * 100)
            )
            if keeps
            else "",
            raised=figure(given.raised, sale),
        )
