"""Every result in a workbook as other spreadsheet engines work it out, and as another reader reads it."""

import re
from collections.abc import Callable, Mapping
from functools import cache, partial

import pytest

from salebook.book.write import till_book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.plan.load import load_plan
from salebook.reckoning import reckon
from tests.filled_sample import filled_book
from tests.support.books import SAMPLES, few_free_lines, sample_book
from tests.support.cells import Place, Value, formula_cells
from tests.support.counted_plan import counted_book
from tests.support.engines import Engine, by_formualizer, by_gnumeric, by_ironcalc, read_by_calamine
from tests.support.programs import needs_gnumeric, needs_libreoffice
from tests.support.proof import recalculated_by_libreoffice, values_of
from tests.support.sale_strategies import Sale, sales_by_chance, shortest, wrong_cells

pytestmark = pytest.mark.slow

CELLS = "formula cells compared"
"""What conftest.py adds up and says at the end of a run."""
SALES, SALES_IN_A_LOT = 20, 5
LOCALES = ("en-GB", "de-DE", "fr-FR", "ja-JP")

ENGINES = pytest.mark.parametrize(
    "engine",
    [
        pytest.param(by_gnumeric, marks=needs_gnumeric, id="Gnumeric"),
        pytest.param(by_ironcalc, id="IronCalc"),
        pytest.param(by_formualizer, id="formualizer"),
        pytest.param(read_by_calamine, id="python-calamine"),
    ],
)
Record = Callable[[str, object], None]


@cache
def book_of_a_table() -> bytes:
    with few_free_lines():
        reckoning = reckon(load_plan(SAMPLES["harbour-weekend"]))
        return till_book_bytes(reckoning, reckon_event(reckoning, Entries()), till="2")


BOOKS: Mapping[str, Callable[[], bytes]] = {
    **{sample: partial(sample_book, sample) for sample in SAMPLES},
    **{f"{sample}, a day": partial(sample_book, sample, filled_in=True) for sample in SAMPLES},
    "the filled-in sample": cache(filled_book),
    "one table": book_of_a_table,
    "losses counted": counted_book,
}


def wrong(book: bytes, engine: Engine) -> str:
    """Say which cells an engine works out otherwise than is stored."""
    return wrong_cells(book, engine(book))


@ENGINES
@pytest.mark.parametrize("book", BOOKS)
def test_a_book_shows_what_an_engine_works_out(book: str, engine: Engine) -> None:
    assert wrong(BOOKS[book](), engine) == ""


@cache
def sales(lot: int) -> list[Sale]:
    return sales_by_chance(SALES_IN_A_LOT, lot=lot)


@ENGINES
@pytest.mark.parametrize("lot", range(SALES // SALES_IN_A_LOT))
def test_sales_by_chance_show_what_an_engine_works_out(
    lot: int, engine: Engine, record_property: Record
) -> None:
    record_property(CELLS, sum(1 for sale in sales(lot) for _cell in formula_cells(sale.book)))
    assert shortest([(wrong(sale.book, engine), sale) for sale in sales(lot)]) == ""


@needs_libreoffice
@pytest.mark.parametrize("locale", LOCALES)
def test_libreoffice_shows_the_same_in_other_languages(locale: str) -> None:
    books = {name: BOOKS[name]() for name in ("the filled-in sample", "bergmarkt, a day")}
    made = recalculated_by_libreoffice(books, locale=locale)
    said = [wrong_cells(book, _with_points(values_of(made[name]))) for name, book in books.items()]
    assert said == ["", ""]


def _with_points(shown: Mapping[Place, Value]) -> dict[Place, Value]:
    """Return values with a point in numbers within texts, where the language writes a comma."""
    return {
        place: re.sub(r"(?<=\d),(?=\d)", ".", value) if type(value) is str else value
        for place, value in shown.items()
    }
