"""The poster before the sale: what, when, where, for whom, and how much they hope to raise."""

from pathlib import Path

from salebook.plan.model import Sale
from salebook.prints.fitting import Fitted, fit
from salebook.prints.page import page_html
from salebook.prints.paper import PAPERS
from salebook.prints.wording import money
from salebook.reckoning import Reckoning
from salebook.sentences import about

MARGIN_MM = 20.0
TITLE_POINTS = 64.0
TITLE_HEIGHT_MM = 95.0
GROUP_POINTS = 26.0
GROUPS_HEIGHT_MM = 60.0
MOST_GROUP_POINTS_LINES = 2


def poster_html(reckoning: Reckoning, *, templates: Path | None = None) -> str:
    """Return the poster on the plan's paper, the title as large as there is room for.

    Raises TemplateFault for a faulty template, FileTrouble for a folder of templates that is not there.
    """
    plan = reckoning.plan
    width = PAPERS[plan.labels.page].width_mm - 2 * MARGIN_MM
    groups = [group.name for group in plan.beneficiaries]
    return page_html(
        "poster.html",
        plan,
        templates=templates,
        heading=_fitted(plan.sale.title, width, TITLE_HEIGHT_MM, TITLE_POINTS, 4),
        groups=tuple(
            _fitted(name, width, GROUPS_HEIGHT_MM / len(groups), GROUP_POINTS, MOST_GROUP_POINTS_LINES)
            for name in groups
        ),
        target=_target(plan.sale),
    )


def _target(sale: Sale) -> str:
    """Say the target, without its pence where it has none."""
    is_whole = sale.target == sale.target.to_integral_value()
    return about(sale.target, sale) if is_whole else money(sale.target, sale)


def _fitted(text: str, width_mm: float, height_mm: float, largest: float, most_lines: int) -> Fitted:
    fitted = fit(
        text, width_mm=width_mm, height_mm=height_mm, largest=largest, most_lines=most_lines, bold=True
    )
    return fitted or Fitted(points=10.0, lines=(text,))
