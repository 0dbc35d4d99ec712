"""A workbook without the people on Hand over."""

import io
import subprocess
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.comments import Comment

from salebook.base.errors import FileError
from salebook.book.file.forgetting import without_people
from salebook.book.read import read_book
from salebook.book.write import book_bytes
from tests.support.cells import file_of, formula_cells, parts_of, sheet_parts
from tests.support.finished_sale import accounts
from tests.support.programs import libreoffice_command, needs_libreoffice
from tests.support.schema import violations
from tests.support.small_event import sale

PEOPLE = (b"Quill", b"960123", b"blue one", b"Ben Oss", b"Mill Row", b"zebra")


@pytest.fixture(scope="module")
def book() -> bytes:
    return book_bytes(sale(), accounts().event)


def parts_with_people(content: bytes) -> set[str]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    return {name for name, part in parts.items() if any(person in part for person in PEOPLE)}


def test_the_people_are_gone_from_every_part(book: bytes) -> None:
    assert parts_with_people(book) != set()
    assert parts_with_people(without_people(book, file="sale.xlsx")) == set()


def test_all_else_reads_back_as_before(book: bytes, tmp_path: Path) -> None:
    before, after = tmp_path / "before.xlsx", tmp_path / "after.xlsx"
    before.write_bytes(book)
    after.write_bytes(without_people(book, file="sale.xlsx"))
    read, again = read_book(before), read_book(after)
    assert read.entries.claims != ()
    assert replace(read.entries, claims=()) == again.entries
    assert (read.plan, read.sale_id, read.stored) == (again.plan, again.sale_id, again.stored)


def test_only_the_sheet_hand_over_is_changed(book: bytes) -> None:
    copy = without_people(book, file="sale.xlsx")
    with zipfile.ZipFile(io.BytesIO(book)) as old, zipfile.ZipFile(io.BytesIO(copy)) as new:
        assert old.namelist() == new.namelist()
        changed = [name for name in old.namelist() if old.read(name) != new.read(name)]
    assert len(changed) <= 2
    assert [name for name in changed if not name.startswith(("xl/worksheets/", "xl/sharedStrings"))] == []


def test_the_copy_keeps_to_the_file_format(book: bytes) -> None:
    copy = without_people(book, file="sale.xlsx")
    assert violations(copy) == []
    assert len(list(formula_cells(book))) == len(list(formula_cells(copy)))


def changed(book: bytes) -> bytes:
    """Return the book with names where people put them too: comments, links, margins, a renamed sheet."""
    workbook = load_workbook(io.BytesIO(book))
    sheet = workbook["Hand over"]
    sheet.title = "Fetching"
    cell = sheet["D7"]
    cell.value, cell.hyperlink = "zebra@example.org", "mailto:zebra@example.org"
    sheet["C8"].comment = Comment("zebra called", "the maker")
    sheet["L9"] = "zebra in the margin"
    content = io.BytesIO()
    workbook.save(content)
    return content.getvalue()


def test_names_in_comments_links_and_margins_go_too(book: bytes) -> None:
    messy = changed(book)
    assert len(parts_with_people(messy)) >= 3
    assert parts_with_people(without_people(messy, file="sale.xlsx")) == set()


@needs_libreoffice
def test_a_book_saved_by_another_program_is_emptied_as_well(book: bytes, tmp_path: Path) -> None:
    (tmp_path / "sale.xlsx").write_bytes(changed(book))
    out = ("--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", str(tmp_path / "saved"))
    command = libreoffice_command(tmp_path / "profile", *out, str(tmp_path / "sale.xlsx"))
    subprocess.run(command, check=True, capture_output=True)
    saved = (tmp_path / "saved" / "sale.xlsx").read_bytes()
    assert parts_with_people(saved) != set()
    copy = without_people(saved, file="sale.xlsx")
    assert parts_with_people(copy) == set()
    (tmp_path / "copy.xlsx").write_bytes(copy)
    assert read_book(tmp_path / "copy.xlsx").entries.claims == ()


def test_a_book_without_the_sheet_says_so(book: bytes) -> None:
    workbook = load_workbook(io.BytesIO(book))
    del workbook["Hand over"]
    content = io.BytesIO()
    workbook.save(content)
    with pytest.raises(FileError, match="no sheet Hand over"):
        without_people(content.getvalue(), file="sale.xlsx")


def test_a_sheet_that_is_written_otherwise_is_refused(book: bytes) -> None:
    parts = parts_of(book)
    part = sheet_parts(parts)["Hand over"]
    parts[part] = parts[part].decode("utf-8").encode("utf-16")
    content = file_of(parts)
    with pytest.raises(FileError, match="cannot be emptied"):
        without_people(content, file="sale.xlsx")
