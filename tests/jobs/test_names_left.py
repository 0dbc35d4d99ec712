"""Which files beside a workbook still hold names."""

from dataclasses import replace
from pathlib import Path

import pytest

from salebook.book.file.forgetting import without_people
from salebook.book.write import book_bytes
from salebook.event.event import reckon_event
from salebook.event.report import Report
from salebook.jobs.names_left import NamesLeft, names_left, names_left_lines
from tests.support.finished_sale import accounts
from tests.support.small_event import sale

PRINT = "<td>{}</td>"


@pytest.fixture(scope="module")
def books() -> dict[str, bytes]:
    report = accounts()
    nobody = reckon_event(sale(), replace(report.event.entries, claims=()))
    with_people = book_bytes(sale(), report.event, sale_id="ours")
    return {
        "sale.xlsx": with_people,
        "sale-2027-06-20.xlsx": with_people,
        "sale-stubs.xlsx": with_people,
        "sale-without-people.xlsx": without_people(with_people, file="sale.xlsx"),
        "sale-till-1.xlsx": book_bytes(sale(), nobody, sale_id="ours"),
        "another-sale.xlsx": book_bytes(sale(), report.event, sale_id="theirs"),
        "torn.xlsx": with_people[:900],
    }


@pytest.fixture
def folder(books: dict[str, bytes], tmp_path: Path) -> Path:
    """A folder with one book in it."""
    (tmp_path / "sale.xlsx").write_bytes(books["sale.xlsx"])
    return tmp_path


def found(folder: Path, out: Path | None = None, *, report: Report | None = None) -> NamesLeft:
    return names_left(folder / "sale.xlsx", out or folder / "accounts", report or accounts())


def names(files: tuple[Path, ...]) -> list[str]:
    return [file.name for file in files]


@pytest.mark.slow
def test_other_books_of_the_sale_with_people_are_found(books: dict[str, bytes], tmp_path: Path) -> None:
    for name, content in books.items():
        (tmp_path / name).write_bytes(content)
    left = found(tmp_path)
    assert sorted(names(left.buyers)) == ["sale-2027-06-20.xlsx", "sale-stubs.xlsx", "sale.xlsx"]
    assert names(left.unread) == ["torn.xlsx"]


@pytest.mark.parametrize(
    ("file", "text", "is_found"),
    [
        ("collection.html", PRINT.format("Ada Quill"), True),
        ("my list.csv", "7,ben oss,paid", True),
        ("notes.txt", "ring 01632 960123", True),
        ("price-list.html", PRINT.format("Mug"), False),
        ("other.csv", "Ben Ossian", False),
    ],
)
def test_texts_are_found_by_what_stands_in_them(file: str, text: str, is_found: bool, folder: Path) -> None:
    out = folder / "accounts"
    out.mkdir()
    (out / file).write_text(text, encoding="utf-8")
    pdf = (out / file).with_suffix(".pdf")
    pdf.write_bytes(b"%PDF-")
    buyers = found(folder).buyers
    assert [path in buyers for path in (out / file, pdf)] == [is_found, is_found]


def test_a_printed_list_is_found_although_its_page_is_gone(folder: Path) -> None:
    (folder / "collection.pdf").write_bytes(b"%PDF-")
    assert folder / "collection.pdf" in found(folder).buyers


def test_those_who_gave_and_counted_stand_apart(folder: Path) -> None:
    (folder / "thanks-1.html").write_text(PRINT.format("A neighbour"), encoding="utf-8")
    (folder / "statement.html").write_text(PRINT.format("Ivy Marsh"), encoding="utf-8")
    left = found(folder, folder)
    assert names(left.others) == ["statement.html", "thanks-1.html"]


def test_photographs_are_counted_folder_by_folder(folder: Path) -> None:
    pile = folder / "piles" / "cash"
    pile.mkdir(parents=True)
    for number in range(3):
        (pile / f"{number}.JPG").write_bytes(b"")
    (folder / "sale-stubs-cash-0.jpg").write_bytes(b"")
    deeper = pile / "a" / "b"
    deeper.mkdir(parents=True)
    (deeper / "holiday.png").write_bytes(b"")
    left = found(folder, folder)
    assert left.photos == ((folder, 1), (pile, 3))
    assert list(names_left_lines(left))[-2:] == [
        f"{folder}: 1 picture, which may show a name",
        f"{pile}: 3 pictures, which may show names",
    ]
