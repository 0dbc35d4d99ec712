"""The sheet Cautions: what can hurt someone or trip up an honest sale, and whose rule comes first."""

from typing import Final

from salebook.base.words import N_, _
from salebook.book.page import Book
from salebook.book.row_height import new_page
from salebook.book.table import Table
from salebook.event.event import Event
from salebook.reckoning import Reckoning
from salebook.say.cautions import DEFERS, TOPICS, Caution, cautions_on

WIDTHS: Final = (3, 21, 62, 24, 34)
FIRST_OF_SECOND_PAGE: Final = "food"


def cautions_table() -> Table[Caution]:
    """Declare the cautions on a topic; each topic has a part of its own."""
    table: Table[Caution] = Table("cautions", N_("Cautions"), fitted=True)
    table.fixed("about", _("About"), "strong wrapped", lambda caution: _(caution.about))
    table.fixed("caution", _("Caution"), "label wrapped", lambda caution: _(caution.text))
    table.fixed("decides", _("Whose rule comes first"), "label wrapped", lambda caution: _(caution.decides))
    table.fixed("source", _("Source"), "note wrapped")
    return table


def write_cautions(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Cautions; it is the same for every sale."""
    del reckoning, event
    page = book.page(N_("Cautions"), widths=WIDTHS, landscape=True)
    page.title(_("Cautions"), _(DEFERS))
    for topic, heading in TOPICS.items():
        if topic == FIRST_OF_SECOND_PAGE:
            new_page(page)
        page.band(_(heading))
        cautions_table().write(page, cautions_on(topic), part=topic)
        page.row += 1
