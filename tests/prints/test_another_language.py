"""Every print keeps whole in a language whose texts are longer by two fifths."""

from collections.abc import Mapping
from contextlib import nullcontext
from functools import cache
from pathlib import Path

from salebook.book.read import read_book
from salebook.event.report import report_of
from salebook.jobs.samples import FILLED
from salebook.prints.after.pack import prints_after
from salebook.prints.before.pack import all_prints
from salebook.prints.paper import PaperName
from salebook.reckoning import reckon
from tests.prints.test_every_print import EVERY, check_looks, check_pages, every_print, prints, room_mm
from tests.support.books import ROOT
from tests.support.browser import asked, printed
from tests.support.finished_sale import TODAY
from tests.support.print_sales import made
from tests.support.programs import needs_chromium, needs_poppler
from tests.support.pseudo import in_pseudo, pseudo

WIDER_THAN_THEIR_COLUMN = """
[...document.querySelectorAll('th, td')].filter(cell => cell.scrollWidth > cell.clientWidth + 1
).map(cell => cell.textContent.trim().slice(0, 60))
"""


@cache
def long_prints(paper: PaperName) -> Mapping[str, str]:
    with in_pseudo():
        return prints.__wrapped__(paper)


@cache
def weekend(*, longer: bool = True) -> Mapping[str, str]:
    """Return every print of the sample after its weekend, in longer words or in English."""
    read = read_book(ROOT / "sample_data" / FILLED)
    reckoning = reckon(read.plan)
    with in_pseudo() if longer else nullcontext():
        report = report_of(reckoning, read.entries)
        return made(all_prints, reckoning) | made(prints_after, report, today=TODAY)


FULL_IN_ENGLISH = {"statement.html": 2, "firing.html": 4}
"""Prints as full as their pages can be, and what they may take; the statement's names stay on its first."""


def check(paper: PaperName, name: str, text: str, english: str, folder: Path) -> None:
    check_pages(paper, name, text, folder)
    check_looks(paper, name, text, folder)
    room = room_mm(paper, name, text)
    assert asked(text, WIDER_THAN_THEIR_COLUMN, folder, width_mm=room) == [], name
    pages = len(printed(english, folder).sizes)
    most = max(FULL_IN_ENGLISH.get(name, 0), pages)
    assert pages <= len(printed(text, folder).sizes) <= most, name


@needs_chromium
@needs_poppler
@every_print
def test_a_print_is_whole_and_takes_no_more_pages_in_longer_words(
    paper: PaperName, name: str, tmp_path: Path
) -> None:
    check(paper, name, long_prints(paper)[name], prints(paper)[name], tmp_path)


@needs_chromium
@needs_poppler
def test_the_prints_of_a_full_sale_are_whole_and_take_no_more_pages_in_longer_words(tmp_path: Path) -> None:
    pages = {name: text for name, text in weekend().items() if name.endswith(".html")}
    assert len(pages) > 15
    for name, text in pages.items():
        check("A4", name, text, weekend(longer=False)[name], tmp_path)


@needs_chromium
@needs_poppler
def test_the_lines_to_sign_stay_with_the_cash_box(tmp_path: Path) -> None:
    found = printed(weekend()["statement.html"], tmp_path)
    boxes = {word.page for word in found.words if word.text == pseudo("Float")}
    signed = {word.page for word in found.words if word.text == pseudo("Counted: name").split()[0]}
    assert len(boxes) == 1
    assert signed == boxes


def test_each_print_says_its_words_in_the_other_language() -> None:
    english, other = prints("A4"), long_prints("A4")
    assert english.keys() == other.keys()
    assert [name for _paper, name in EVERY if english[name] == other[name]] == []
