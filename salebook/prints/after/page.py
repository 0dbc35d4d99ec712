"""What stands on every print after the sale: that its figures are not final, or of some days only."""

from collections.abc import Iterator

from salebook.base.words import _
from salebook.event.report import Report
from salebook.prints.wording import day_in_full


def status_lines(report: Report) -> Iterator[str]:
    """Say that figures are not final, that they are of some days only, or that there is nothing to share."""
    sale = report.plan.sale
    if report.questions:
        lines = counted(report.to_look_at, _("1 line needs a look"), _("{count} lines need a look"))
        yield _("Not final: {lines}.").format(lines=lines)
    if report.up_to:
        says = _("Interim: as it stood on the evening of {day}; costs as they are known now.")
        yield says.format(day=day_in_full(report.up_to, sale.locale))
    if report.missing:
        says = _("Nothing to share yet: {sum} is missing until the takings meet what comes off them.")
        yield says.format(sum=sale.format_money(report.missing))


def counted(count: int, one: str, more: str) -> str:
    """Say how many there are."""
    return one if count == 1 else more.format(count=count)
