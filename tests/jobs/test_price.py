"""What `salebook price` shows on a terminal."""

import io
from pathlib import Path

from rich.console import Console

from salebook.jobs.price import show_price
from salebook.plan.load import read_plan
from salebook.reckoning import reckon
from tests.support.small_event import sale

SAMPLES = Path(__file__).parent.parent.parent / "sample_data"


def test_one_piece_is_no_plural() -> None:
    console = Console(file=io.StringIO(), record=True, width=100)
    first = (SAMPLES / "first-sale.toml").read_text(encoding="utf-8")
    show_price(reckon(read_plan(first.replace("amount = 24", "amount = 3"), file="first.toml")), console)
    (table,) = (line for line in console.export_text().splitlines() if line.startswith("to pay back"))
    assert table.endswith(" 1 piece")


def test_costs_are_called_what_the_workbook_calls_them() -> None:
    console = Console(file=io.StringIO(), record=True, width=100)
    show_price(sale(), console)
    (hall,) = (line for line in console.export_text().splitlines() if line.startswith("hall"))
    assert hall.split() == ["hall", "other", "cost", "the", "takings", "£3.50"]
