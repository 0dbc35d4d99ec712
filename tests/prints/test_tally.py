"""The tally: takings on paper."""

from typing import get_args

from salebook.event.entries import LineKind
from salebook.prints.tally import tally_html
from tests.prints.sales import sale


def test_kinds_are_called_as_on_the_sheet_that_they_are_copied_to() -> None:
    assert ", ".join(get_args(LineKind)) in tally_html(sale())
