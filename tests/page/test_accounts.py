"""The room Accounts: statement, letters, the list to check, a copy without names, in the commands' words."""

from datetime import date

import pytest

from salebook.event.question import question_line
from salebook.jobs.report import report_lines, report_on
from tests.support.books import SMALLEST, sample_book
from tests.support.paged import Page, text_of, upload


@pytest.fixture
def with_book(page: Page) -> Page:
    (page.folder / "sale.xlsx").write_bytes(sample_book(SMALLEST, filled_in=True))
    return page


def plain(text: str, page: Page) -> str:
    return " ".join(text.replace(f"{page.folder}/", "").split())


def test_without_a_workbook_it_leads_to_where_one_is_put(page: Page) -> None:
    shown = page.get("/accounts/")
    assert "No workbook lies here yet." in text_of(shown)
    assert 'href="/selling/"' in shown.text


def test_the_accounts_are_made_and_told_as_the_command_does(with_book: Page) -> None:
    said = text_of(with_book.send("/accounts/report", {"book": "sale.xlsx"}))
    report = report_on(with_book.folder / "sale.xlsx")
    for line in (*report_lines(report), *map(question_line, report.questions)):
        assert plain(line, with_book) in said
    made = {path.name for path in (with_book.folder / "sale-accounts").iterdir()}
    assert {"statement.html", "lines.csv", "check.html", "poster-after.html"} <= made


def test_final_accounts_are_refused_while_anything_needs_a_look(
    with_book: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("salebook.event.report.Report.is_final", False)
    refused = with_book.send("/accounts/report", {"book": "sale.xlsx", "final": "yes"})
    assert refused.status_code == 422
    assert "Nothing was written." in text_of(refused)


def test_the_page_of_an_evening_is_made(with_book: Page) -> None:
    day = report_on(with_book.folder / "sale.xlsx").plan.sale.days[0]
    said = text_of(with_book.send("/accounts/evening", {"book": "sale.xlsx", "day": day.isoformat()}))
    assert f"evening-{day}.html" in said


@pytest.mark.parametrize(
    ("day", "says"),
    [
        ("", "Say of which day"),
        ("19 June", "The day: found 19 June, expected a date"),
        (date(1999, 1, 1).isoformat(), "1999"),
    ],
)
def test_a_day_that_is_none_is_said(with_book: Page, day: str, says: str) -> None:
    refused = with_book.send("/accounts/evening", {"book": "sale.xlsx", "day": day})
    assert (refused.status_code, says in text_of(refused)) == (422, True)


def test_a_list_is_added_up_again(with_book: Page) -> None:
    with_book.send("/accounts/report", {"book": "sale.xlsx"})
    content = (with_book.folder / "sale-accounts" / "lines.csv").read_bytes()
    found = with_book.send("/accounts/check", {"file": upload(content, "lines.csv")})
    said = text_of(found)
    assert "Fingerprint of this list:" in said
    assert "What each group gets" in said
    fingerprint = said.partition("Fingerprint of this list: ")[2][:24]
    same = with_book.send(
        "/accounts/check", {"file": upload(content, "lines.csv"), "fingerprint": fingerprint}
    )
    assert "This is the same list as on your letter" in text_of(same)
    changed = with_book.send(
        "/accounts/check",
        {"file": upload(content.replace(b"5", b"6"), "lines.csv"), "fingerprint": fingerprint},
    )
    assert "This is the same list" not in text_of(changed)


@pytest.mark.parametrize("content", [b"", b"a,b\n1,2\n", b"\xff\xfe\x00"])
def test_what_is_no_list_is_said(page: Page, content: bytes) -> None:
    found = page.send("/accounts/check", {"file": upload(content, "lines.csv")})
    assert found.status_code in {200, 422}
    assert "lines.csv:" in text_of(found)


def test_names_are_looked_for_first_and_then_left_out(with_book: Page) -> None:
    asked = with_book.send("/accounts/forget", {"book": "sale.xlsx"})
    assert "Make the copy without names" in text_of(asked)
    assert not list(with_book.folder.glob("sale-accounts/*.xlsx"))
    said = text_of(with_book.send("/accounts/forget", {"book": "sale.xlsx", "sure": "yes"}))
    assert "nobody stands on its sheet Hand over" in said
    (copy,) = with_book.folder.glob("sale-accounts/*.xlsx")
    assert report_on(copy).event.entries.claims == ()
