"""The poster after the sale: what was raised, how far that is, and for whom."""

from dataclasses import dataclass
from pathlib import Path

from salebook.base.words import _
from salebook.event.progress import progress_of
from salebook.event.report import Report
from salebook.plan.paper import usual_page
from salebook.prints.after.page import account_html
from salebook.prints.before.poster import MARGIN_MM, fitted
from salebook.prints.paper import PAPERS
from salebook.prints.wording import money

TITLE_POINTS, TITLE_HEIGHT_MM = 44.0, 48.0
RAISED_POINTS, RAISED_HEIGHT_MM = 84.0, 40.0
GROUP_POINTS, GROUPS_HEIGHT_MM = 24.0, 72.0
PADDING_MM, PADDING_SHARE = 4.0, 0.2
"""Above and below a group's name: as much, but no more than this share of its row."""
NAMES_SHARE = 0.62
"""Of the width; the sums take the rest."""


@dataclass(frozen=True, kw_only=True)
class RaisedBy:
    """A group on the poster: its name in lines, and all that it received."""

    lines: tuple[str, ...]
    amount: str


def poster_after_html(report: Report, *, templates: Path | None = None) -> str:
    """Return the poster that thanks everybody, on the plan's paper.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    plan = report.plan
    sale, share_out = plan.sale, report.event.share_out
    width = PAPERS[usual_page(plan)].width_mm - 2 * MARGIN_MM
    row = GROUPS_HEIGHT_MM / len(plan.beneficiaries)
    padding = min(PADDING_MM, PADDING_SHARE * row)
    names = [
        fitted(group.name, width * NAMES_SHARE, row - 2 * padding, GROUP_POINTS, 2)
        for group in plan.beneficiaries
    ]
    progress = progress_of(plan, report.event.state, share_out)
    return account_html(
        "poster-after.html",
        report,
        templates=templates,
        heading=fitted(sale.title, width, TITLE_HEIGHT_MM, TITLE_POINTS, 3),
        raised=fitted(money(share_out.reached, sale), width, RAISED_HEIGHT_MM, RAISED_POINTS, 1),
        reached=min(100.0, float(progress.share_of_target * 100)),
        of_target=_of_target(report),
        group_padding=padding,
        group_points=min(name.points for name in names),
        groups=tuple(
            RaisedBy(lines=name.lines, amount=money(share.total + share.direct, sale))
            for name, share in zip(names, share_out.groups, strict=True)
        ),
    )


def _of_target(report: Report) -> str:
    sale, share_out = report.plan.sale, report.event.share_out
    if not sale.target:
        return ""
    percent = int(share_out.reached * 100 / sale.target)
    return _("{percent} % of the {target} that we hoped for").format(
        percent=percent, target=money(sale.target, sale)
    )
