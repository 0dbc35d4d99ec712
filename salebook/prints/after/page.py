"""What stands on every print after the sale: that its figures are not final, or of some days only."""

from collections.abc import Iterator

from salebook.base.words import _, ngettext
from salebook.event.report import Report
from salebook.prints.wording import day_in_full


def status_lines(report: Report) -> Iterator[str]:
    """Say that figures are not final, that they are of some days only, or that there is nothing to share."""
    sale = report.plan.sale
    if report.questions:
        says = ngettext(
            "Not final: {count} line needs a look.",
            "Not final: {count} lines need a look.",
            report.to_look_at,
        )
        yield says.format(count=report.to_look_at)
    if report.up_to:
        says = _("Interim: as it stood on the evening of {day}; costs as they are known now.")
        yield says.format(day=day_in_full(report.up_to, sale.locale))
    if report.missing:
        says = _("Nothing to share yet: {sum} is missing until the takings meet what comes off them.")
        yield says.format(sum=sale.format_money(report.missing))
