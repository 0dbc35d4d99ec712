"""The sale pack in its folder: whole, and without harm to what is there."""

import io
from datetime import date
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.styles import Protection

from salebook.base.errors import FileError
from salebook.jobs.make import put_pack

TODAY = date(2027, 3, 4)


def book_with(**inputs: str | float) -> bytes:
    """Return a workbook whose sheet Takings has some cells filled in, below a locked heading."""
    workbook = Workbook()
    sheet = workbook.active
    assert sheet is not None
    sheet.title = "Takings"
    sheet["A1"] = "piece"
    for row in range(2, 12):
        sheet[f"A{row}"].protection = Protection(locked=False)
    for address, value in inputs.items():
        sheet[address] = value
    content = io.BytesIO()
    workbook.save(content)
    return content.getvalue()


def put(folder: Path, content: bytes, *, force: bool = False) -> tuple[Path, ...]:
    return put_pack({"sale.xlsx": content, "labels.html": b"labels"}, folder, force=force, today=TODAY)


def test_the_folder_is_made_with_those_above_it(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    assert put(folder, book_with()) == (folder / "sale.xlsx", folder / "labels.html")
    assert sorted(path.name for path in folder.iterdir()) == ["labels.html", "sale.xlsx"]


def test_an_empty_workbook_is_replaced(tmp_path: Path) -> None:
    put(tmp_path, book_with())
    changed = book_with(A1="piece number")
    put(tmp_path, changed)
    assert (tmp_path / "sale.xlsx").read_bytes() == changed


@pytest.mark.parametrize("entry", ["LAN-001", 28, 0.5, "a note"])
def test_a_workbook_with_entries_is_never_overwritten(entry: str | float, tmp_path: Path) -> None:
    filled = book_with(A5=entry)
    put(tmp_path, filled)
    (tmp_path / "labels.html").write_bytes(b"old")
    with pytest.raises(FileError, match=r"sale\.xlsx: something has been filled in here.*--force"):
        put(tmp_path, book_with())
    assert (tmp_path / "sale.xlsx").read_bytes() == filled
    assert (tmp_path / "labels.html").read_bytes() == b"old"


def test_force_keeps_a_dated_copy_each_time(tmp_path: Path) -> None:
    for entry in ("first", "second"):
        put(tmp_path, book_with(A2=entry), force=True)
    put(tmp_path, book_with(), force=True)
    copies = sorted(tmp_path.glob("sale-*.xlsx"))
    assert [path.name for path in copies] == ["sale-2027-03-04-2.xlsx", "sale-2027-03-04.xlsx"]
    kept = {load_workbook(path)["Takings"]["A2"].value for path in copies}
    assert kept == {"first", "second"}


def test_entries_are_known_wherever_a_sort_has_moved_them(tmp_path: Path) -> None:
    put(tmp_path, book_with(A2="planned", A3="also planned"))
    put(tmp_path, book_with(A2="also planned", A3="planned", A4="planned"))
    with pytest.raises(FileError, match="filled in"):
        put(tmp_path, book_with(A2="planned", A3="also planned"))


@pytest.mark.parametrize("content", [b"", b"hello", b"PK\x03\x04broken"], ids=["empty", "text", "broken"])
def test_a_file_that_is_no_workbook_is_somebodys(content: bytes, tmp_path: Path) -> None:
    (tmp_path / "sale.xlsx").write_bytes(content)
    with pytest.raises(FileError, match="cannot be read as a workbook, so it stays as it is"):
        put(tmp_path, book_with())
    assert (tmp_path / "sale.xlsx").read_bytes() == content
    put(tmp_path, book_with(), force=True)
    assert content in {path.read_bytes() for path in tmp_path.glob("sale-*.xlsx")}


@pytest.mark.parametrize("mark", [".~lock.sale.xlsx#", "~$sale.xlsx"])
def test_a_workbook_that_is_open_elsewhere_is_noticed(mark: str, tmp_path: Path) -> None:
    (tmp_path / mark).touch()
    with pytest.raises(FileError, match="open in a spreadsheet program"):
        put(tmp_path, book_with())


def test_a_folder_that_is_a_file_is_said(tmp_path: Path) -> None:
    file = tmp_path / "pack"
    file.write_text("mine", encoding="utf-8")
    with pytest.raises(FileError, match="pack: this is a file, not a folder"):
        put(file, book_with())
    with pytest.raises(FileError, match="cannot be made"):
        put(file / "inside", book_with())
    assert file.read_text(encoding="utf-8") == "mine"


def test_a_folder_that_cannot_be_made_is_said() -> None:
    with pytest.raises(FileError, match="cannot be made"):
        put(Path("/proc/nowhere/pack"), book_with())
