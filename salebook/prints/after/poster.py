"""The poster after the sale: what was raised, how far that is, and for whom."""

from salebook.accounts.lines import fingerprint_of
from salebook.event.progress import progress_of
from salebook.event.report import Report
from salebook.prints.after.page import status_lines
from salebook.prints.before.poster import MARGIN_MM, in_large_letters
from salebook.prints.render import Printer

TITLE_POINTS, TITLE_HEIGHT_MM = 44.0, 48.0
RAISED_POINTS, RAISED_HEIGHT_MM = 84.0, 40.0
GROUP_POINTS, GROUPS_HEIGHT_MM = 24.0, 72.0
PADDING_MM, PADDING_SHARE = 4.0, 0.2
"""Above and below a group's name: as much, but no more than this share of its row."""
NAMES_SHARE = 0.62
"""Of the width; the sums take the rest."""


def poster_after_html(printer: Printer, report: Report) -> str:
    """Return the poster that thanks everybody, on the plan's paper."""
    plan = report.plan
    sale, share_out = plan.sale, report.event.share_out
    width = printer.paper.width_mm - 2 * MARGIN_MM
    row = GROUPS_HEIGHT_MM / len(plan.beneficiaries)
    padding = min(PADDING_MM, PADDING_SHARE * row)
    names = [
        in_large_letters(group.name, width * NAMES_SHARE, row - 2 * padding, GROUP_POINTS, most_lines=2)
        for group in plan.beneficiaries
    ]
    raised = sale.format_money(share_out.reached)
    progress = progress_of(plan, report.event.state, share_out)
    return printer.fill(
        "poster-after.html",
        status=tuple(status_lines(report)),
        fingerprint=fingerprint_of(report),
        heading=in_large_letters(sale.title, width, TITLE_HEIGHT_MM, TITLE_POINTS, most_lines=3),
        raised=in_large_letters(raised, width, RAISED_HEIGHT_MM, RAISED_POINTS),
        reached=min(100.0, float(progress.share_of_target * 100)),
        percent=int(share_out.reached * 100 / sale.target) if sale.target else None,
        group_padding=padding,
        group_points=min(name.points for name in names),
        groups=tuple(zip(names, share_out.groups, strict=True)),
    )
