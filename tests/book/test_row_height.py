"""Where pages of a sheet begin in print."""

import pytest

from salebook.book.page import Book, Page
from salebook.book.row_height import UNSAID_POINTS, new_page, on_one_page


@pytest.fixture
def page() -> Page:
    book = Book(currency="GBP", locale="en_GB")
    return book.page("Glaze", widths=(3, 20, 10))


def fill(page: Page, rows: int) -> None:
    for _row in range(rows):
        page.put_row([("row", "label")], first_column=2)


def breaks(page: Page) -> list[int]:
    return [at.id for at in page.sheet.row_breaks.brk]


def test_rows_of_no_said_height_are_taken_to_be_as_high_as_the_file_says() -> None:
    assert UNSAID_POINTS == 15


@pytest.mark.parametrize(("before", "rows", "after"), [(30, 20, []), (30, 21, [30]), (0, 60, [])])
def test_a_block_that_does_not_fit_below_what_is_there_begins_a_page(
    page: Page, before: int, rows: int, after: list[int]
) -> None:
    """An upright A4 page holds 50 rows of 15 points: (11.69 - 0.55 - 0.7) inches of 72 points are 751.7."""
    fill(page, before)
    with on_one_page(page):
        fill(page, rows)
    assert breaks(page) == after


def test_a_page_begins_anew_after_a_break_and_hidden_rows_take_no_room(page: Page) -> None:
    fill(page, 30)
    new_page(page)
    with on_one_page(page):
        fill(page, 45)
    page.fold(35, 65)
    with on_one_page(page):
        fill(page, 30)
    assert breaks(page) == [30]
