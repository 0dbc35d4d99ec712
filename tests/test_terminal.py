"""What `salebook price` shows on a terminal."""

import io

from rich.console import Console

from salebook.terminal import show_price
from tests.event.table import sale


def test_costs_are_called_what_the_workbook_calls_them() -> None:
    console = Console(file=io.StringIO(), record=True, width=100)
    show_price(sale(), console)
    (hall,) = (line for line in console.export_text().splitlines() if line.startswith("hall"))
    assert hall.split() == ["hall", "other", "cost", "the", "takings", "£3.50"]
