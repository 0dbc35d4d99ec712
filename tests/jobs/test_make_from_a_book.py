"""A pack made from a workbook holds what there is: out of the kiln, at its grade and price, not sold."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from shutil import copy

import pytest

from salebook.base.errors import FileError
from salebook.book.read import read_any_book, read_book
from salebook.book.write import book_bytes
from salebook.event.entries import Claim, Entries, PieceEntry
from salebook.event.event import reckon_event
from salebook.jobs.make import DIARY, PackSource, make_pack, pack_source, put_pack
from salebook.jobs.renew import renew
from salebook.making.studio_tally import StudioCount
from salebook.reckoning import reckon
from tests.support.cells import values_of
from tests.support.command_line import run_salebook
from tests.support.finished_sale import TODAY, rows
from tests.support.small_event import line, sale

FILLED = Entries(
    studio={"MAY": StudioCount(good=2, seconds=2), "DOT": StudioCount(good=20)},
    pieces={"MAY-001": PieceEntry(reserved_for="7"), "D1-002": PieceEntry(mishap="broken")},
    lines=(line(1, piece="MAY-003"), line(2, "deposit", "MAY-002", "8", claim="9")),
    claims=(Claim(claim="7", name="A. Person"),),
)


@pytest.fixture(scope="module")
def filled_in(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("filled-in") / "sale.xlsx"
    file.write_bytes(book_bytes(sale(), reckon_event(sale(), FILLED), book_id="CD34G"))
    return file


@pytest.fixture
def book(filled_in: Path, tmp_path: Path) -> Path:
    return Path(copy(filled_in, tmp_path))


@pytest.fixture(scope="module")
def pack(filled_in: Path) -> Mapping[str, bytes]:
    return make_pack(pack_source(filled_in), tills=1, book_ids=["", "CD34H"])


def test_labels_are_for_the_pieces_that_wait_to_be_sold(pack: Mapping[str, bytes]) -> None:
    text = pack["labels.html"].decode()
    assert [f"MAY-00{n}" for n in range(1, 8) if f"MAY-00{n}" in text] == ["MAY-001", "MAY-002", "MAY-004"]
    assert ("D1-001" in text, "D1-002" in text) == (True, False)


def listed(pack: Mapping[str, bytes]) -> list[tuple[str, str]]:
    """Return the first word and the price of each row of the price list."""
    words = (row.split() for row in rows(pack["price-list.html"].decode()) if "£" in row)
    return [(row[0], row[-1]) for row in words]


def test_the_price_list_has_what_is_left_at_its_price(pack: Mapping[str, bytes]) -> None:
    assert listed(pack) == [("Mug", "£28.00"), ("Mug", "£18.00"), ("Thimble", "£1.50"), ("Carved", "£14.50")]


@pytest.mark.slow
def test_what_is_sold_out_is_not_on_the_price_list(book: Path) -> None:
    gone = (line(3, piece="MAY-004"), line(4, piece="DOT", count=20))
    more = replace(FILLED, lines=(*FILLED.lines, *gone))
    book.write_bytes(book_bytes(sale(), reckon_event(sale(), more)))
    pack = make_pack(pack_source(book), prints_only=True)
    assert listed(pack) == [("Mug", "£28.00"), ("Carved", "£14.50")]


def test_the_workbook_has_all_that_was_filled_in(pack: Mapping[str, bytes], tmp_path: Path) -> None:
    fresh = tmp_path / "fresh.xlsx"
    fresh.write_bytes(pack["sale.xlsx"])
    read = read_book(fresh)
    assert (read.entries.studio, read.entries.pieces) == (FILLED.studio, FILLED.pieces)
    assert [one.piece for one in read.entries.lines] == ["MAY-003", "MAY-002"]
    assert (read.book_id, read.questions) == ("CD34G", ())


def test_a_tables_book_knows_what_is_there_and_spoken_for_and_no_name(
    pack: Mapping[str, bytes], tmp_path: Path
) -> None:
    till = tmp_path / "till.xlsx"
    till.write_bytes(pack["sale-till-1.xlsx"])
    read = read_any_book(till)
    assert {number: entry.reserved_for for number, entry in read.entries.pieces.items()} == {
        **{"MAY-001": "7", "MAY-002": "9", "D1-002": ""},
    }
    assert (read.entries.lines, read.entries.claims) == ((), ())
    shown = values_of(pack["sale-till-1.xlsx"])
    standing = [value for (sheet, at), value in sorted(shown.items()) if sheet == "Pieces" and at[0] == "H"]
    assert standing.count("not made") == 2


def test_prints_alone_leave_workbooks_alone(book: Path, tmp_path: Path) -> None:
    before = book.read_bytes()
    files = make_pack(pack_source(book), prints_only=True)
    paths = put_pack(files, tmp_path, force=False, today=TODAY, source=book)
    assert {path.suffix for path in paths} == {".html", ".ics"}
    assert book.read_bytes() == before


@pytest.mark.slow
@pytest.mark.parametrize("force", [False, True])
def test_the_book_that_a_pack_is_made_from_is_never_overwritten(book: Path, force: bool) -> None:
    files = make_pack(pack_source(book))
    with pytest.raises(FileError, match="--prints-only"):
        put_pack(files, book.parent, force=force, today=TODAY, source=book)


def test_a_plan_has_labels_for_all_that_is_planned() -> None:
    text = make_pack(PackSource(reckoning=sale()), prints_only=True)["labels.html"].decode()
    assert "MAY-005" in text


def test_a_renewed_book_has_for_sale_what_is_there(book: Path) -> None:
    renewed = renew(book, plan=None, today=TODAY).path
    shown = values_of(renewed.read_bytes())
    (row,) = [
        at[1:] for (sheet, at), value in shown.items() if sheet == "Price" and value == "of pieces for sale"
    ]
    assert shown["Price", f"C{row}"] == 2 + 2 + 20 + 2


@pytest.mark.slow
def test_prints_alone_and_books_of_tables_exclude_each_other(book: Path) -> None:
    ran = run_salebook("make", book, "-o", book.parent, "--prints-only", "--tills", "2")
    assert (ran.returncode, ran.stdout) == (2, "")
    assert "leave out --tills" in ran.stderr


def test_the_diary_of_a_book_keeps_its_entries_under_another_title(book: Path) -> None:
    def uids(source: PackSource) -> list[str]:
        diary = make_pack(source, prints_only=True)[DIARY].decode()
        return [line for line in diary.split("\r\n") if line.startswith("UID:")]

    source = pack_source(book)
    plan = source.reckoning.plan
    retitled = plan.model_copy(update={"sale": plan.sale.model_copy(update={"title": "Another title"})})
    assert uids(replace(source, reckoning=reckon(retitled))) == uids(source)
    assert uids(PackSource(reckoning=source.reckoning)) == uids(source)
    assert uids(PackSource(reckoning=reckon(retitled))) != uids(source)
