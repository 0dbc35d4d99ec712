"""The sheet Cautions: what can hurt someone or trip up an honest sale, and whose rule comes first."""

from typing import Final

from salebook.base.words import _
from salebook.book.page import Book, Page
from salebook.book.sheets.row_height import fitted_row, new_page
from salebook.event.event import Event
from salebook.reckoning import Reckoning
from salebook.say.cautions import DEFERS, TOPICS, Topic, cautions_on

WIDTHS: Final = (3, 21, 62, 24, 34)
FIRST_OF_SECOND_PAGE: Final = "food"


def write_cautions(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Cautions; it is the same for every sale."""
    del reckoning, event
    page = book.page(_("Cautions"), widths=WIDTHS, landscape=True)
    page.title(_("Cautions"), _(DEFERS))
    for topic, heading in TOPICS.items():
        if topic == FIRST_OF_SECOND_PAGE:
            new_page(page)
        _write_topic(page, topic, _(heading))


def _write_topic(page: Page, topic: Topic, heading: str) -> None:
    page.band(heading)
    page.headings(
        ["about", "caution", "decides", "source"],
        [_("About"), _("Caution"), _("Whose rule comes first"), _("Source")],
        section=f"cautions {topic}",
    )
    for caution in cautions_on(topic):
        fitted_row(
            page,
            (
                (_(caution.about), "strong wrapped"),
                (_(caution.text), "label wrapped"),
                (_(caution.decides), "label wrapped"),
                (caution.source, "note wrapped"),
            ),
        )
    page.row += 1
