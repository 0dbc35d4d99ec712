"""The room Making and selling: what its buttons do is what the commands do, in the commands' words."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from salebook.jobs.check import check_file, check_lines
from salebook.jobs.forecast import forecast_answer, forecast_from
from salebook.jobs.samples import FILLED, FULL, STUBS, packaged_samples
from salebook.page.shown import BAR
from tests.book.file.test_bad_files import zip_bomb
from tests.support.books import SAMPLES, SMALLEST, sample_book
from tests.support.paged import Page, text_of, upload

FIRST = SAMPLES[SMALLEST]


def with_plan(page: Page) -> Page:
    answer = page.send("/selling/plan", {"file": upload(FIRST.read_bytes(), "spring.toml")})
    assert answer.status_code == 200
    return page


def with_book(page: Page) -> Page:
    page.send("/selling/book", {"file": upload(sample_book(SMALLEST, filled_in=True), "sale.xlsx")})
    return page


def test_the_first_address_leads_to_the_plan(page: Page) -> None:
    assert page.get("/", follow_redirects=True).request.path == "/plan/"


def test_in_an_empty_folder_the_sample_can_be_taken(page: Page) -> None:
    assert "No plan lies here yet" in text_of(page.get("/selling/"))
    assert FULL in text_of(page.send("/selling/sample"))
    assert (page.folder / FULL).read_bytes() == (packaged_samples() / FULL).read_bytes()


def test_the_pack_is_made_as_the_command_makes_it(page: Page) -> None:
    said = text_of(with_plan(page).send("/selling/pack", {"source": "spring.toml", "tills": "1"}))
    assert "Made spring-pack/sale.xlsx: open it first and begin at its sheet Start here." in said
    assert said.count("spring-pack/labels.html") == 1
    made = {path.name for path in (page.folder / "spring-pack").iterdir()}
    assert {"sale.xlsx", "sale-till-1.xlsx", "labels.html", "poster.html", "sale.ics"} <= made
    assert page.get("/file/spring-pack/labels.html").status_code == 200


@pytest.mark.slow
def test_a_pack_with_entries_in_its_workbook_stays_until_it_is_said_twice(page: Page) -> None:
    with_plan(page)
    (page.folder / "spring-pack").mkdir()
    filled = sample_book(SMALLEST, filled_in=True)
    (page.folder / "spring-pack" / "sale.xlsx").write_bytes(filled)
    refused = page.send("/selling/pack", {"source": "spring.toml"})
    assert refused.status_code == 422
    assert "spring-pack/sale.xlsx: something has been filled in here" in text_of(refused)
    assert "have it replaced (--force, on the page a box to tick)" in text_of(refused)
    assert page.send("/selling/pack", {"source": "spring.toml", "force": "yes"}).status_code == 200
    copies = list((page.folder / "spring-pack").glob("sale-2*.xlsx"))
    assert [copy.read_bytes() for copy in copies] == [filled]


@pytest.mark.parametrize("tills", ["-1", "51", "two", "\u00b2"])
def test_a_number_that_is_none_is_said_at_its_name(page: Page, tills: str) -> None:
    refused = with_plan(page).send("/selling/pack", {"source": "spring.toml", "tills": tills})
    assert (refused.status_code, "Workbooks for tables: found" in text_of(refused)) == (422, True)


def test_all_faults_of_a_plan_are_said(page: Page) -> None:
    broken = (
        FIRST.read_bytes().replace(b"target = 240", b"target = -1").replace(b"wanted = 20", b"wanted = x")
    )
    page.send("/selling/plan", {"file": upload(broken, "bad.toml")})
    refused = page.send("/selling/pack", {"source": "bad.toml"})
    assert refused.status_code == 422
    assert text_of(refused).startswith("That could not be done bad.toml")


def test_a_book_is_shown_with_what_needs_a_look_and_how_it_stands(page: Page) -> None:
    shown = text_of(with_book(page).get("/selling/book/sale.xlsx"))
    checked = check_file(page.folder / "sale.xlsx")
    assert checked.assumed
    for line in (*check_lines(replace(checked, assumed=())), *checked.assumed):
        assert " ".join(line.replace(f"{page.folder}/", "").split()) in shown
    asked = forecast_from(page.folder / "sale.xlsx", now=None, today=None, clock=datetime.now())
    sentences = forecast_answer(asked, BAR).sentences
    assert [sentence for sentence in sentences if " ".join(sentence.split()) not in shown] == []
    assert sentences
    assert "The workbook calls this “salebook renew”." in shown
    assert "salebook check" not in shown
    assert "salebook price" not in shown


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04junk", b"plain text"])
def test_a_file_that_is_no_workbook_is_said_in_words(page: Page, content: bytes) -> None:
    shown = page.send("/selling/book", {"file": upload(content, "sale.xlsx")})
    assert shown.status_code == 200
    assert "sale.xlsx:" in text_of(shown)
    assert "How it stands" not in text_of(shown)


@pytest.mark.slow
def test_a_workbook_that_unpacks_to_far_more_is_not_read(page: Page) -> None:
    shown = page.send("/selling/book", {"file": upload(zip_bomb(), "sale.xlsx")})
    assert (shown.status_code, "far more" in text_of(shown)) == (200, True)


def test_the_prints_of_a_book_are_made_beside_it(page: Page) -> None:
    said = text_of(with_book(page).send("/selling/prints", {"source": "sale.xlsx"}))
    assert "The prints are made" in said
    assert "sale-prints/labels.html" in said
    assert not list((page.folder / "sale-prints").glob("*.xlsx"))


def test_a_book_is_renewed_under_a_changed_plan(page: Page) -> None:
    with_plan(with_book(page))
    said = text_of(page.send("/selling/renew", {"book": "sale.xlsx", "plan": "spring.toml"}))
    assert "Made sale-renewed.xlsx: all that was filled in is carried over from sale.xlsx." in said
    assert "From now on use sale-renewed.xlsx." in said


@pytest.mark.slow
def test_several_books_become_one(page: Page) -> None:
    with_plan(page).send("/selling/pack", {"source": "spring.toml", "tills": "1"})
    books = ["spring-pack/sale.xlsx", "spring-pack/sale-till-1.xlsx"]
    said = text_of(page.send("/selling/join", {"book": books, "name": "all.xlsx"}))
    assert "Made all.xlsx, in the order of time; lines of takings: 0." in said


@pytest.mark.parametrize("name", ["", "../all.txt", "/"])
def test_books_are_put_together_under_the_name_of_a_workbook(page: Page, name: str) -> None:
    refused = with_book(page).send("/selling/join", {"book": ["sale.xlsx"], "name": name})
    assert (refused.status_code, "let it end in .xlsx" in text_of(refused)) == (422, True)


def test_none_ticked_is_said(page: Page) -> None:
    assert "Tick the workbooks" in text_of(page.send("/selling/join", {"name": "all.xlsx"}))


def test_a_table_s_book_is_looked_at_without_the_sale(page: Page) -> None:
    with_plan(page).send("/selling/pack", {"source": "spring.toml", "tills": "1"})
    shown = page.get("/selling/book/spring-pack/sale-till-1.xlsx")
    assert shown.status_code == 200
    assert "How it stands" not in text_of(shown)


@pytest.mark.slow
def test_the_filled_in_sample_is_shown(page: Page) -> None:
    content = (packaged_samples() / FILLED).read_bytes()
    shown = text_of(page.send("/selling/book", {"file": upload(content, FILLED)}))
    assert "to look at: Takings, row" in shown


def test_stubs_without_a_photograph_are_said(page: Page) -> None:
    refused = with_book(page).send("/selling/stubs", {"book": "sale.xlsx", "pile": "cash"})
    assert (refused.status_code, "Choose photographs" in text_of(refused)) == (422, True)


@pytest.mark.parametrize("pile", ["../cash", "/etc", ".", "a/b", ""])
def test_no_pile_leads_out_of_the_folder(page: Page, tmp_path: Path, pile: str) -> None:
    photo = upload(b"\xff\xd8", "a.jpg")
    refused = with_book(page).send("/selling/stubs", {"book": "sale.xlsx", "pile": pile, "photos-0": photo})
    assert (refused.status_code, list(tmp_path.rglob("a.jpg"))) == (422, [])


@pytest.mark.slow
def test_photographs_of_stubs_become_lines(page: Page) -> None:
    page.send("/selling/sample")
    page.send("/selling/pack", {"source": FULL})
    photo = upload((packaged_samples() / STUBS).read_bytes(), "IMG_1.jpg")
    book = "harbour-weekend-pack/sale.xlsx"
    assert 'name="photos-2"' in page.get(f"/selling/book/{book}").text
    fields = {"book": book, "day": "2027-06-19", "pile": "cash", "photos-0": photo, "count-0": "12"}
    said = text_of(page.send("/selling/stubs", fields))
    assert "cash: stubs read: 12 of 12." in said
    assert "Made harbour-weekend-pack/sale-stubs.xlsx: 12 lines are added" in said
    assert (page.folder / "sale-photos" / "2027-06-19" / "cash" / "IMG_1.jpg").is_file()
