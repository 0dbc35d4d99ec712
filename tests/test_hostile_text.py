"""Text that a program may take for a command stays text: in the workbook, on prints, on a terminal."""

import csv
import io
import json
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from salebook.base.csv_text import DANGEROUS
from salebook.book.formulas import quoted
from salebook.book.write import book_bytes
from salebook.cli import main
from salebook.event.entries import Banked, Claim, DayCount, Entries, GroupPayment, Line
from salebook.event.report import Report, report_of
from salebook.plan.model import Plan
from salebook.plan.tables import TABLES
from salebook.prints.after.pack import prints_after
from salebook.prints.before.pack import all_prints
from salebook.reckoning import reckon
from tests.support.books import few_free_lines, sample_tables
from tests.support.cells import changed, parts_of, plain_values
from tests.support.entry_strategies import a_day_of_takings
from tests.support.inputs import input_place
from tests.support.plan_strategies import plan_of
from tests.support.print_sales import made
from tests.support.rules import Opened
from tests.support.schema import violations
from tests.support.toml_text import toml_text

pytestmark = pytest.mark.slow

Capture = pytest.CaptureFixture[str]
TAME = "plain words"
HOSTILE = (
    '=HYPERLINK("http://x.test","y")',
    "+1+1",
    "-2+3",
    "@SUM(A1)",
    "=1+1|'x'!A0",
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "</style><svg onload=alert(1)>",
    "&lt;b&gt; &amp; &#0;",
    "{{ 7 * 7 }}{% for a in b %}",
    "[bold red]x[/bold red] [/]",
    "%s %d {0} {name} {sale.__class__}",
    'a,b;c"d',
    "&A &P &[Page]",
    "]]> <!-- -->",
    "abc\u202edef",
    "$(rm -rf) `id` ${HOME}",
)
"""Beginnings of formulas, markup, templates, formats, codes of page footers, turned writing."""

FREE_TEXTS = ("title", "maker", "venue", "name", "registration", "contact", "care", "unit")
"""Keys of a plan under which any text may stand."""


def spelt(text: str, tables: Any, path: str = "") -> Any:
    """Return a plan's tables with the text wherever any text may stand, each with an ending of its own."""
    if isinstance(tables, dict):
        return {
            key: f"{text} {path}{len(value)}" if key in FREE_TEXTS else spelt(text, value, f"{path}{key[:2]}")
            for key, value in tables.items()
        }
    if isinstance(tables, list):
        return [spelt(text, value, f"{path}{n}") for n, value in enumerate(tables)]
    return tables


def with_every_text(tables: Any) -> dict[str, Any]:
    """Return the tables with each free text of each record filled in, and few references that go by name."""
    full = {key: _with_texts(key, table) for key, table in tables.items()}
    full["clays"] = full["clays"][:1]
    full["kiln"] = {key: value for key, value in full["kiln"].items() if key != "calibration"}
    return full


def _with_texts(table: str, value: Any) -> Any:
    if isinstance(value, list):
        return [_with_texts(table, record) for record in value]
    if not isinstance(value, dict):
        return value
    free = [key for key in TABLES[table].keys() if key in FREE_TEXTS]  # noqa: SIM118 (a record)
    return dict.fromkeys(free, "x") | {key: inner for key, inner in value.items() if key != "paid_to"}


def tables_with(text: str) -> dict[str, Any]:
    tables: dict[str, Any] = spelt(text, with_every_text(sample_tables("worked-plan")))
    for ware in tables["wares"]:
        ware["clay"] = tables["clays"][0]["name"]
    return tables


@cache
def plan_with(text: str) -> Plan:
    return plan_of(tables_with(text))


@cache
def filled_with(text: str) -> Entries:
    """Fill the text in wherever any may be typed."""
    plan = plan_with(text)
    usual = a_day_of_takings(plan)
    group, way = plan.beneficiaries[0].name, plan.payments[0].name
    lines = [
        *(replace(line, note=text) for line in usual.lines),
        Line(number=20, piece=text.upper(), way=way),
        Line(number=21, kind="donation", amount=usual.payments[0].amount, way=text, group=text),
        Line(number=22, kind="other", way=way, unread=(("kind", text), ("amount", text), ("day", text))),
        Line(number=23, piece="VASE-002", way=way, claim=text),
    ]
    day = plan.sale.days[0]
    return replace(
        usual,
        lines=tuple(lines),
        claims=(*usual.claims, Claim(claim=text, name=text, contact=text, what=text)),
        cash=(DayCount(day=day, counted_by=text, checked_by=text),),
        banked=(Banked(day=day, what=text),),
        payments=(GroupPayment(day=day, group=group, amount=usual.payments[0].amount, reference=text),),
    )


@cache
def report_with(text: str) -> Report:
    return report_of(reckon(plan_with(text)), filled_with(text))


@cache
def book_with(text: str) -> bytes:
    report = report_with(text)
    with few_free_lines():
        return book_bytes(report.reckoning, report.event)


EACH_TEXT = pytest.mark.parametrize("text", HOSTILE)


def test_every_place_for_a_text_is_filled() -> None:
    texts = list(_texts(tables_with(TAME)))
    assert sum(TAME in text for text in texts) > 30
    assert plan_with(TAME).wares[0].care.startswith(TAME)


@EACH_TEXT
def test_in_the_workbook_it_is_never_a_formula(text: str) -> None:
    hostile, usual = (_formulas(one) for one in (text, TAME))
    assert usual == hostile
    assert violations(book_with(text)) == []
    shown = [value for value in plain_values(book_with(text)).values() if isinstance(value, str)]
    assert sum(text in value for value in shown) > 30


def _formulas(text: str) -> list[tuple[str, str, str]]:
    """Return all formulas of the workbook, the text in quotation marks in them said otherwise."""
    inside, found = quoted(text)[1:-1], Opened(book_with(text)).formulas
    return [(sheet, at, formula.replace(inside, TAME)) for sheet, at, formula in found]


@EACH_TEXT
def test_in_the_workbook_it_is_no_link_and_no_code_of_the_footer(text: str) -> None:
    hostile, usual = (_links_and_footers(book_with(one)) for one in (text, TAME))
    assert [one.replace(text, TAME) for one in hostile] == usual


def _links_and_footers(book: bytes) -> list[str]:
    """Return where the links of a workbook lead, and what stands at the foot of its sheets."""
    links = [
        line
        for name, part in sorted(parts_of(book).items())
        if name.endswith(".rels")
        for line in part.decode().split("<")
        if "External" in line or "hyperlink" in line
    ]
    sheets = Opened(book).sheets.values()
    return links + [str(foot.text) for sheet in sheets for foot in sheet.iter("{*}oddFooter", "{*}oddHeader")]


class Seen(HTMLParser):
    """What a browser would take for markup."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.markup: set[tuple[str, ...]] = set()
        self.words: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.markup.add((tag, *sorted(name for name, _value in attrs)))

    def handle_data(self, data: str) -> None:
        self.words.append(data)


@cache
def prints_with(text: str) -> dict[str, str]:
    report = report_with(text)
    today = report.plan.sale.days[-1]
    return made(all_prints, report.reckoning) | made(prints_after, report, today=today, with_hours=True)


@EACH_TEXT
def test_on_prints_it_is_never_markup(text: str) -> None:
    hostile, usual = (_pages(one) for one in (text, TAME))
    assert len(hostile) == len(usual)
    assert _markup(hostile) - _markup(usual) == set()
    words = "".join(word for page in hostile.values() for word in page.words)
    assert _letters(text) in _letters(words)


def _markup(pages: dict[str, Seen]) -> set[tuple[str, ...]]:
    return {one for page in pages.values() for one in page.markup}


def _pages(text: str) -> dict[str, Seen]:
    return {name: Seen(page) for name, page in prints_with(text).items() if name.endswith(".html")}


def _letters(text: str) -> str:
    """Return a text without the spaces that lines are broken at."""
    return "".join(text.split())


@EACH_TEXT
def test_in_the_table_for_a_bookkeeper_it_is_no_formula(text: str) -> None:
    (table,) = (page for name, page in prints_with(text).items() if name.endswith(".csv"))
    cells = [cell for row in csv.reader(io.StringIO(table)) for cell in row]
    texts = [cell for cell in cells if not _is_number(cell)]
    assert [cell for cell in texts if cell.startswith(DANGEROUS)] == []
    assert any(text in cell for cell in texts)


def _is_number(cell: str) -> bool:
    return cell.lstrip("-").replace(".", "", 1).isdigit()


@EACH_TEXT
def test_commands_answer_with_it_as_it_is(text: str, tmp_path: Path, capsys: Capture) -> None:
    plan, book = tmp_path / "plan.toml", tmp_path / "sale.xlsx"
    plan.write_text(toml_text(tables_with(text)), encoding="utf-8")
    book.write_bytes(book_with(text))
    assert main(["price", str(plan), "--json"]) == 0
    assert text in "".join(_texts(json.loads(capsys.readouterr().out)))
    assert main(["price", str(plan)]) == 0
    assert _letters(text) in _letters(capsys.readouterr().out)
    assert main(["report", str(book), "--json"]) == 3
    assert text in "".join(_texts(json.loads(capsys.readouterr().out)))
    assert main(["check", str(plan), str(book)]) == 3
    shown = capsys.readouterr().out
    assert _shown(text) in shown
    assert [letter for letter in shown if not letter.isprintable() and letter != "\n"] == []


def _shown(text: str) -> str:
    """Return a text as a terminal shows it, on which no letter turns the writing round."""
    return "".join(letter if letter.isprintable() else "\N{REPLACEMENT CHARACTER}" for letter in text)


def _texts(answer: Any) -> Iterator[str]:
    match answer:
        case str():
            yield answer
        case dict():
            for key, value in answer.items():
                yield key
                yield from _texts(value)
        case list():
            for value in answer:
                yield from _texts(value)


STEERS = "\x1b]0;mine\x07\x1b[2J\x9b31m"
"""Steers a terminal: another title, an empty screen, red."""


def test_no_letter_of_a_plan_or_a_files_name_steers_the_terminal(tmp_path: Path, capsys: Capture) -> None:
    file = tmp_path / f"plan {STEERS}.toml"
    for content in (f"format = '{STEERS}'", 'format = "\\u001b[2J"', '[sale]\n"\\u001b[2J" = 1', "\x1b[2J"):
        file.write_text(content, encoding="utf-8")
        for arguments in (["check"], ["price"], ["make", "-o", str(tmp_path / "pack")]):
            assert main([*arguments, str(file)]) == 2
            shown = capsys.readouterr()
            assert shown.out + shown.err != ""
            assert [letter for letter in shown.out + shown.err if letter in STEERS[:1] + "\x07\x9b"] == []


@pytest.mark.parametrize("key", ["piece", "kind", "group", "way", "claim", "note", "amount", "day"])
def test_no_letter_typed_on_takings_steers_the_terminal(key: str, tmp_path: Path, capsys: Capture) -> None:
    book = book_with(TAME)
    place = input_place(book, "Takings", "takings", key, {"line": 2})
    file = tmp_path / "sale.xlsx"
    file.write_bytes(changed(book, {place: "_x001B_[2J_x0007_red"}))
    for arguments in (["check", str(file)], ["report", str(file), "-o", str(tmp_path / "accounts")]):
        assert main(arguments) in {0, 3}
        shown = capsys.readouterr()
        assert [letter for letter in shown.out + shown.err if letter in "\x1b\x07\x9b"] == []
    pages = [path.read_text(encoding="utf-8") for path in (tmp_path / "accounts").iterdir()]
    assert [page for page in pages if "\x1b" in page] == []
