"""Every result in a workbook twice: as the model worked it out, and as another program does by formula."""

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from salebook.event.entries import Entries
from tests.books import SAMPLES, book_of_plan, few_free_lines, sample_book, sample_tables
from tests.cells import Place, Value, formula_cells
from tests.chance import Tables
from tests.dependence import first_causes
from tests.entries import a_day_of_takings, entries
from tests.plans import SMALL, USUAL, plan_of, plan_tables
from tests.programs import needs_libreoffice
from tests.proof import differing_cells, recalculated_by_formulas, recalculated_by_libreoffice, values_of
from tests.rules import broken_rules
from tests.schema import violations
from tests.studio_plans import Size
from tests.toml_text import toml_text

BOOKS_BY_CHANCE = 200
BOOKS_IN_ONE_RUN = 50
BOOKS_FOR_FORMULAS = 20
FEW_BOOKS = 5
MOST_SHOWN = 12

FILLED_IN = pytest.mark.parametrize("filled_in", [False, True], ids=["empty", "filled in"])
EACH_SAMPLE = pytest.mark.parametrize("sample", SAMPLES)


def told(book: bytes, recalculated: dict[Place, Value]) -> str:
    """Say which results differ, the ones that no other difference explains."""
    wrong = differing_cells(book, recalculated)
    causes = first_causes(wrong, book) if wrong else set()
    lines = [line for place, line in wrong.items() if place in causes]
    return "\n".join([*lines[:MOST_SHOWN], f"{len(wrong)} cells differ"] if wrong else [])


@pytest.fixture(scope="module")
def samples_by_libreoffice() -> dict[str, bytes]:
    books = {name(sample, filled_in): sample_book(sample, filled_in=filled_in) for sample, filled_in in ALL}
    return recalculated_by_libreoffice(books)


ALL = [(sample, filled_in) for sample in SAMPLES for filled_in in (False, True)]


def name(sample: str, filled_in: bool) -> str:
    return f"{sample}-{'filled-in' if filled_in else 'empty'}"


@needs_libreoffice
@pytest.mark.xdist_group("samples")  # one worker, or each would recalculate all of them
@FILLED_IN
@EACH_SAMPLE
def test_a_sample_shows_what_libreoffice_works_out(
    sample: str, filled_in: bool, samples_by_libreoffice: dict[str, bytes]
) -> None:
    recalculated = values_of(samples_by_libreoffice[name(sample, filled_in)])
    assert told(sample_book(sample, filled_in=filled_in), recalculated) == ""


@EACH_SAMPLE
def test_a_sample_shows_what_formulas_works_out(sample: str) -> None:
    plan = plan_of(sample_tables(sample))
    with few_free_lines():
        book = book_of_plan(plan, a_day_of_takings(plan))
    assert told(book, recalculated_by_formulas(book)) == ""


@FILLED_IN
@EACH_SAMPLE
def test_a_sample_keeps_the_schema_and_the_rules(sample: str, filled_in: bool) -> None:
    book = sample_book(sample, filled_in=filled_in)
    assert violations(book) + broken_rules(book) == []


@EACH_SAMPLE
def test_the_proof_has_much_to_compare(sample: str) -> None:
    sheets = {cell.sheet for cell in formula_cells(sample_book(sample))}
    assert len(sheets) >= 10
    assert sum(1 for _cell in formula_cells(sample_book(sample))) > 1000


Drawn = tuple[Tables, Entries]


def drawn(count: int, size: Size, *, lot: int, most_lines: int = 10) -> list[Drawn]:
    """Draw plans with what is filled in, the same ones each time for the same lot."""
    found: list[Drawn] = []

    @seed(lot)
    @settings(
        max_examples=count,
        database=None,
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(plan_tables(size), st.data())
    def draw(tables: Tables, data: st.DataObject) -> None:
        found.append((tables, data.draw(entries(plan_of(tables), most_lines=most_lines))))

    draw()
    return found


def faults(some: list[Drawn], check: Callable[[dict[str, bytes]], dict[str, str]]) -> list[str]:
    """Return what `check` says of the workbooks, with the plan and entries of each, the shortest first."""
    with few_free_lines(fewest=4):
        books = {str(n): book_of_plan(plan_of(tables), filled) for n, (tables, filled) in enumerate(some)}
    said = {n: text for n, text in check(books).items() if text}
    cases = (f"{text}\n\n{toml_text(some[int(n)][0])}\n{some[int(n)][1]}" for n, text in said.items())
    return sorted(cases, key=len)


def against_libreoffice(books: dict[str, bytes]) -> dict[str, str]:
    recalculated = recalculated_by_libreoffice(books)
    return {n: told(book, values_of(recalculated[n])) for n, book in books.items()}


def against_formulas(books: dict[str, bytes]) -> dict[str, str]:
    return {n: told(book, recalculated_by_formulas(book)) for n, book in books.items()}


def against_schema_and_rules(books: dict[str, bytes]) -> dict[str, str]:
    return {n: "\n".join(violations(book) + broken_rules(book)) for n, book in books.items()}


@needs_libreoffice
@pytest.mark.parametrize("lot", range(BOOKS_BY_CHANCE // BOOKS_IN_ONE_RUN))
def test_sales_by_chance_show_what_libreoffice_works_out(lot: int) -> None:
    some = drawn(BOOKS_IN_ONE_RUN, USUAL, lot=lot)
    assert "\n".join(faults(some, against_libreoffice)[:1]) == ""


@pytest.mark.parametrize("lot", range(BOOKS_FOR_FORMULAS // FEW_BOOKS))
def test_small_sales_by_chance_show_what_formulas_works_out(lot: int) -> None:
    some = drawn(FEW_BOOKS, SMALL, lot=lot, most_lines=3)
    assert "\n".join(faults(some, against_formulas)[:1]) == ""


def test_sales_by_chance_keep_the_schema_and_the_rules() -> None:
    some = drawn(BOOKS_FOR_FORMULAS, USUAL, lot=0)
    assert "\n".join(faults(some, against_schema_and_rules)[:1]) == ""
