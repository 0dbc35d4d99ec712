"""Columns of a terminal's table break names between words, and figures never."""

import io
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.console import Console
from rich.table import Table

from salebook.jobs.columns import fit_columns
from salebook.jobs.price import show_price
from salebook.plan.load import read_plan
from salebook.reckoning import Reckoning, reckon

SAMPLE_DATA = Path(__file__).parent.parent.parent / "sample_data"
WORDS = st.lists(st.text("abc", min_size=1, max_size=14), min_size=1, max_size=20).map(" ".join)


def shown(rows: list[tuple[str, ...]], width: int, *headings: str) -> list[str]:
    """Return the lines of a table whose first two columns are text and whose others are figures."""
    table = Table(box=None, pad_edge=False)
    for place, heading in enumerate(headings):
        table.add_column(heading, overflow="fold", justify="left" if place < 2 else "right")
    for row in rows:
        table.add_row(*row)
    fit_columns(table, width)
    console = Console(file=io.StringIO(), record=True, width=width)
    console.print(table)
    return [line.rstrip() for line in console.export_text().splitlines()]


@given(name=WORDS, kind=WORDS, width=st.sampled_from([60, 80]))
def test_no_word_and_no_figure_is_broken_where_they_have_room(name: str, kind: str, width: int) -> None:
    lines = shown([(name, kind, "1 000.00", "Thu 20 May")], width, "what", "kind", "for the groups", "until")
    assert max(map(len, lines)) <= width
    words = [word for line in lines for word in line.split()]
    assert sorted(words) == sorted(
        f"what kind for the groups until {name} {kind} 1 000.00 Thu 20 May".split()
    )
    assert any("1 000.00" in line and line.endswith("Thu 20 May") for line in lines)


def test_a_word_that_is_longer_than_the_line_is_broken_and_no_other() -> None:
    lines = shown([("x" * 100, "hall", "£12.00")], 60, "what", "kind", "cost")
    assert "".join(line.split()[0] for line in lines[1:]) == "x" * 100
    assert lines[1].split()[1:] == ["hall", "£12.00"]


def test_a_short_column_is_written_out_beside_a_long_name() -> None:
    lines = shown(
        [("a very long name of something " * 4, "other cost", "£12.00")], 60, "what", "kind", "cost"
    )
    assert lines[1].endswith("other cost  £12.00")


@cache
def reckoned(sample: str) -> Reckoning:
    return reckon(read_plan((SAMPLE_DATA / sample).read_text(encoding="utf-8"), file=sample))


@pytest.mark.parametrize("width", [60, 80])
@pytest.mark.parametrize(
    "sample",
    [pytest.param("harbour-weekend.toml", marks=pytest.mark.slow), "first-sale.toml", "bergmarkt.toml"],
)
def test_the_price_advice_fits_the_terminal_and_cuts_nothing(sample: str, width: int) -> None:
    reckoning = reckoned(sample)
    narrow, wide = (Console(file=io.StringIO(), record=True, width=each) for each in (width, 400))
    show_price(reckoning, narrow)
    show_price(reckoning, wide)
    lines = narrow.export_text()
    assert max(map(len, lines.splitlines())) <= width
    assert sorted(lines.split()) == sorted(wide.export_text().split())
