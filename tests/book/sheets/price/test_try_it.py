"""Prices typed on Price are reckoned as if the plan said so, and change nothing else."""

from collections.abc import Mapping
from copy import deepcopy
from decimal import Decimal
from typing import Any

import pytest

from salebook.forecast.live_chance import WITHIN
from salebook.pricing.advice import Advice
from salebook.reckoning import reckon
from tests.support.books import book_of_plan, few_free_lines, sample_tables
from tests.support.cells import Place, Value, changed, values_of
from tests.support.inputs import input_place
from tests.support.plan_strategies import plan_of
from tests.support.programs import needs_libreoffice
from tests.support.proof import differing_cells, recalculated_by_libreoffice
from tests.support.rules import Opened

SAMPLE = "harbour-weekend"
TRIED = {
    "one price": {"MUG": "24"},
    "all prices": {"MUG": "17.50", "BOWL": "33.25", "JUG": "29"},
    "prices beyond all demand points": {"MUG": "99", "JUG": "0.50"},
    "prices that fees eat up": {"MUG": "0.01", "BOWL": "0.01", "JUG": "0.01"},
    "a price of nothing means the plan's": {"MUG": "0"},
}


def names_of() -> dict[str, str]:
    return {ware["code"]: ware["name"] for ware in sample_tables(SAMPLE)["wares"]}


def typed(book: bytes, prices: Mapping[str, str]) -> bytes:
    names = names_of()
    cells = {
        input_place(book, "Price", "try_it", "try", {"name": names[code]}): Decimal(price)
        for code, price in prices.items()
    }
    return changed(book, cells)


def advice_at(prices: Mapping[str, str]) -> Advice:
    """Return the advice on the sample with other prices."""
    tables: dict[str, Any] = deepcopy(dict(sample_tables(SAMPLE)))
    for ware in tables["wares"]:
        price = Decimal(prices.get(ware["code"], "0"))
        ware["price"] = price or ware["price"]
    return reckon(plan_of(tables)).advice


@pytest.fixture(scope="module")
def book() -> bytes:
    with few_free_lines():
        return book_of_plan(plan_of(sample_tables(SAMPLE)))


@pytest.fixture(scope="module")
def shown(book: bytes) -> dict[str, dict[Place, Value]]:
    """What LibreOffice makes of the workbook with each set of prices typed."""
    books = {str(n): typed(book, prices) for n, prices in enumerate(TRIED.values())}
    recalculated = recalculated_by_libreoffice(books)
    return {case: values_of(recalculated[str(n)]) for n, case in enumerate(TRIED)}


def under(book: bytes, values: Mapping[Place, Value], name: str) -> Value:
    return values[Opened(book).places(name)[0]]


@needs_libreoffice
@pytest.mark.parametrize("case", TRIED)
def test_prices_that_are_tried_bring_what_the_plan_would_with_them(
    case: str, book: bytes, shown: dict[str, dict[Place, Value]]
) -> None:
    advice = advice_at(TRIED[case])
    found = {name: under(book, shown[case], f"try_{name}") for name in ("net", "expected", "mean")}
    assert found == {
        "net": pytest.approx(float(advice.target.expected_net)),
        "expected": pytest.approx(float(advice.target.expected_sold)),
        "mean": pytest.approx(float(advice.mean_contribution)),
    }
    assert under(book, shown[case], "try_chance") == pytest.approx(advice.target.chance, abs=WITHIN)
    assert under(book, shown[case], "try_needed") == (advice.target.pieces_needed or "none")
    assert under(book, shown[case], "try_pays_back") == (advice.break_even.sale or "none")


@needs_libreoffice
@pytest.mark.parametrize("case", TRIED)
def test_each_groups_share_follows_to_the_last_penny(
    case: str, book: bytes, shown: dict[str, dict[Place, Value]]
) -> None:
    for share in advice_at(TRIED[case]).share_out:
        place = input_place(book, "Price", "try_shares", "expected", {"name": share.group.name})
        assert shown[case][place] == pytest.approx(float(share.expected))


@needs_libreoffice
@pytest.mark.parametrize("case", TRIED)
def test_trying_changes_nothing_else(case: str, book: bytes, shown: dict[str, dict[Place, Value]]) -> None:
    keys = {row: key for (sheet, row), key in _sections(book).items() if sheet == "Price"}
    moved = differing_cells(book, shown[case])
    tried = {"try_it", "try_shares"}
    cases = {row for row, name in _column_b(book).items() if str(name).startswith("tried")}
    tried_row = {row for row in cases if str(keys.get(row)).startswith("chances")}
    opened = Opened(book)
    names = [name for name in opened.names if name.startswith("try_")]
    allowed = {place for name in names for place in opened.places(name)}
    said = {_row(place) for place in moved if place[1].startswith("B")}
    sentences = {place for place in moved if _row(place) in said}  # with their parts beside the page
    others = {
        p
        for p in moved.keys() - allowed - sentences
        if keys.get(_row(p)) not in tried and _row(p) not in tried_row
    }
    assert others == set()


def _row(place: Place) -> int:
    return int("".join(letter for letter in place[1] if letter.isdigit()))


def _column_b(book: bytes) -> dict[int, Value]:
    return {
        _row(place): value
        for place, value in values_of(book).items()
        if place[0] == "Price" and place[1].rstrip("0123456789") == "B"
    }


def _sections(book: bytes) -> dict[tuple[str, int], Value]:
    return {
        (place[0], _row(place)): value for place, value in values_of(book).items() if place[1].startswith("A")
    }
