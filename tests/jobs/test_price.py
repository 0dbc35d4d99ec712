"""What `salebook price` shows on a terminal."""

import io
from pathlib import Path

from rich.console import Console

from salebook.jobs.price import show_price
from salebook.plan.load import read_plan
from salebook.plan.model import Plan
from salebook.reckoning import reckon
from tests.support.priced_sales import a_plan, a_ware, given
from tests.support.small_event import sale

SAMPLES = Path(__file__).parent.parent.parent / "sample_data"


def test_one_piece_is_no_plural() -> None:
    console = Console(file=io.StringIO(), record=True, width=100)
    first = (SAMPLES / "first-sale.toml").read_text(encoding="utf-8")
    show_price(reckon(read_plan(first.replace("amount = 24", "amount = 3"), file="first.toml")), console)
    (table,) = (line for line in console.export_text().splitlines() if line.startswith("to cover what"))
    assert table.endswith(" 1 piece")


def test_costs_are_called_what_the_workbook_calls_them() -> None:
    console = Console(file=io.StringIO(), record=True, width=100)
    show_price(sale(), console)
    (hall,) = (line for line in console.export_text().splitlines() if line.startswith("hall"))
    assert hall.split() == ["hall", "other", "cost", "the", "takings", "£3.50"]


def test_what_many_wares_must_fetch_is_a_table_above_the_ladder() -> None:
    demand = [["20", "0.5"], ["30", "0.4"]]
    wares = [a_ware(f"W{number}", demand=demand) for number in range(4)]
    text = shown(a_plan(wares=wares, target="460"))
    assert text.index("What each piece must fetch") < text.index("At other prices")
    row, *_others = (line for line in text.splitlines() if line.startswith("W0"))
    assert row.split() == ["W0", "£20.00", "£11.50", "£26.50", "£38.50", "?"]


def test_where_no_price_does_the_table_says_so() -> None:
    wares = [a_ware(f"W{number}", demand=[["20", "0.5"], ["22", "0"]]) for number in range(4)]
    row, *_others = (
        line for line in shown(a_plan(wares=wares, target="460")).splitlines() if line.startswith("W0")
    )
    assert row.split()[2:] == ["£11.50", "no", "price", "no", "price"]


def test_no_price_of_ones_own_is_asked_for_where_all_is_given() -> None:
    assert "must fetch" not in shown(a_plan(donated=[given()]))


def shown(plan: Plan) -> str:
    console = Console(file=io.StringIO(), record=True, width=100)
    show_price(reckon(plan), console)
    return console.export_text()
