"""A book made in one language is read in another: by marks, never by words that are translated."""

import re
from collections import defaultdict
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, nullcontext
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from salebook.base.words import _
from salebook.book.declared import declared
from salebook.book.file.filled_in import is_filled_in
from salebook.book.file.forgetting import without_people
from salebook.book.marks import sheet_mark
from salebook.book.read import BookRead, read_any_book, read_book
from salebook.book.write import book_bytes, till_book_bytes
from salebook.event.entries import Entries
from salebook.event.event import reckon_event
from salebook.jobs.samples import FILLED
from salebook.reckoning import Reckoning, reckon
from tests.support.books import ROOT, few_free_lines
from tests.support.pseudo import in_pseudo, pseudo

pytestmark = pytest.mark.slow

Language = Callable[[], AbstractContextManager[None]]
ONE_AND_THE_OTHER: tuple[tuple[Language, Language], ...] = (
    (in_pseudo, nullcontext),
    (nullcontext, in_pseudo),
)
both_ways = pytest.mark.parametrize(
    ("made", "read_in"), ONE_AND_THE_OTHER, ids=["into English", "from English"]
)


@pytest.fixture(scope="module")
def filled_in() -> tuple[Reckoning, Entries]:
    """The sample after its weekend: something stands in every table that people fill in."""
    read = read_book(ROOT / "sample_data" / FILLED)
    return reckon(read.plan), read.entries


def book_in(language: Language, reckoning: Reckoning, entries: Entries) -> bytes:
    with language(), few_free_lines():
        return book_bytes(reckoning, reckon_event(reckoning, entries), sale_id="abc", book_id="CD34F")


def read_in_language(language: Language, content: bytes, folder: Path) -> BookRead:
    file = folder / "book.xlsx"
    file.write_bytes(content)
    with language():
        return read_book(file)


@both_ways
def test_a_filled_in_book_says_the_same_in_either(
    made: Language, read_in: Language, filled_in: tuple[Reckoning, Entries], tmp_path: Path
) -> None:
    reckoning, entries = filled_in
    content = book_in(made, reckoning, entries)
    here, there = (read_in_language(language, content, tmp_path) for language in (made, read_in))
    assert entries.actual_costs
    assert entries.claims
    assert there.entries == here.entries
    assert there.plan == here.plan == reckoning.plan
    assert (there.stored, there.rows, there.uncounted) == (here.stored, here.rows, here.uncounted)
    assert [(asked.sheet, asked.row) for asked in there.questions] == [
        (asked.sheet, asked.row) for asked in here.questions
    ]


@both_ways
def test_nothing_is_filled_in_in_a_fresh_book_of_another_language(
    made: Language, read_in: Language, filled_in: tuple[Reckoning, Entries], tmp_path: Path
) -> None:
    reckoning, entries = filled_in
    file = tmp_path / "book.xlsx"
    fresh = book_in(made, reckoning, Entries())
    file.write_bytes(book_in(read_in, reckoning, Entries()))
    assert not is_filled_in(file, fresh)
    file.write_bytes(book_in(read_in, reckoning, entries))
    assert is_filled_in(file, fresh)


@both_ways
def test_the_book_of_one_table_is_read_too(
    made: Language, read_in: Language, filled_in: tuple[Reckoning, Entries], tmp_path: Path
) -> None:
    file = tmp_path / "till.xlsx"
    with made():
        so_far = reckon_event(filled_in[0], Entries())
        file.write_bytes(till_book_bytes(filled_in[0], so_far, till="2", book_id="CD34G"))
        here = read_any_book(file)
    with read_in():
        there = read_any_book(file)
    assert (there.entries, there.till, there.book_id, there.questions) == (here.entries, "2", "CD34G", ())


def test_people_are_taken_out_of_a_book_in_any_language(filled_in: tuple[Reckoning, Entries]) -> None:
    content = book_in(in_pseudo, *filled_in)
    emptied = without_people(content, file="book.xlsx")
    names = {claim.name for claim in filled_in[1].claims if claim.name}
    assert names <= texts_of(content)
    assert not names & texts_of(emptied)


def texts_of(content: bytes) -> set[object]:
    return {cell.value for sheet in opened(content).worksheets for row in sheet.iter_rows() for cell in row}


def opened(content: bytes) -> Any:
    return load_workbook(BytesIO(content))


@both_ways
def test_a_sheet_may_be_called_anything(
    made: Language, read_in: Language, filled_in: tuple[Reckoning, Entries], tmp_path: Path
) -> None:
    """A program that renames a sheet renames it in every name; a copy takes none of these names with it."""
    workbook = opened(book_in(made, *filled_in))
    with made():
        takings = workbook[_("Takings")]
    copy = workbook.copy_worksheet(takings)
    workbook.move_sheet(copy, -len(workbook.worksheets) + 1)
    before, takings.title = takings.title, "Who's been"
    copy.title = before
    for name in workbook.defined_names.values():
        name.attr_text = name.attr_text.replace(f"'{before}'!", "'Who''s been'!")
    file = BytesIO()
    workbook.save(file)
    read = read_in_language(read_in, file.getvalue(), tmp_path)
    assert {line.number for line in read.entries.lines} == {line.number for line in filled_in[1].lines}
    assert read.sheets["Takings"] == "Who's been"
    assert before in {asked.sheet for asked in read.questions}


def test_every_sheet_carries_a_mark_and_every_table_is_on_one(filled_in: tuple[Reckoning, Entries]) -> None:
    workbook = opened(book_in(in_pseudo, *filled_in))
    marked = {
        mark: name.attr_text.rpartition("!")[0].strip("'")
        for mark, name in workbook.defined_names.items()
        if mark.startswith("sheet_")
    }
    assert sorted(marked.values()) == sorted(workbook.sheetnames)
    assert marked["sheet_hand_over"] == pseudo("Hand over")
    with in_pseudo():
        homes = {sheet_mark(table.sheet) for table in declared().values()}
    assert homes - {sheet_mark("This table")} <= marked.keys()


def test_no_two_tables_of_a_book_share_a_key(filled_in: tuple[Reckoning, Entries]) -> None:
    """A table may have several parts, on one sheet and with keys of its own."""
    sheets = defaultdict(set)
    for sheet, key in keys_of(opened(book_in(nullcontext, *filled_in))):
        sheets[key].add(sheet)
    assert len(sheets) > 30
    assert {key: there for key, there in sheets.items() if len(there) > 1} == {}


def keys_of(workbook: Any) -> Iterator[tuple[str, str]]:
    for sheet in workbook.worksheets:
        for row in sheet.iter_rows(max_col=3, values_only=True):
            found = (re.fullmatch(r"\[([a-z_.]+)\]", str(value)) for value in row)
            yield from ((sheet.title, key[1]) for key in found if key)
