from salebook.book.write import book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.making.studio_tally import StudioCount
from salebook.plan.load import read_plan
from salebook.reckoning import reckon
from tests.support.cells import values_of
from tests.support.programs import needs_libreoffice
from tests.support.proof import recalculated_by_libreoffice
from tests.support.sale_strategies import wrong_cells
from tests.support.small_event import PLAN


@needs_libreoffice
def test_a_book_reckons_on_where_nothing_came_out_of_the_kiln() -> None:
    before, _donated, after = PLAN.partition("[[donated]]")
    text = before.replace("WANTED", "4") + after[after.index("[[payments]]") :]
    reckoning = reckon(read_plan(text, file="plan.toml"))
    counts = {"MAY": StudioCount(good=0), "DOT": StudioCount(good=0)}
    book = book_bytes(reckoning, reckon_event(reckoning, Entries(studio=counts)))
    recalculated = recalculated_by_libreoffice({"nothing": book})["nothing"]
    assert wrong_cells(book, values_of(recalculated)) == ""
