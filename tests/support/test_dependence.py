"""What rests on a cell is found through references, areas and names."""

import pytest

from tests.support.cells import Place
from tests.support.dependence import apart, first_causes, moved_names, resting_on
from tests.support.small_books import TITLE, book_of, with_names

BOOK = with_names(
    book_of(
        {
            "A1": 1,
            "A2": 2,
            "A3": 3,
            "B1": "=A1*2",
            "B2": "=SUM(A1:A2)",
            "B3": "=jugs+1",
            "B4": "=SUM(B1:B2)",
            "B5": "=A3",
            "B6": "=B4&B5",
        },
        {},
    ),
    {"jugs": f"'{TITLE}'!$A$2:$A$3"},
)


def at(*cells: str) -> set[Place]:
    return {(TITLE, cell) for cell in cells}


@pytest.mark.parametrize(
    ("cell", "resting"),
    [
        ("A1", ("A1", "B1", "B2", "B4", "B6")),
        ("A2", ("A2", "B2", "B3", "B4", "B6")),
        ("A3", ("A3", "B3", "B5", "B6")),
        ("B5", ("B5", "B6")),
        ("B6", ("B6",)),
    ],
)
def test_what_rests_on_a_cell_is_found_through_areas_and_names(cell: str, resting: tuple[str, ...]) -> None:
    assert resting_on(at(cell), BOOK) == at(*resting)


def test_what_rests_on_a_name_is_found() -> None:
    assert resting_on([], BOOK, names=["jugs"]) == at("B3")


def test_first_causes_rest_on_no_other() -> None:
    assert first_causes(at("B1", "B4", "B6"), BOOK) == at("B1")
    assert first_causes(at("B6", "B5"), BOOK) == at("B5")


def test_books_are_apart_where_values_formulas_or_cells_differ() -> None:
    here = book_of({"A1": 1, "A2": "=A1", "A3": 5, "A4": "=A1"}, {"A2": 1})
    there = book_of({"A1": 2, "A2": "=A1", "A3": 5, "A4": 1, "A5": 0}, {"A2": 2})
    assert apart(here, there) == at("A1", "A4", "A5")


def test_names_that_moved_are_found() -> None:
    moved = with_names(BOOK, {"jugs": f"'{TITLE}'!$A$2:$A$4", "mugs": f"'{TITLE}'!$A$1"})
    assert moved_names(BOOK, moved) == {"jugs", "mugs"}
