"""PDF stands beside the browser's print: the same words, at the same places, on as many pages."""

import builtins
import re
import socket
import subprocess
import sys
import zlib
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from salebook.plan.load import load_plan
from salebook.prints.after.pack import prints_after
from salebook.prints.before.pack import all_prints
from salebook.prints.labels.labels import labels_html
from salebook.prints.labels.tags import tags_html
from salebook.prints.pdf import PdfError, pdf_of, pdfs_of
from salebook.prints.render import printer_for
from salebook.reckoning import reckon
from tests.prints.labels.test_labels_in_the_browser import SHEETS, WITHIN_MM, read_codes
from tests.prints.test_fitting import NAMES
from tests.support.books import SAMPLES
from tests.support.browser import Word, as_pdf, in_grey, pictures, printed
from tests.support.finished_sale import TODAY, accounts
from tests.support.print_sales import labels_table, made, pieces, sale
from tests.support.programs import needs_chromium, needs_poppler, needs_weasyprint, needs_zbar, path_of


def labels(**measures: Any) -> str:
    reckoning = sale(labels=labels_table(**measures), wanted=70)
    return made(labels_html, reckoning, pieces(reckoning))


def outline() -> str:
    reckoning = sale()
    return made(labels_html, reckoning, pieces(reckoning), outline=True)


def tags() -> str:
    reckoning = sale(labels=labels_table(page="Letter", rows=6))
    return made(tags_html, reckoning, pieces(reckoning))


PRINTS: dict[str, Callable[[], str]] = {
    **{kind: partial(labels, **measures) for kind, measures in SHEETS.items()},
    "outline": outline,
    "tags": tags,
}


DOWN_MM = 0.5
"""Two pixels: a browser puts boxes, and lines in them, on whole ones, and PDF does not."""


def is_near(one: Word, other: Word) -> bool:
    return abs(one.left - other.left) <= WITHIN_MM and abs(one.bottom - other.bottom) <= DOWN_MM


@needs_weasyprint
@needs_chromium
@needs_poppler
@pytest.mark.parametrize("make", PRINTS.values(), ids=PRINTS)
def test_every_word_stands_where_the_browser_puts_it(make: Callable[[], str], tmp_path: Path) -> None:
    text = make()
    browsers, own = printed(text, tmp_path), as_pdf(text, tmp_path)
    assert sorted(word.text for word in own.words) == sorted(word.text for word in browsers.words)
    assert len(own.sizes) == len(browsers.sizes)
    for size, browsers_size in zip(own.sizes, browsers.sizes, strict=True):
        assert size == pytest.approx(browsers_size, abs=0.3)
    far = [
        word
        for word in browsers.words
        if not any(is_near(word, other) for other in own.on(word.page) if other.text == word.text)
    ]
    assert far == []


@needs_weasyprint
@needs_chromium
@needs_poppler
def test_every_print_has_as_many_pages_and_as_much_ink_as_in_the_browser(tmp_path: Path) -> None:
    prints = made(all_prints, reckon(load_plan(SAMPLES["harbour-weekend"]))) | made(
        prints_after, accounts(), today=TODAY
    )
    pages = {name: text for name, text in prints.items() if name.endswith(".html")}
    # Labels and tags are measured word by word above, and one agreement is drawn as the other.
    for name, text in ((name, pages[name]) for name in pages if not re.match(r"labels|tags|.*-[2-9]-", name)):
        folder = tmp_path / name
        folder.mkdir()
        browsers, own = (
            pictures(printed(text, folder).pdf, dpi=50),
            pictures(as_pdf(text, folder).pdf, dpi=50),
        )
        assert (name, len(own)) == (name, len(browsers))
        inks = [[sum(255 - grey for grey in page.greys) / 255 for page in pages] for pages in (own, browsers)]
        assert inks[0] == pytest.approx(inks[1], rel=0.15, abs=60), name


@needs_weasyprint
@needs_poppler
@needs_zbar
@pytest.mark.parametrize("kind", ["A4, 5 × 13", "Letter, 3 × 10"])
def test_all_codes_of_a_page_are_read_at_once_from_the_pdf(kind: str, tmp_path: Path) -> None:
    reckoning = sale(labels=labels_table(**SHEETS[kind]), wanted=70)
    register = pieces(reckoning)[:65]
    found = as_pdf(made(labels_html, reckoning, register), tmp_path)
    read = [number for page in in_grey(found.pdf) for number in read_codes([page])]
    assert sorted(read) == sorted(piece.number for piece in register)


@needs_weasyprint
@needs_poppler
def test_a_pdf_is_tagged_for_screen_readers_and_says_its_language(tmp_path: Path) -> None:
    made = as_pdf(outline(), tmp_path).pdf
    said = subprocess.run([path_of("pdfinfo"), str(made)], check=True, capture_output=True, text=True).stdout
    assert re.search(r"Tagged: +yes", said)
    parts = re.findall(rb"stream\n(.*?)\nendstream", made.read_bytes(), re.DOTALL)
    assert any(b"/Lang (en)" in zlib.decompress(part) for part in parts if part.startswith(b"x"))


@needs_weasyprint
@needs_poppler
def test_words_of_two_directions_keep_their_order(tmp_path: Path) -> None:
    mixed = NAMES["Arabic"][:20] + " LAN 7"
    words = as_pdf(f'<html lang="en"><p dir="auto">{mixed}</p></html>', tmp_path).words
    code = next(word for word in words if word.text == "LAN")
    assert all(word.left > code.left for word in words if word.text not in {"LAN", "7"})


@needs_weasyprint
def test_nothing_is_fetched_whatever_a_template_asks_for(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.setblocking(False)
        address = f"http://127.0.0.1:{server.getsockname()[1]}/"
        (tmp_path / "labels.css").write_text(
            f"@import '{address}a.css'; body {{ background: url({address}b.png) }}", encoding="utf-8"
        )
        reckoning = sale()
        text = labels_html(printer_for(reckoning.plan, tmp_path), reckoning, pieces(reckoning))
        assert address in text
        assert pdf_of(text).startswith(b"%PDF")
        with pytest.raises(BlockingIOError):
            server.accept()


@needs_weasyprint
def test_pages_become_pdfs_and_other_files_do_not() -> None:
    made = pdfs_of({"poster.html": "<p>Sale", "statement.csv": "a,b"})
    assert list(made) == ["poster.pdf"]
    assert made["poster.pdf"].startswith(b"%PDF")


def test_without_weasyprint_one_line_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "weasyprint", None)
    with pytest.raises(PdfError) as raised:
        pdf_of("<p>Sale")
    assert str(raised.value) == "PDF needs WeasyPrint: .venv/bin/pip install '.[pdf]' in salebook's folder"
    assert raised.value.exit_code == 1


def test_without_pango_one_line_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    found = builtins.__import__

    def without_pango(name: str, *arguments: Any, **more: Any) -> Any:
        if name == "weasyprint":
            raise OSError("cannot load library 'libpango-1.0-0'\nmore of it")
        return found(name, *arguments, **more)

    monkeypatch.setattr(builtins, "__import__", without_pango)
    with pytest.raises(PdfError, match=r"apt install libpangoft2-1\.0-0") as raised:
        pdf_of("<p>Sale")
    assert "\n" not in str(raised.value)
