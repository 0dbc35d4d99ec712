"""The tally: takings on paper."""

import re
from typing import get_args

from salebook.event.entries import LineKind
from salebook.prints.before.pack import takings_on_paper_html
from tests.support.books import sample_book
from tests.support.inputs import KEPT_BESIDE_LINES, headings_of
from tests.support.print_sales import made, sale


def test_kinds_are_called_as_on_the_sheet_that_they_are_copied_to() -> None:
    assert ", ".join(get_args(LineKind)) in made(takings_on_paper_html, sale())


def test_columns_stand_as_on_the_sheet_that_they_are_copied_to() -> None:
    on_sheet = headings_of(sample_book("first-sale"), "Takings", "takings")
    kept = KEPT_BESIDE_LINES
    typed = [heading for key, heading in on_sheet.items() if key not in kept and not key.startswith("=")]
    assert re.findall(r'<th scope="col"[^>]*>(.*?)</th>', made(takings_on_paper_html, sale())) == typed
