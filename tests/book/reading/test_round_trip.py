"""What a plan and people say goes into a workbook and comes back the same."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from salebook.book.read import read_book, without_planned
from salebook.book.reading.typed import tidy
from salebook.book.write import book_bytes
from salebook.event.entries import Entries, Line
from salebook.event.event import reckon_event
from salebook.event.lines import is_blank
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import Plan
from salebook.plan.notes import assumptions
from salebook.pricing.number_wanted import with_number_wanted
from salebook.reckoning import reckon
from tests.support.books import few_free_lines
from tests.support.entry_strategies import NOTHING_FILLED_IN, entries
from tests.support.plan_strategies import SMALL, plans
from tests.support.sound_plan import plan_with

Filled = tuple[Plan, Entries]


@st.composite
def filled(draw: st.DrawFn) -> Filled:
    """Draw a plan and what was filled in."""
    plan = with_number_wanted(draw(plans(SMALL)))
    return plan, draw(entries(plan))


def there_and_back(plan: Plan, filled_in: Entries, folder: Path) -> None:
    path = folder / "book.xlsx"
    reckoning = reckon(plan)
    with few_free_lines():
        path.write_bytes(book_bytes(reckoning, reckon_event(reckoning, filled_in), sale_id="abc"))
    read = read_book(path)
    assert (read.plan, read.sale_id) == (plan, "abc")
    assert assumptions(read.plan) == assumptions(plan)
    assert tidied(read.entries, plan) == tidied(filled_in, plan)
    assert [note for note in read.notes if "is read as" not in note.says] == []


def tidied(filled_in: Entries, plan: Plan) -> Entries:
    """Return entries without what makes no difference: blank lines, grades as planned, empty boxes, order."""
    given_codes = tuple(f"{given.code}-" for given in plan.donated)
    pieces = {
        number: replace(entry, grade=None) if number.startswith(given_codes) else entry
        for number, entry in filled_in.pieces.items()
    }
    boxes = (box for box in filled_in.cash if box.counts or box.float_ or box.paid_out or box.counted_by)
    return replace(
        filled_in,
        lines=tuple(
            sorted(
                (_tidied_line(line) for line in filled_in.lines if not is_blank(line)),
                key=lambda line: (line.till, line.number),
            )
        ),
        pieces=without_planned(pieces, plan),
        studio={code: count for code, count in filled_in.studio.items() if count != StudioCount()},
        cash=tuple(sorted(boxes, key=lambda count: count.day)),
        table_counts=tuple(sorted(filled_in.table_counts, key=lambda count: (count.day, count.code))),
    )


def _tidied_line(line: Line) -> Line:
    texts: dict[str, Any] = {key: getattr(line, key).strip() for key in ("way", "group", "claim", "note")}
    return replace(line, piece=tidy(line.piece).upper(), **texts)


def test_what_was_counted_on_earlier_sales_comes_back_from_the_sheet(tmp_path: Path) -> None:
    seen = {"glaze": [5, Decimal("43.79")], "throwing": [0, 47], "seconds": [0, 0]}
    there_and_back(plan_with((("wares", 1, "seen"), seen)), NOTHING_FILLED_IN, tmp_path)


KNOWN_SLOW = [HealthCheck.too_slow, HealthCheck.function_scoped_fixture]


@pytest.mark.slow
@settings(max_examples=12, deadline=None, suppress_health_check=KNOWN_SLOW)
@given(given_=filled())
def test_a_book_gives_back_its_plan_and_everything_filled_in(tmp_path: Path, given_: Filled) -> None:
    there_and_back(*given_, tmp_path)


@pytest.mark.long
@settings(max_examples=300, deadline=None, suppress_health_check=KNOWN_SLOW)
@given(given_=filled())
def test_many_books_give_back_their_plan_and_everything_filled_in(tmp_path: Path, given_: Filled) -> None:
    there_and_back(*given_, tmp_path)
