"""The count of the table on Cash-up."""

from salebook.book.page import Page
from salebook.event.event import Event
from salebook.reckoning import Reckoning


def write_table_count(page: Page, reckoning: Reckoning, event: Event) -> None:
    """Write the count."""
