"""The lines of firings done on the sheet Firing, written and read back, and what is asked about them."""

from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from salebook.book.read import read_book
from salebook.book.write import book_bytes
from salebook.making.firing_done import FiringDone
from salebook.reckoning import Reckoning
from tests.support.bent_book import bent, place
from tests.support.books import few_free_lines
from tests.support.cells import values_of
from tests.support.engines import by_formualizer, by_ironcalc
from tests.support.programs import needs_libreoffice
from tests.support.proof import differences, recalculated_by_libreoffice
from tests.support.sale_strategies import wrong_cells
from tests.support.sound_plan import Place
from tests.support.sound_sale import event_with, reckoning_with

LONG_AGO, AFTERWARDS = date(2026, 4, 1), date(2027, 6, 1)
GAS: tuple[tuple[Place, object], ...] = (
    (("kiln", "fuel"), "gas"),
    (("kiln", "burner_efficiency"), Decimal("0.25")),
    (("kiln", "gas_kwh"), Decimal(14)),
)
ODD = (
    FiringDone(firing="biscuit", load=1, day=date(2027, 4, 1), before=Decimal("1200.5"), after=Decimal(1250)),
    FiringDone(
        firing="glaze", load=1, before=Decimal(1310), after=Decimal(1250), came_out=9, lost=1, why="ran"
    ),
    FiringDone(firing="lustre", day=AFTERWARDS),
    FiringDone(load=3, day=LONG_AGO),
    FiringDone(firing="biscuit", load=1),
)


def book_with(reckoning: Reckoning, *done: FiringDone) -> bytes:
    with few_free_lines():
        return book_bytes(reckoning, event_with((), reckoning, firings_done=done))


def asked_in(book: bytes, folder: Path) -> tuple[tuple[FiringDone, ...], list[tuple[int, str]]]:
    path = folder / "book.xlsx"
    path.write_bytes(book)
    read = read_book(path)
    said = [(question.row, question.says) for question in read.questions if question.sheet == "Firing"]
    return read.entries.firings_done, said


@pytest.fixture(scope="module")
def odd_book() -> bytes:
    return book_with(reckoning_with(), *ODD)


def test_every_line_comes_back_and_what_cannot_be_right_is_asked(odd_book: bytes, tmp_path: Path) -> None:
    done, said = asked_in(odd_book, tmp_path)
    assert done == ODD
    first = said[0][0] - 1
    assert [(row - first, says) for row, says in said] == [
        (1, "the meter is lower after the firing than before: which is right? The energy is left out"),
        (2, "the plan has no firing lustre: it counts for none"),
        (2, "this firing is after the sale: is the day right?"),
        (3, "which firing was this? It counts for none"),
        (3, "this firing is more than a year before the sale: is the day right?"),
        (4, "load 1 of biscuit stands twice: both count"),
    ]


def test_a_cell_that_makes_no_sense_is_asked_about_and_left_out(odd_book: bytes, tmp_path: Path) -> None:
    def spoil(workbook: Any) -> None:
        sheet = workbook["Firing"]
        for key, typed in {"before": -3, "lost": "a few", "day": "soon"}.items():
            keys, column = place(sheet, "firings_done", key)
            sheet.cell(keys + 2, column).value = typed

    done, said = asked_in(bent(spoil, odd_book), tmp_path)
    assert done[0] == FiringDone(firing="biscuit", load=1, after=Decimal(1250))
    assert [says for _row, says in said][:3] == [
        "the day of the firing is not a date",
        "the meter's reading is no number, or below 0: the energy is left out",
        "how many were lost is no whole number from 0 up: it is left out",
    ]


def test_a_bottle_of_gas_may_weigh_less_afterwards(tmp_path: Path) -> None:
    bottle = FiringDone(firing="biscuit", before=Decimal("46.5"), after=Decimal(32))
    assert asked_in(book_with(reckoning_with(*GAS), bottle), tmp_path) == ((bottle,), [])


@pytest.mark.slow
@needs_libreoffice
def test_every_program_works_out_the_same_energy_and_pieces(odd_book: bytes) -> None:
    gas = [FiringDone(firing="glaze", before=Decimal(46), after=Decimal(32), came_out=3)]
    books = {"odd": odd_book, "gas": book_with(reckoning_with(*GAS), *gas)}
    books["gas of unknown energy"] = book_with(reckoning_with(*GAS[:2]), *gas)
    for name, worked_out in recalculated_by_libreoffice(books).items():
        assert differences(books[name], values_of(worked_out)) == []
        for engine in (by_ironcalc, by_formualizer):
            assert wrong_cells(books[name], engine(books[name])) == ""
