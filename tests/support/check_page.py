"""The page that adds a list up again, open in the browser."""

import json
import time
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from salebook.prints.after.check import check_html
from salebook.prints.render import printer_for
from tests.support.devtools import Browser, browser
from tests.support.finished_sale import accounts_with

LONGEST_SECONDS = 20
KEYS = (
    *("part", "till", "line", "day", "kind", "piece", "what", "count", "list price", "amount", "gift"),
    *("way", "group", "to group", "parts", "arrived"),
)
READING = "is being read"


def check_page(*changes: tuple[str, str]) -> str:
    """Return the page of a small sale, with changes to its plan's text."""
    return check_html(printer_for(accounts_with(*changes).plan))


def opened(folder: Path, *, page: str = "", width_px: int = 1366, runs_scripts: bool = True) -> Browser:
    """Open the page on a screen of a width."""
    file = folder / "check.html"
    file.write_text(page or check_page(), encoding="utf-8")
    shown = browser()
    shown.show(file, width_px=width_px, runs_scripts=runs_scripts)
    return shown


def chosen(shown: Browser, content: str | bytes, *, name: str = "lines.csv", folder: Path) -> str:
    """Choose a file of that content in the open page; return what the page says of the file."""
    file = folder / name
    file.write_bytes(content.encode() if isinstance(content, str) else content)
    shown.choose(file, "#file")
    return said_of_file(shown)


def said_of_file(shown: Browser) -> str:
    """Return what the open page says of a file, once it has read it."""
    end = time.monotonic() + LONGEST_SECONDS
    while READING in (said := text_of(shown, "#file-said")) or not said:
        assert time.monotonic() < end, said
        time.sleep(0.01)
    return said


def typed(shown: Browser, fingerprint: str) -> str:
    """Type a fingerprint in place of another; return the first sentence of the answer."""
    shown.found("(field => { field.focus(); field.select(); })(document.getElementById('fingerprint'))")
    shown.type(fingerprint)
    return text_of(shown, "#verdict p")


def text_of(shown: Browser, place: str) -> str:
    """Return what a reader sees at a place of the open page, named as in a style sheet."""
    part = f"document.querySelector({json.dumps(place)})"
    return str(shown.found(f"(part => part?.checkVisibility() ? part.innerText : '')({part})"))


def tables_of(shown: Browser) -> list[str]:
    """Return the rows of the open page's tables, each as one text."""
    rows = "[...document.querySelectorAll('tr')].map(row => row.innerText.replace(/\\s+/g, ' ').trim())"
    found = shown.found(rows)
    assert isinstance(found, list)
    return found


def answers(shown: Browser, lists: Sequence[tuple[str, str]]) -> list[Any]:
    """Return what the page's script answers to lists with fingerprints, as JSON."""
    question = f"JSON.stringify({json.dumps(lists)}.map(([text, typed]) => salebook.check(text, typed)))"
    found = json.loads(shown.found(question))
    assert len(found) == len(lists)
    return list(found)


def csv_of(rows: Iterable[dict[str, str]]) -> str:
    """Return a list's file of rows by key, every cell in quotation marks."""
    texts = [KEYS, *([row.get(key, "") for key in KEYS] for row in rows)]
    return "".join(",".join(_quoted(cell) for cell in row) + "\r\n" for row in texts)


def _quoted(cell: str) -> str:
    return '"' + cell.replace('"', '""') + '"'
