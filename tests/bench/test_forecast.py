"""What can be expected from here on: `price` against `check` of the same workbook."""

import sys
from contextlib import redirect_stdout
from datetime import date
from decimal import Decimal
from io import StringIO
from pathlib import Path
from typing import Any

import pytest

from salebook.book.write import book_bytes
from salebook.cli import main
from salebook.event.entries import Entries, Line
from salebook.event.event import reckon_event
from salebook.reckoning import reckon
from tests.bench.clock import processor_seconds
from tests.support.priced_sales import a_plan, a_ware

LIMIT = 1.5
WARES, WANTED, LINES = 12, 84, 1000
KINDS_OF_DAY = (("quiet", "0.7"), ("usual", "1"), ("busy", "1.15"))


def a_thousand_pieces(target: str) -> bytes:
    """Return the workbook of a thousand pieces at twelve prices, with a thousand lines on the first day."""
    prices = [Decimal(12) + Decimal("3.5") * number for number in range(WARES)]
    wares = [
        a_ware(
            f"W{number}",
            wanted=WANTED,
            price=str(price),
            losses={},
            demand=[[str(price), "0.85"], [str(price * 2), "0.25"]],
        )
        for number, price in enumerate(prices)
    ]
    kinds = [{"name": name, "factor": factor} for name, factor in KINDS_OF_DAY]
    days = {"days": ["2027-05-08", "2027-05-09"]}
    reckoning = reckon(a_plan(wares=wares, outlooks=kinds, sale=days, target=target))
    pieces = [f"W{ware}-{index:03}" for index in range(1, 36) for ware in range(WARES)]
    typed: dict[str, Any] = {"day": date(2027, 5, 8), "way": "cash"}
    lines = [Line(number=number, piece=piece, **typed) for number, piece in enumerate(pieces, start=1)]
    lines += [
        Line(number=number, kind="raffle", amount=Decimal(2), **typed)
        for number in range(len(lines) + 1, LINES + 1)
    ]
    return book_bytes(reckoning, reckon_event(reckoning, Entries(lines=tuple(lines))))


def seconds_of(command: str, book: Path) -> float:
    def run() -> None:
        with redirect_stdout(StringIO()):
            main([command, str(book)])

    return processor_seconds(run)


@pytest.mark.parametrize("target", ["26000", "30000"])
def test_to_look_ahead_takes_at_most_one_and_a_half_times_a_check(target: str, tmp_path: Path) -> None:
    book = tmp_path / "sale.xlsx"
    book.write_bytes(a_thousand_pieces(target))
    ratio = seconds_of("price", book) / seconds_of("check", book)
    sys.stdout.write(f"\nprice / check with a target of {target}: {ratio:.2f}\n")
    assert ratio < LIMIT
