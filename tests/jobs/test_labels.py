"""Labels by themselves, from a plan or a workbook."""

from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from salebook.base.errors import FileError, WrongUseError
from salebook.book.write import book_bytes
from salebook.event.entries import Claim, Entries, Line, PieceEntry
from salebook.event.event import Event, reckon_event
from salebook.jobs.labels import (
    LabelOptions,
    addressing_from,
    comes_as_pdf,
    labelling_from,
    nudge_of,
    print_remarks,
    printed,
)
from salebook.prints.labels.pieces import pieces_as_they_are, pieces_on_the_table
from salebook.reckoning import reckon
from tests.prints.labels.test_labels import labels_in
from tests.support.print_sales import sale
from tests.support.programs import needs_weasyprint

ENTRIES = Entries(
    lines=(
        Line(number=1, kind="sale", piece="LAN-001", way="cash"),
        Line(number=2, kind="deposit", piece="LAN-002", amount=sale().plan.wares[0].price / 4, way="cash"),
    ),
    pieces={
        "LAN-003": PieceEntry(mishap="broken"),
        "LAN-004": PieceEntry(reserved_for="1"),
        "LAN-005": PieceEntry(grade="second"),
    },
    made={"LAN": 6},
)


def event_of(entries: Entries) -> Event:
    return reckon_event(sale(), entries)


def numbers(event: Event, *, only_made: bool = False, without_reserved: bool = False) -> list[str]:
    found = pieces_on_the_table(event, only_made=only_made, without_reserved=without_reserved)
    return [piece.number for piece in found]


def test_labels_are_for_what_came_out_of_the_kiln_and_waits_to_be_sold() -> None:
    given = ["SPN-001", "SPN-002"]
    assert numbers(event_of(ENTRIES)) == ["LAN-002", "LAN-004", "LAN-005", "LAN-006", *given]
    assert numbers(event_of(ENTRIES), without_reserved=True) == ["LAN-005", "LAN-006", *given]
    assert numbers(event_of(ENTRIES), only_made=True) == ["LAN-002", "LAN-004", "LAN-005", "LAN-006"]


def test_without_a_count_labels_are_for_what_is_planned_and_none_are_made() -> None:
    reckoning = sale()
    planned = reckoning.studio.runs[0].for_sale + 2
    assert len(numbers(event_of(Entries()))) == planned
    assert numbers(event_of(Entries()), only_made=True) == []


def test_a_piece_that_turned_out_a_second_is_one() -> None:
    pieces = {piece.number: piece for piece in pieces_as_they_are(event_of(ENTRIES))}
    assert (pieces["LAN-005"].planned_grade, pieces["LAN-006"].planned_grade) == ("second", "first")
    assert "LAN-001" in pieces


def test_of_a_ware_without_numbers_each_piece_that_is_left_gets_a_label() -> None:
    reckoning = sale()
    ware = reckoning.plan.wares[0].model_copy(update={"numbered": False})
    plan = reckoning.plan.model_copy(update={"wares": (ware,)})
    entries = Entries(made={"LAN": 9}, lines=(Line(number=1, piece="LAN", count=2, way="cash"),))
    pieces = pieces_on_the_table(reckon_event(reckon(plan), entries), only_made=True)
    assert [(piece.number, piece.count) for piece in pieces] == [("LAN", 7)]


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    file = tmp_path_factory.mktemp("book") / "sale.xlsx"
    file.write_bytes(book_bytes(sale(), event_of(ENTRIES)))
    return file


def test_a_workbook_gives_the_pieces_that_are_there(book: Path) -> None:
    labelling = labelling_from(book, without_reserved=True)
    texts = labels_in(printed(labelling, LabelOptions()).decode())
    assert texts[0] == "Lantern | second | 14 × 7 cm | Wash by hand | Millrace studio | £12.00 | LAN-005"
    assert [text.rpartition(" ")[2] for text in texts] == ["LAN-005", "LAN-006", "SPN-001", "SPN-002"]


def test_a_sold_piece_gets_a_label_where_it_is_named(book: Path) -> None:
    options = LabelOptions(only="LAN-001,LAN-020")
    texts = labels_in(printed(labelling_from(book, only=options.only), options).decode())
    assert [text.rpartition(" ")[2] for text in texts] == ["LAN-001", "LAN-020"]


@pytest.mark.parametrize("option", ["only_made", "without_reserved"])
def test_a_plan_does_not_know_what_was_made_or_reserved(option: str) -> None:
    first = Path(__file__).parent.parent.parent / "sample_data" / "first-sale.toml"
    with pytest.raises(WrongUseError, match="name the sale's workbook"):
        labelling_from(first, only_made=option == "only_made", without_reserved=option == "without_reserved")


@pytest.mark.parametrize("option", ["only_made", "without_reserved"])
def test_named_pieces_are_never_left_out_in_silence(option: str, book: Path) -> None:
    with pytest.raises(WrongUseError, match="leave out --made and --without-reserved"):
        labelling_from(
            book,
            only="LAN-004",
            only_made=option == "only_made",
            without_reserved=option == "without_reserved",
        )


def test_where_nothing_is_left_that_is_said(tmp_path: Path) -> None:
    file = tmp_path / "sale.xlsx"
    file.write_bytes(book_bytes(sale(), event_of(Entries())))
    with pytest.raises(
        WrongUseError, match="no piece to print a label for; count on Making what came out of the kiln"
    ):
        labelling_from(file, only_made=True)


def test_a_workbook_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"nowhere\.xlsx"):
        labelling_from(tmp_path / "nowhere.xlsx")


@pytest.mark.parametrize(
    ("text", "nudge"), [("0.5,-1", (0.5, -1.0)), ("0,0", (0.0, 0.0)), (" 1 , 2 ", (1.0, 2.0))]
)
def test_a_nudge_is_read(text: str, nudge: tuple[float, float]) -> None:
    assert nudge_of(text) == nudge


@pytest.mark.parametrize("text", ["", "1", "1,2,3", "a,b", "1;2"])
def test_what_is_no_nudge_is_named(text: str) -> None:
    with pytest.raises(WrongUseError, match="expected two numbers in mm"):
        nudge_of(text)


@pytest.mark.parametrize("nudge", ["nan,0", "0,inf"])
def test_a_nudge_to_nowhere_is_off_the_page(nudge: str, book: Path) -> None:
    labelling = labelling_from(book)
    with pytest.raises(WrongUseError, match="off the page"):
        printed(labelling, LabelOptions(nudge=nudge))


@pytest.mark.parametrize(
    "options",
    [
        LabelOptions(tags=True, skip=1),
        LabelOptions(tags=True, outline=True),
        LabelOptions(tags=True, nudge="1,0"),
    ],
)
def test_tags_know_no_sheets_of_labels(options: LabelOptions, book: Path) -> None:
    labelling = labelling_from(book)
    with pytest.raises(WrongUseError, match="sheets of labels"):
        printed(labelling, options)


def test_a_nudge_into_the_printers_margin_is_warned_about(book: Path) -> None:
    labelling = labelling_from(book)
    assert print_remarks(labelling, LabelOptions()) == ()
    (remark,) = print_remarks(labelling, LabelOptions(nudge="-3,0"))
    assert "paper's edge" in remark


@needs_weasyprint
@pytest.mark.parametrize(
    ("options", "file"),
    [
        (LabelOptions(as_pdf=True), "labels.pdf"),
        (LabelOptions(as_pdf=True, tags=True), "tags.pdf"),
        (LabelOptions(tags=True, claim_slips=True), "tags.html"),
        (LabelOptions(outline=True), "labels.html"),
    ],
)
def test_labels_and_tags_come_as_html_or_pdf(options: LabelOptions, file: str, book: Path) -> None:
    made = printed(labelling_from(book), options)
    assert str(options.usual_file) == file
    assert made.startswith(b"%PDF") == file.endswith(".pdf")


@pytest.mark.parametrize(
    ("file", "asked", "as_pdf"),
    [
        (None, False, False),
        (None, True, True),
        ("-", False, False),
        ("-", True, True),
        ("some.html", False, False),
        ("some.HTM", False, False),
        ("some.pdf", True, True),
        ("some.PDF", False, True),
    ],
)
def test_the_name_of_the_file_says_if_it_is_a_pdf(file: str | None, asked: bool, as_pdf: bool) -> None:
    assert comes_as_pdf(None if file is None else Path(file), asked=asked) == as_pdf


@pytest.mark.parametrize(
    ("file", "asked", "expected"),
    [
        ("x.html", True, r"x\.html: expected a name that ends in \.pdf"),
        ("sale.xlsx", False, r"sale\.xlsx: expected a name that ends in \.html or \.pdf"),
        ("sale.xlsx", True, r"sale\.xlsx: expected a name that ends in \.pdf"),
        ("labels", False, r"labels: expected a name that ends in \.html or \.pdf"),
    ],
)
def test_labels_never_go_into_a_file_of_another_kind(file: str, asked: bool, expected: str) -> None:
    with pytest.raises(WrongUseError, match=expected):
        comes_as_pdf(Path(file), asked=asked)


def test_a_workbook_is_known_by_what_is_in_it_too(book: Path, tmp_path: Path) -> None:
    copy = tmp_path / "sale of the weekend"
    copy.write_bytes(book.read_bytes())
    assert labelling_from(copy) == labelling_from(book)


@pytest.mark.slow
@pytest.mark.parametrize("title", ["Pieces", "Our pots"])
def test_what_is_odd_on_the_sheet_of_pieces_is_said_first(title: str, book: Path, tmp_path: Path) -> None:
    workbook = load_workbook(book)
    sheet = workbook["Pieces"]
    (cell,) = [
        cell
        for row in sheet.iter_rows()
        for cell in row
        if cell.value == "broken" and not cell.protection.locked
    ]
    cell.value, sheet.title = "eaten", title
    file = tmp_path / "odd.xlsx"
    workbook.save(file)
    labelling = labelling_from(file)
    (question,) = labelling.questions
    assert question.startswith(f"{title}, row {cell.row}: ")
    assert print_remarks(labelling, LabelOptions())[0] == question


CLAIMS = (
    Claim(claim="C1", name="Ada Quill", contact="5 Mill Row", how="collecting"),
    Claim(claim="C2", name="Ben Oss", contact="4 Mill Row", how="posting"),
    Claim(claim="C3", name="Una Marl", contact="6 Mill Row", how="posting", done=True),
)
ASKED = LabelOptions(addresses=True)


def book_with(folder: Path, *claims: Claim) -> Path:
    book = folder / "sale.xlsx"
    book.write_bytes(book_bytes(sale(), event_of(Entries(claims=claims))))
    return book


def test_address_labels_are_for_what_is_still_to_be_sent(tmp_path: Path) -> None:
    labelling = addressing_from(book_with(tmp_path, *CLAIMS), ASKED)
    text = printed(labelling, ASKED).decode()
    assert [name for name in ("Ada", "Ben Oss", "Una", "5 Mill", "4 Mill Row", "6 Mill") if name in text] == [
        "Ben Oss",
        "4 Mill Row",
    ]
    assert ASKED.usual_file == Path("addresses.html")
    assert print_remarks(labelling, ASKED)[-1].startswith("Names and addresses stand on these labels")


@pytest.mark.slow
@pytest.mark.parametrize("tags", [False, True])
def test_nobodys_name_stands_on_labels_that_are_not_address_labels(tags: bool, tmp_path: Path) -> None:
    options = LabelOptions(tags=tags)
    text = printed(labelling_from(book_with(tmp_path, *CLAIMS)), options).decode()
    assert [claim for claim in CLAIMS if claim.name in text or claim.contact in text] == []


@pytest.mark.slow
@pytest.mark.parametrize(
    "other", [{"only": "LAN-001"}, {"tags": True}, {"claim_slips": True}, {"outline": True}]
)
def test_address_labels_go_with_nothing_that_chooses_pieces(other: dict[str, Any], tmp_path: Path) -> None:
    book = book_with(tmp_path, *CLAIMS)
    with pytest.raises(WrongUseError, match="--addresses goes together with"):
        addressing_from(book, LabelOptions(addresses=True, **other))
    with pytest.raises(WrongUseError, match="--addresses goes together with"):
        addressing_from(book, ASKED, chosen_by_state=True)


def test_a_book_with_nothing_to_send_says_so(tmp_path: Path) -> None:
    book = book_with(tmp_path, CLAIMS[0])
    with pytest.raises(WrongUseError, match="nothing on the sheet Hand over is to be sent"):
        addressing_from(book, ASKED)


@needs_weasyprint
def test_address_labels_come_as_pdf(tmp_path: Path) -> None:
    options = LabelOptions(addresses=True, as_pdf=True)
    assert printed(addressing_from(book_with(tmp_path, *CLAIMS), options), options).startswith(b"%PDF")
    assert options.usual_file == Path("addresses.pdf")
