"""Whole workbooks for tests: of the sample plans and of any other, with and without takings."""

import tomllib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import pytest

from salebook.book import read
from salebook.book.file.opening import Opened
from salebook.book.reading.raw import Raw, read_raw
from salebook.book.sheets.takings import sheet as takings
from salebook.book.write import book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.plan.model import Plan
from salebook.reckoning import reckon
from tests.support.entry_strategies import NOTHING_FILLED_IN, a_day_of_takings
from tests.support.plan_strategies import plan_of

ROOT = Path(__file__).parent.parent.parent
SAMPLES = {
    path.stem: path
    for path in (*sorted((ROOT / "sample_data").glob("*.toml")), ROOT / "tests/worked-plan.toml")
}
"""Plan files that are whole sales."""

SMALLEST = "first-sale"
each_sample = pytest.mark.parametrize(
    "sample", [name if name == SMALLEST else pytest.param(name, marks=pytest.mark.slow) for name in SAMPLES]
)
"""Runs a test on every sample, on others than the smallest with the slow tests."""


@contextmanager
def few_free_lines(*, fewest: int = 8) -> Iterator[None]:
    """Leave few lines free on Takings while this lasts: each takes time, and is like the others."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(takings, "FEWEST_LINES", fewest)
        patch.setattr(takings, "LINES_A_PIECE", 0)
        yield


@pytest.fixture(autouse=True, scope="package")
def few_lines() -> Iterator[None]:
    """Leave few lines free in all books of a folder of tests; its conftest.py takes this in."""
    with few_free_lines():
        yield


@dataclass(frozen=True)
class _ByContent:
    content: bytes
    opened: Opened = field(compare=False)


@lru_cache(maxsize=8)
def _raw(book: _ByContent) -> Raw:
    return read_raw(book.opened)


@pytest.fixture(autouse=True, scope="package")
def read_once() -> Iterator[None]:
    """Read the sheets of a book once, however many commands of a folder's tests are given the same bytes."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(read, "read_raw", lambda opened: _raw(_ByContent(opened.content, opened)))
        yield


def book_of_plan(plan: Plan, entries: Entries = NOTHING_FILLED_IN) -> bytes:
    """Return the workbook of a plan with what was filled in."""
    reckoning = reckon(plan)
    return book_bytes(reckoning, reckon_event(reckoning, entries))


@cache
def sample_tables(sample: str) -> Mapping[str, Any]:
    """Return the tables of a sample plan; nothing may change them."""
    return tomllib.loads(SAMPLES[sample].read_text(encoding="utf-8"), parse_float=Decimal)


@cache
def sample_book(sample: str, *, filled_in: bool = False) -> bytes:
    """Return a sample's workbook, empty or after a day of takings."""
    plan = plan_of(sample_tables(sample))
    return book_of_plan(plan, a_day_of_takings(plan) if filled_in else NOTHING_FILLED_IN)
