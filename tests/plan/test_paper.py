"""Which paper a sale is printed on."""

from io import BytesIO

import pytest
from openpyxl import load_workbook

from salebook.plan.paper import usual_page
from salebook.prints.studio.making_list import making_html
from tests.support.books import book_of_plan, few_free_lines
from tests.support.print_sales import USUAL_LABELS, labels_table, made, sale

LETTER_LABELS = labels_table(page="Letter", rows=6)
LETTER_SIZE = "size: 215.9mm 279.4mm"


@pytest.mark.parametrize(
    ("locale", "labels", "page"),
    [
        ("en_GB", "", "A4"),
        ("en_US", "", "Letter"),
        ("es_MX", "[labels]\npromise = true\n", "Letter"),
        ("de_CH", "", "A4"),
        ("en_US", USUAL_LABELS, "A4"),
        ("en_GB", LETTER_LABELS, "Letter"),
    ],
)
def test_the_labels_own_page_wins_over_the_countrys(locale: str, labels: str, page: str) -> None:
    assert page == usual_page(sale(locale=locale, labels=labels).plan)


@pytest.mark.parametrize(("locale", "labels"), [("en_US", ""), ("en_GB", LETTER_LABELS)])
def test_the_workbook_and_the_prints_come_on_the_same_paper(locale: str, labels: str) -> None:
    reckoning = sale(locale=locale, labels=labels)
    with few_free_lines():
        book = load_workbook(BytesIO(book_of_plan(reckoning.plan)))
    assert {sheet.page_setup.paperSize for sheet in book.worksheets} == {1}  # Letter, in Office Open XML
    assert LETTER_SIZE in made(making_html, reckoning)
