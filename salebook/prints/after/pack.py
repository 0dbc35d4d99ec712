"""Every print after the sale, by file name."""

from datetime import date

from salebook.event.report import Report
from salebook.prints.after.check import check_html
from salebook.prints.after.collection import collection_html
from salebook.prints.after.letter import letter_html, thanks_html
from salebook.prints.after.poster import poster_after_html
from salebook.prints.after.statement import statement_html
from salebook.prints.after.statement_csv import statement_csv
from salebook.prints.file_name import file_name
from salebook.prints.render import Printer

COLLECTION = "collection.html"
CHECK = "check.html"
"""The only one that is no print on paper: it adds the list of lines up again."""


def prints_after(
    printer: Printer,
    report: Report,
    *,
    today: date,
    with_hours: bool = False,
    with_people: bool = True,
) -> dict[str, str]:
    """Return all prints after the sale by file name; `with_people` adds the only one that names buyers.

    `today` is the day that stands on them.

    Raises TemplateFaultError for a faulty template.
    """
    prints = {
        "statement.html": statement_html(printer, report, today=today, with_hours=with_hours),
        "statement.csv": statement_csv(report),
    }
    for number, share in enumerate(report.event.share_out.groups, 1):
        letter = file_name("letter", number, share.group.name)
        prints[letter] = letter_html(printer, report, share, today=today)
    for number, giver in enumerate(report.givers, 1):
        thanks = file_name("thanks", number, giver.name)
        prints[thanks] = thanks_html(printer, report, giver, today=today)
    prints["poster-after.html"] = poster_after_html(printer, report)
    prints[CHECK] = check_html(printer)
    if with_people:
        prints[COLLECTION] = collection_html(printer, report, today=today)
    return prints
