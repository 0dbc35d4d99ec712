"""Every print after the sale, by file name."""

from datetime import date
from pathlib import Path

from salebook.event.report import Report
from salebook.prints.after.collection import collection_html
from salebook.prints.after.letter import letter_file, letter_html
from salebook.prints.after.poster import poster_after_html
from salebook.prints.after.statement import statement_html
from salebook.prints.after.statement_csv import statement_csv
from salebook.prints.after.thanks import thanks_file, thanks_html

COLLECTION = "collection.html"


def prints_after(
    report: Report,
    *,
    today: date,
    with_hours: bool = False,
    with_people: bool = True,
    templates: Path | None = None,
) -> dict[str, str]:
    """Return all prints after the sale by file name; `with_people` adds the only one that names buyers.

    `today` is the day that stands on them.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    prints = {
        "statement.html": statement_html(report, today=today, with_hours=with_hours, templates=templates),
        "statement.csv": statement_csv(report),
    }
    for number, share in enumerate(report.event.share_out.groups, 1):
        prints[letter_file(share.group, number)] = letter_html(
            report, share, today=today, templates=templates
        )
    for number, giver in enumerate(report.givers, 1):
        prints[thanks_file(giver, number)] = thanks_html(report, giver, today=today, templates=templates)
    prints["poster-after.html"] = poster_after_html(report, templates=templates)
    if with_people:
        prints[COLLECTION] = collection_html(report, today=today, templates=templates)
    return prints
