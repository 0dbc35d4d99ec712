"""What stands on the first sheet about typing at the table."""

from io import BytesIO
from typing import Any, get_args

import pytest
from openpyxl import load_workbook

from salebook.event.entries import LineKind
from tests.books import sample_book

SAYS_ITSELF = {"Line", "Day", "Time", "Note"}


def workbook() -> Any:
    return load_workbook(BytesIO(sample_book("first-sale")))


def said_at_the_table() -> str:
    cells = [cell.value for row in workbook()["Start here"].iter_rows() for cell in row if cell.value]
    first = cells.index("At the table: what to type on Takings")
    return " ".join(map(str, cells[first : cells.index("Key to the colours")]))


def headings_to_type_under() -> list[str]:
    sheet = workbook()["Takings"]
    keys = next(row for row in sheet.iter_rows() if row[0].value == "[takings]")
    typed = [key for key in keys[1:] if key.value not in {None, "till"} and not key.value.startswith("=")]
    headings = [sheet.cell(key.row + 1, key.column).value.replace("\n", " ") for key in typed]
    return [heading.split(",")[0] for heading in headings if heading not in SAYS_ITSELF]


@pytest.mark.parametrize("name", [*headings_to_type_under(), *get_args(LineKind)])
def test_every_column_and_kind_of_takings_is_explained(name: str) -> None:
    assert name.lower() in said_at_the_table().lower()
