"""The book of one table: its sheets rest on each other, in whatever order they are written."""

from collections.abc import Callable, Iterable, Mapping
from functools import partial

from salebook.book.page import Book
from salebook.book.sheets.pieces.sheet import write_pieces
from salebook.book.sheets.takings.sheet import write_takings
from salebook.book.sheets.this_table import write_this_table
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from tests.support.small_event import DONATED, FIRST, line, sale

EVENT = reckon_event(sale(), Entries(lines=(line(1, piece=FIRST, way="card"), line(2, piece=DONATED))))

SHEETS = (
    partial(write_this_table, reckoning=sale(), event=EVENT, till="2"),
    partial(write_pieces, reckoning=sale(), event=EVENT, one_table=True),
    partial(write_takings, reckoning=sale(), event=EVENT, till="2", one_table=True),
)


def written(sheets: Iterable[Callable[[Book], None]]) -> Mapping[str, Mapping[str, object]]:
    book = Book(currency="GBP", locale="en_GB", sale_id="a sale", book_id="a book")
    for write_sheet in sheets:
        write_sheet(book)
    book.finish()
    return {
        sheet.title: {cell.coordinate: cell.value for row in sheet.iter_rows() for cell in row}
        for sheet in book.workbook.worksheets
    }


def test_the_sheets_of_one_tables_book_may_be_written_in_any_order() -> None:
    assert written(SHEETS) == written(reversed(SHEETS))


def test_prices_and_names_of_pieces_come_from_the_goods_of_the_table() -> None:
    pieces = written(SHEETS)["Pieces"]
    names = {value for value in pieces.values() if str(value).startswith("='This table'!$B$")}
    assert len(names) == len(EVENT.state.piece_totals)
