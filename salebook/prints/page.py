"""What every print on plain paper has in common."""

from pathlib import Path

from salebook.plan.model import Plan
from salebook.plan.paper import usual_page
from salebook.prints.paper import PAPERS
from salebook.prints.render import render
from salebook.prints.wording import format_days, plan_language, words_language


def page_html(template: str, plan: Plan, *, templates: Path | None = None, **values: object) -> str:
    """Return a print on the plan's paper: its template filled in with the sale's head and further values.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    return render(
        template,
        templates=templates,
        sale=plan.sale,
        days=format_days(plan.sale),
        paper=PAPERS[usual_page(plan)],
        words_lang=words_language(),
        plan_lang=plan_language(plan.sale),
        **values,
    )
