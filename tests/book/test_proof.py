"""Every result in a workbook twice: as the model worked it out, and as another program does by formula."""

import os
import random
from collections.abc import Callable
from functools import cache

import pytest

from tests.support.books import (
    SAMPLES,
    book_of_plan,
    each_sample,
    few_free_lines,
    sample_book,
    sample_tables,
)
from tests.support.cells import formula_cells
from tests.support.counted_plan import counted_book
from tests.support.entry_strategies import a_day_of_takings
from tests.support.plan_strategies import plan_of
from tests.support.programs import needs_libreoffice
from tests.support.proof import recalculated_by_libreoffice, values_of
from tests.support.pseudo import in_pseudo
from tests.support.rules import broken_rules, faults_of_file
from tests.support.sale_strategies import Sale, sales_by_chance, shortest, wrong_cells, wrong_figures
from tests.support.schema import violations

BOOKS_BY_CHANCE, MANY_BOOKS = 200, 2_000
BOOKS_IN_ONE_RUN = 50
BOOKS_FOR_RULES = 60

FILLED_IN = pytest.mark.parametrize("filled_in", [False, True], ids=["empty", "filled in"])
EACH_SAMPLE = pytest.mark.parametrize("sample", SAMPLES)
Record = Callable[[str, object], None]


@pytest.fixture(scope="module")
def samples_by_libreoffice() -> dict[str, bytes]:
    books = {name(sample, filled_in): sample_book(sample, filled_in=filled_in) for sample, filled_in in ALL}
    return recalculated_by_libreoffice(books)


ALL = [(sample, filled_in) for sample in SAMPLES for filled_in in (False, True)]


def name(sample: str, filled_in: bool) -> str:
    return f"{sample}-{'filled-in' if filled_in else 'empty'}"


def faults(book: bytes) -> list[str]:
    return violations(book) + broken_rules(book) + faults_of_file(book)


@needs_libreoffice
@FILLED_IN
@EACH_SAMPLE
def test_a_sample_shows_what_libreoffice_works_out(
    sample: str, filled_in: bool, samples_by_libreoffice: dict[str, bytes]
) -> None:
    recalculated = values_of(samples_by_libreoffice[name(sample, filled_in)])
    assert wrong_cells(sample_book(sample, filled_in=filled_in), recalculated) == ""


@needs_libreoffice
def test_a_sample_in_another_language_shows_what_libreoffice_works_out() -> None:
    """No formula compares with a word that is translated beside it, or is not where it has to be."""
    plan = plan_of(sample_tables("harbour-weekend"))
    with few_free_lines(), in_pseudo():
        book = book_of_plan(plan, a_day_of_takings(plan))
    assert faults(book) == []
    recalculated = recalculated_by_libreoffice({"other": book})["other"]
    assert wrong_cells(book, values_of(recalculated)) == ""


@needs_libreoffice
def test_a_plan_with_counts_shows_what_libreoffice_works_out() -> None:
    assert faults(counted_book()) == []
    recalculated = recalculated_by_libreoffice({"counted": counted_book()})["counted"]
    assert wrong_cells(counted_book(), values_of(recalculated)) == ""


@pytest.mark.slow
@FILLED_IN
@each_sample
def test_a_sample_keeps_the_schema_and_the_rules(sample: str, filled_in: bool) -> None:
    book = sample_book(sample, filled_in=filled_in)
    assert faults(book) == []


@each_sample
def test_the_proof_has_much_to_compare(sample: str) -> None:
    sheets = {cell.sheet for cell in formula_cells(sample_book(sample))}
    assert len(sheets) >= 10
    assert sum(1 for _cell in formula_cells(sample_book(sample))) > 1000


def prove_by_libreoffice(sales: list[Sale], record: Record) -> str:
    """Say what is wrong with the workbooks and reports of sales, of the shortest one only."""
    recalculated = recalculated_by_libreoffice({str(n): sale.book for n, sale in enumerate(sales)})
    said = []
    for n, sale in enumerate(sales):
        shown = values_of(recalculated[str(n)])
        said.append((wrong_cells(sale.book, shown) + wrong_figures(sale.report, sale.book, shown), sale))
    record(CELLS, sum(1 for sale in sales for _cell in formula_cells(sale.book)))
    return shortest(said)


CELLS = "formula cells compared"
"""What conftest.py adds up and says at the end of a run."""

LOTS = pytest.mark.parametrize("lot", range(BOOKS_BY_CHANCE // BOOKS_IN_ONE_RUN))
MANY_LOTS = pytest.mark.parametrize("lot", range(MANY_BOOKS // BOOKS_IN_ONE_RUN))


@needs_libreoffice
@LOTS
def test_sales_by_chance_show_and_report_what_libreoffice_works_out(
    lot: int, record_property: Record
) -> None:
    assert prove_by_libreoffice(sales_by_chance(BOOKS_IN_ONE_RUN, lot=lot), record_property) == ""


@cache
def fresh() -> int:
    """Return a number that no run had before, or the one of SALEBOOK_SEED, to see a failure again."""
    return int(os.environ.get("SALEBOOK_SEED") or random.SystemRandom().randrange(1_000, 10**9))


@needs_libreoffice
@pytest.mark.long
@MANY_LOTS
def test_many_fresh_sales_show_and_report_what_libreoffice_works_out(
    lot: int, record_property: Record
) -> None:
    sales = sales_by_chance(BOOKS_IN_ONE_RUN, lot=fresh() + lot)
    assert (f"SALEBOOK_SEED={fresh()}", "") == (
        f"SALEBOOK_SEED={fresh()}",
        prove_by_libreoffice(sales, record_property),
    )


@pytest.mark.slow
def test_sales_by_chance_keep_the_schema_and_the_rules() -> None:
    sales = sales_by_chance(BOOKS_FOR_RULES, lot=0)
    said = [("\n".join(faults(sale.book)), sale) for sale in sales]
    assert shortest(said) == ""
