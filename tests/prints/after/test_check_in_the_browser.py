"""The page that adds a list up again, as the treasurer of a group meets it in a browser."""

import re
from collections import Counter
from pathlib import Path

import pytest
from lxml import html

from salebook.accounts.file import list_bytes
from salebook.accounts.lines import lines_of
from salebook.prints.after.pack import prints_after
from salebook.prints.paper import PAPERS, PaperName
from tests.prints.test_every_print import CUT_OFF, FAINT, SCOPES, SMALLEST_PX
from tests.support.browser import read_back
from tests.support.check_page import (
    check_page,
    chosen,
    csv_of,
    opened,
    said_of_file,
    tables_of,
    text_of,
    typed,
)
from tests.support.devtools import Browser
from tests.support.finished_sale import LETTER_PAPER, TODAY, accounts
from tests.support.print_sales import made
from tests.support.programs import needs_chromium, needs_poppler
from tests.support.pseudo import in_pseudo, pseudo
from tests.test_hostile_text import HOSTILE, TAME

pytestmark = needs_chromium

FIRST_DAY, SECOND_DAY = "2027-06-19", "2027-06-20"
REED, TIDE = "Reed bank * friends?", "Tide ~ mill"
ROWS = (
    {"part": "sale", "day": SECOND_DAY, "kind": "final", "what": "Ropewalk table"},
    {"part": "currency", "kind": "GBP", "parts": "100"},
    *(
        {"part": "line", "till": "1", "line": str(number), "arrived": "yes"} | line
        for number, line in enumerate(
            (
                {
                    "day": FIRST_DAY,
                    "kind": "sale",
                    "piece": "MUG-001",
                    "what": "Mug",
                    "count": "1",
                    "way": "cash",
                }
                | {
                    "list price": "24.00",
                    "amount": "1024.00",
                    "gift": "2.00",
                    "group": REED,
                    "to group": "2.00",
                },
                {"day": FIRST_DAY, "kind": "donation", "amount": "10.01"},
                {"day": SECOND_DAY, "kind": "raffle", "amount": "24.00", "way": "card"},
                {
                    "day": SECOND_DAY,
                    "kind": "donation",
                    "amount": "6.00",
                    "group": TIDE,
                    "arrived": "straight",
                },
                {"day": SECOND_DAY, "kind": "donation", "amount": "9.00", "way": "card", "arrived": "no"},
            ),
            start=1,
        )
    ),
    {"part": "fee", "way": "card", "amount": "-0.30"},
    {"part": "cost", "kind": "overhead", "what": "hall", "amount": "-40.00"},
    {"part": "giver", "piece": "SPN", "what": "Spoon", "amount": "-3.50"},
    {"part": "share", "line": "1", "group": REED, "amount": "-676.14", "parts": "2"},
    {"part": "share", "line": "2", "group": TIDE, "amount": "-338.07", "parts": "1"},
    {"part": "paid", "day": SECOND_DAY, "group": REED, "amount": "5.00"},
)
LIST = csv_of(ROWS)
FINGERPRINT = "BFB4-76SQ-0QM4-6YA2-4ZCZ"
SATURDAYS = "4GGN-F1T0-YX4A-41K9-S3QC"


@pytest.fixture
def page(tmp_path: Path) -> Browser:
    return opened(tmp_path)


def read(page: Browser, folder: Path, text: str = LIST) -> Browser:
    chosen(page, text, folder=folder)
    return page


def test_a_list_is_added_up(page: Browser, tmp_path: Path) -> None:
    assert chosen(page, LIST, folder=tmp_path) == "lines.csv was read: the list of Ropewalk table."
    found = tables_of(page)
    for row in (
        "Pieces sold 1,026.00",
        "Gifts of money 10.01",
        "Raffle 24.00",
        "cash 1,026.00",
        "not known 10.01",
        "Saturday, 19 June 2027 1,036.01",
        "Sunday, 20 June 2027 24.00",
        "Takings 1,060.01",
        "Given for groups by name -2.00",
        "Fees -0.30",
        "Costs that the takings pay -40.00",
        "Givers' parts -3.50",
        "Money to share 1,014.21",
        "Share 2 of 3 parts 676.14",
        "Given by name 2.00",
        "In all 678.14",
        "Paid 5.00",
        "Still to pay 673.14",
        "Straight from givers 6.00",
        f"Saturday, 19 June 2027 {SATURDAYS} 2 1,036.01",
    ):
        assert row in found
    assert [row.split(" ")[0] for row in found[1:4]] == ["Pieces", "Gifts", "Raffle"]
    assert text_of(page, "#verdict p") == "Now type the fingerprint that stands on your letter."
    assert FINGERPRINT in text_of(page, "#verdict")
    assert "It adds up" in text_of(page, "#verdict")
    assert "Promised, not yet arrived: 9.00 GBP." in text_of(page, "#results")


@pytest.mark.parametrize(
    ("fingerprint", "says"),
    [
        (FINGERPRINT, "This is the same list as on your letter."),
        ("bfb4 76sq oqm4 6ya2 4zcz", "This is the same list as on your letter."),
        ("BFB4-76SQ-0QM4-6YA2-4ZCA", "Only 1 letter differs: look at your letter again."),
        ("BFB4-76SQ-0QM4-6YA2-4ZZC", "Only 2 letters differ: look at your letter again."),
        ("BFB4-76SQ-0QM4-6YA2-ZC4A", "This is not the list your letter was made from."),
        ("SE72-JVZG-9XJA-EDCF-7TSZ", "This is not the list your letter was made from."),
        (SATURDAYS, "The lines of Saturday, 19 June 2027 are those that were signed in the evening."),
        ("BFB4-7", "A fingerprint has 20 letters and figures, and no U among them. So far there are 5."),
        ("U" * 20, "A fingerprint has 20 letters and figures, and no U among them. So far there are 20."),
        ("", "Now type the fingerprint that stands on your letter."),
    ],
)
def test_it_says_whether_it_is_the_list_of_the_letter(
    page: Browser, tmp_path: Path, fingerprint: str, says: str
) -> None:
    assert typed(read(page, tmp_path), fingerprint) == says


def test_the_fingerprint_may_be_typed_first(page: Browser, tmp_path: Path) -> None:
    typed(page, FINGERPRINT)
    assert text_of(page, "#verdict") == ""
    read(page, tmp_path)
    assert text_of(page, "#verdict p") == "This is the same list as on your letter."


def test_letter_list_and_page_of_a_sale_belong_together(page: Browser, tmp_path: Path) -> None:
    report = accounts()
    letters = [text for name, text in made(prints_after, report, today=TODAY).items() if "letter-" in name]
    chosen(page, list_bytes(lines_of(report)), folder=tmp_path)
    assert len(letters) == 2
    for letter, share in zip(letters, report.event.share_out.groups, strict=True):
        (fingerprint,) = re.findall(r'class="fingerprint">([^<]+)', letter)
        assert typed(page, fingerprint) == "This is the same list as on your letter."
        assert f"In all {share.total:.2f}" in tables_of(page)
        assert f"Still to pay {share.to_pay:.2f}" in tables_of(page)
    assert "It adds up" in text_of(page, "#verdict")
    whole = page.found("document.documentElement.outerHTML")
    people = [text for claim in report.event.entries.claims for text in (claim.name, claim.contact)]
    assert [text for text in (*people, "Ivy Marsh", "Otto Reed", "the blue one") if text in whole] == []


@pytest.mark.parametrize("place", ["#drop", "h1"])
def test_a_file_may_be_dropped_on_the_field_or_beside_it(page: Browser, tmp_path: Path, place: str) -> None:
    file = tmp_path / "lines.csv"
    file.write_text(LIST, encoding="utf-8")
    middle = page.found(
        f"(box => [box.x + 9, box.y + 9])(document.querySelector('{place}').getBoundingClientRect())"
    )
    page.drop(file, at=middle)
    assert said_of_file(page) == "lines.csv was read: the list of Ropewalk table."
    assert page.found("document.querySelector('#drop').className") == "drop"


def test_two_files_at_once_are_too_many(page: Browser, tmp_path: Path) -> None:
    files = [tmp_path / "lines.csv", tmp_path / "letter.html"]
    for file in files:
        file.write_text(LIST, encoding="utf-8")
    page.drop(*files, at=(20, 20))
    assert said_of_file(page) == "Please drop one file only: lines.csv."


def test_the_field_is_a_button_for_the_keyboard(page: Browser) -> None:
    page.found(
        "document.querySelector('#file').addEventListener('click', () => { globalThis.asked = true; })"
    )
    page.press("Tab")
    assert page.found("document.activeElement.id") == "drop"
    assert page.found("getComputedStyle(document.activeElement).outlineStyle") == "solid"
    page.press("Enter")
    assert page.found("globalThis.asked") is True
    page.press("Tab")
    assert page.found("document.activeElement.id") == "fingerprint"


NO_TEXT = "is not a text file. If you opened the list in a spreadsheet program, save it as CSV."


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "is not the list of a sale"),
        (b"PK\x03\x04\xff\xfe\x9c", NO_TEXT),
        (b"\xff\xfea", NO_TEXT),
        (b"\xff\xfe\x00\xd8a\x00", NO_TEXT),
        (b"day,kind\n1,2\n", "is not the list of a sale"),
        (LIST.replace("arrived", "there", 1).encode(), "is not the list of a sale"),
        ("<!DOCTYPE html><p>letter", "is not the list of a sale"),
        (b"\x00" * 3000, "is not the list of a sale"),
        (b'"' * 3001, "is not the list of a sale"),
    ],
)
def test_a_broken_file_is_said_in_words(
    page: Browser, tmp_path: Path, content: str | bytes, says: str
) -> None:
    read(page, tmp_path)
    said = chosen(page, content, name="other.csv", folder=tmp_path)
    assert said.startswith("other.csv ")
    assert says in said
    assert text_of(page, "#verdict") + text_of(page, "#results") == ""


def test_a_file_over_20_mb_is_refused_in_words(page: Browser, tmp_path: Path) -> None:
    file = tmp_path / "film.csv"
    with file.open("wb") as film:
        film.truncate(20_000_001)
    page.choose(file, "#file")
    assert said_of_file(page).startswith("film.csv is larger than 20 MB")


def test_a_list_of_many_lines_is_added_up(page: Browser, tmp_path: Path) -> None:
    line = {"part": "line", "till": "1", "day": FIRST_DAY, "kind": "sale", "what": "Mug", "amount": "24.00"}
    many = [line | {"line": str(number), "arrived": "yes"} for number in range(1, 50_001)]
    assert "was read" in chosen(page, csv_of((*ROWS[:2], *many)), folder=tmp_path)
    assert "Takings 1,200,000.00" in tables_of(page)


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ({"part": "tip"}, "Row 15, column part: tip is no part of a list."),
        ({"part": "cost", "amount": "a few"}, "column amount: a few is no sum of money in GBP. It counts as"),
        ({"part": "cost"}, "Row 15, column amount: nothing stands there."),
        ({"part": "paid", "amount": "1.00", "day": "soon"}, "Row 15, column day: soon is no day."),
        (
            {"part": "line", "amount": "1.00", "kind": "theft", "arrived": "yes"},
            "theft is no kind of takings.",
        ),
        (
            {"part": "line", "amount": "1.00", "kind": "sale", "arrived": "?"},
            "? should be yes, no or straight.",
        ),
        (
            {"part": "line", "kind": "sale", "amount": "1.00", "count": "a"},
            "column count: a is no whole number.",
        ),
        ({"part": "share", "group": "C", "amount": "0.00", "parts": "0"}, "0 is no number of parts."),
        (
            {"part": "sale", "kind": "final"},
            "One row should have sale in its first column. In this list there",
        ),
        ({"part": "currency", "parts": "100"}, "One row should have currency in its first column."),
    ],
)
def test_what_cannot_be_read_is_said_with_its_row_and_column(
    page: Browser, tmp_path: Path, row: dict[str, str], says: str
) -> None:
    read(page, tmp_path, csv_of((*ROWS, row)))
    assert "What cannot be read" in text_of(page, "#results")
    assert says in text_of(page, "#results")
    assert "It adds up" not in text_of(page, "#verdict")


def test_cells_right_of_the_last_column_are_said(page: Browser, tmp_path: Path) -> None:
    read(page, tmp_path, LIST.rstrip("\r\n") + ",,my note\r\n")
    assert "Row 14: my note stands right of the last column." in text_of(page, "#results")


def test_each_till_of_a_day_has_a_fingerprint_of_its_own(page: Browser, tmp_path: Path) -> None:
    read(page, tmp_path, csv_of((*ROWS, ROWS[2] | {"till": "garden", "amount": "3.00", "gift": ""})))
    (till,) = (row for row in tables_of(page) if row.startswith("Saturday, 19 June 2027, till garden"))
    assert till.endswith(" 1 3.00")
    says = "The lines of till garden of Saturday, 19 June 2027 are those that were signed in the evening."
    assert typed(page, till.split()[-3]) == says


def test_many_faults_are_not_all_listed(page: Browser, tmp_path: Path) -> None:
    read(page, tmp_path, csv_of((*ROWS, *({"part": "tip"} for _each in range(1000)))))
    assert "Further rows that cannot be read: 800." in text_of(page, "#results")
    assert page.found("document.querySelectorAll('li').length") < 250


def test_another_share_than_the_parts_make_is_said(page: Browser, tmp_path: Path) -> None:
    read(page, tmp_path, LIST.replace("-338.07", "-337.07"))
    assert f"By its parts, {TIDE} gets 338.07; the list says 337.07." in text_of(page, "#results")
    assert "It adds up" not in text_of(page, "#verdict")


@pytest.mark.parametrize(
    ("kind", "says"),
    [
        ("final", ""),
        ("not final", "Not final: some lines still needed a look when this list was made."),
        ("interim", "Interim: this list was made before the sale was over."),
    ],
)
def test_a_list_that_is_not_final_says_so(page: Browser, tmp_path: Path, kind: str, says: str) -> None:
    read(page, tmp_path, LIST.replace('"final"', f'"{kind}"'))
    assert text_of(page, ".status") == says


def test_days_that_can_be_read_two_ways_are_remarked_on(page: Browser, tmp_path: Path) -> None:
    read(page, tmp_path, re.sub(r"2027-06-\d\d", "4/3/2027", LIST))
    assert text_of(page, ".status").startswith("Days such as 3/4/2027 were read with the day first")
    assert "Thursday, 4 March 2027 1,060.01" in tables_of(page)


@pytest.mark.parametrize(
    ("currency", "parts", "shown"), [("JPY", "1", "1,060"), ("KWD", "1000", "1,060.000")]
)
def test_sums_have_the_digits_of_the_lists_currency(
    page: Browser, tmp_path: Path, currency: str, parts: str, shown: str
) -> None:
    rows = (
        {"part": "sale", "kind": "final"},
        {"part": "currency", "kind": currency, "parts": parts},
        {"part": "line", "kind": "other", "amount": "1060", "arrived": "yes"},
    )
    read(page, tmp_path, csv_of(rows))
    assert {f"Money to share {shown}", f"By kind {currency}"} <= set(tables_of(page))


def test_sums_and_days_are_written_as_on_the_letter(tmp_path: Path) -> None:
    german = check_page(("target = 300", 'target = 300\nlocale = "de_DE"'))
    page = read(opened(tmp_path, page=german), tmp_path)
    assert "Takings 1.060,01" in tables_of(page)
    assert "Samstag, 19. Juni 2027 1.036,01" in tables_of(page)


HIGHEST = "(place => Math.max(...[...document.querySelectorAll(place)].map(part => part.offsetHeight)))"
ANY_TEXT = ("till", "piece", "what", "way", "group", "kind", "part", "amount", "day", "parts", "arrived")
MARKUP = "[...document.querySelectorAll('main *')].map(part => part.tagName)"


def with_text(text: str) -> str:
    """Return a list with a text in every place that the page shows."""
    named = [row | ({key: text for key in ("what", "way", "group") if key in row}) for row in ROWS]
    return csv_of(
        (*named, *({"part": "line", "arrived": "yes", "amount": "1.00"} | {key: text} for key in ANY_TEXT))
    )


@pytest.mark.parametrize("text", [*HOSTILE, "__proto__", "toString"])
def test_a_text_of_the_list_is_never_markup(page: Browser, tmp_path: Path, text: str) -> None:
    tame = Counter(read(page, tmp_path, with_text(TAME)).found(MARKUP))
    hostile = Counter(read(page, tmp_path, with_text(text)).found(MARKUP))
    assert hostile == tame
    shown = page.found("document.querySelector('#results').textContent")
    assert shown.count(text) > 5
    assert text in text_of(page, "#file-said")


SENT = """
Promise.all([
    fetch('data:,x').then(() => 'sent', () => 'held'),
    new Promise(then => {
        const picture = new Image();
        picture.onload = () => then('sent');
        picture.onerror = () => then('held');
        picture.src = 'data:image/gif;base64,R0lGODlhAQABAAAAACwAAAAAAQABAAA=';
    }),
    new Promise(then => {
        const script = document.createElement('script');
        script.textContent = 'globalThis.ran = true';
        document.body.append(script);
        then(globalThis.ran ? 'sent' : 'held');
    }),
])
"""


def test_nothing_leaves_the_page_and_no_other_script_runs(page: Browser, tmp_path: Path) -> None:
    assert read(page, tmp_path).found(SENT) == ["held", "held", "held"]


@pytest.mark.parametrize("width", [360, 1366])
@pytest.mark.parametrize("text", ["", "Wärmekraftwerksbetriebsgesellschaftsgruppe" * 2])
def test_it_fits_a_telephone_and_a_laptop(tmp_path: Path, width: int, text: str) -> None:
    page = opened(tmp_path, width_px=width)
    typed(read(page, tmp_path, with_text(text) if text else LIST), FINGERPRINT)
    assert page.found("document.documentElement.scrollWidth") <= width
    assert page.found(CUT_OFF.replace("'body *'", "'main *'")) == []
    assert page.found(FAINT) == []
    assert text or page.found(f"{HIGHEST}('thead .figure')") < 30


@needs_poppler
@pytest.mark.parametrize("paper", PAPERS)
def test_the_answer_prints_whole_on_its_paper(tmp_path: Path, paper: PaperName) -> None:
    page = opened(tmp_path, page=check_page(*(LETTER_PAPER if paper == "Letter" else ())))
    typed(read(page, tmp_path, LIST.replace("-338.07", "-337.07")), FINGERPRINT)
    pdf = tmp_path / "answer.pdf"
    pdf.write_bytes(page.printed())
    found = read_back(pdf)
    size = (PAPERS[paper].width_mm, PAPERS[paper].height_mm)
    assert [each for each in found.sizes if each != pytest.approx(size, abs=0.3)] == []
    assert [word.text for word in found.words if word.left < 5 or word.right > size[0] - 5] == []
    words = " ".join(word.text for word in found.words)
    for said in ("This is not the list", FINGERPRINT, "Money to share", "337.07", "673.14"):
        assert said in words
    assert "Drop lines.csv" not in words
    assert page.found(SMALLEST_PX) >= 10 * 96 / 72 - 0.01


def test_it_is_labelled_for_those_who_do_not_see_it(page: Browser, tmp_path: Path) -> None:
    whole = html.document_fromstring(read(page, tmp_path).found("document.documentElement.outerHTML"))
    named = {part.get("id"): part for part in whole.iter() if part.get("id")}
    assert [field.get("id") for field in whole.iter("input") if field.get("hidden") is None] == [
        "fingerprint"
    ]
    assert [label.get("for") for label in whole.iter("label")] == ["fingerprint"]
    assert named["verdict"].get("aria-live") == "polite"
    assert named["file-said"].get("role") == "status"
    assert named["fingerprint"].get("aria-describedby") in named
    assert [heading for heading in whole.iter("th") if heading.get("scope") not in SCOPES] == []
    assert [table for table in whole.iter("table") if not table.xpath("./thead//th")] == []


def test_without_its_script_it_says_how_to_add_up_by_hand(tmp_path: Path) -> None:
    page = opened(tmp_path, runs_scripts=False)
    assert "its script does not run" in text_of(page, "#without")
    assert text_of(page, "#drop") == ""
    assert "these are the takings" in text_of(page, ".by-hand")
    assert text_of(opened(tmp_path), "#without") == ""


def test_its_answer_is_in_the_language_of_the_page(tmp_path: Path) -> None:
    with in_pseudo():
        longer = check_page()
    page = read(opened(tmp_path, page=longer, width_px=360), tmp_path)
    assert typed(page, FINGERPRINT) == pseudo("This is the same list as on your letter.")
    assert f"{pseudo('Money to share')} 1,014.21" in tables_of(page)
    assert page.found("document.documentElement.scrollWidth") <= 360
