"""Labels as Chromium prints them: places to 0.3 mm, no text over its edge, codes that can be read."""

import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from salebook.prints.labels.labels import labels_html
from salebook.prints.labels.layout import room_in
from salebook.prints.labels.sheet import Sheet, sheet_of
from salebook.prints.labels.wordings import wordings_of
from salebook.prints.paper import PAPERS
from salebook.reckoning import Reckoning
from tests.prints.test_fitting import NAMES
from tests.support.browser import (
    MM_PER_POINT,
    Picture,
    Printed,
    Word,
    as_pdf,
    asked,
    in_black_and_white,
    in_grey,
    pictures,
    printed,
)
from tests.support.print_sales import labels_table, made, pieces, sale
from tests.support.programs import needs_chromium, needs_poppler, needs_weasyprint, needs_zbar, path_of

WITHIN_MM = 0.3
BELOW_LETTERS = (1.15 - 0.905 - 0.212) / 2
"""Of the type size: half of what a line of 1.15 is higher than the face (Liberation Sans, hhea table)."""

SHEETS: dict[str, dict[str, Any]] = {
    "A4, 3 × 7": {},
    "A4, 5 × 13": {
        "columns": 5, "rows": 13, "width": 38.1, "height": 21.2,
        "left": 4.75, "top": 10.7, "across": 40.6, "down": 21.2,
    },
    "A4, 1 × 1": {
        "columns": 1, "rows": 1, "width": 210, "height": 297, "left": 0, "top": 0, "across": 210, "down": 297,
    },
    "A4, 2 × 4, to the edge": {
        "columns": 2, "rows": 4, "width": 105, "height": 74.25, "left": 0, "top": 0, "across": 105,
        "down": 74.25,
    },
    "Letter, 3 × 10": {
        "page": "Letter", "columns": 3, "rows": 10, "width": 66.7, "height": 25.4,
        "left": 4.8, "top": 12.7, "across": 69.8, "down": 25.4,
    },
    "Letter, 1 × 1": {
        "page": "Letter", "columns": 1, "rows": 1, "width": 203.2, "height": 254, "left": 6.35, "top": 12.7,
        "across": 203.2, "down": 254,
    },
    "Letter, 5 × 13": {
        "page": "Letter", "columns": 5, "rows": 13, "width": 39.9, "height": 20.1,
        "left": 6.2, "top": 9.05, "across": 41.0, "down": 20.1,
    },
    "Letter, 4 × 20": {
        "page": "Letter", "columns": 4, "rows": 20, "width": 44.5, "height": 12.7,
        "left": 7.6, "top": 12.7, "across": 52.1, "down": 12.7,
    },
}  # fmt: skip


PRINTERS = (
    pytest.param(printed, marks=needs_chromium, id="browser"),
    pytest.param(as_pdf, marks=needs_weasyprint, id="PDF"),
)
Printer = Callable[[str, Path], Printed]


@needs_poppler
@pytest.mark.parametrize("printer", PRINTERS)
@pytest.mark.parametrize("measures", SHEETS.values(), ids=SHEETS)
def test_every_outline_lies_where_the_measures_say(
    measures: dict[str, Any], printer: Printer, tmp_path: Path
) -> None:
    reckoning = sale(labels=labels_table(**measures))
    sheet = sheet_of(reckoning.plan.labels)
    text = made(labels_html, reckoning, pieces(reckoning), outline=True)
    found = printer(text, tmp_path)
    (picture,) = pictures(found.pdf)
    lines = list(edges_of(sheet))
    assert len(lines) >= 2 * len(sheet.places)
    assert [(x, y) for x, y in lines if not picture.is_dark(x, y, within_mm=WITHIN_MM)] == []
    assert not picture.is_dark(sheet.left_mm + sheet.width_mm - 1, sheet.top_mm + 1, within_mm=WITHIN_MM)
    check_ruler(found, picture, sheet)


def check_ruler(found: Printed, picture: Picture, sheet: Sheet) -> None:
    """Measure the ruler in the middle of the page: its ends, and the numbers at them."""
    ends = [sheet.paper.width_mm / 2 + side * 50 for side in (-1, 1)]
    height = sheet.paper.height_mm / 2 - 7 + 3.5
    assert [end for end in ends if not picture.is_dark(end, height, within_mm=WITHIN_MM)] == []
    on_ruler = sorted(word.left + word.right for word in found.words if word.text in {"0", "100"})
    assert (on_ruler[-1] - on_ruler[0]) / 2 == pytest.approx(100, abs=WITHIN_MM)


def edges_of(sheet: Sheet) -> Iterator[tuple[float, float]]:
    """Yield a point on each edge of each label, save under the ruler and on the very edge of the paper."""
    for place in sheet.places:
        right, bottom = place.x_mm + sheet.width_mm, place.y_mm + sheet.height_mm
        low, far = place.y_mm + sheet.height_mm * 0.8, place.x_mm + sheet.width_mm * 0.9
        for x, y in ((place.x_mm, low), (right, low), (far, place.y_mm), (far, bottom)):
            on_ruler = abs(x - sheet.paper.width_mm / 2) < 55 and abs(y - sheet.paper.height_mm / 2) < 8
            if not on_ruler and y < sheet.paper.height_mm - 0.5:
                yield x, y


@needs_poppler
@pytest.mark.parametrize("printer", PRINTERS)
@pytest.mark.parametrize("measures", SHEETS.values(), ids=SHEETS)
def test_every_number_stands_at_its_place(measures: dict[str, Any], printer: Printer, tmp_path: Path) -> None:
    reckoning = sale(labels=labels_table(**measures))
    sheet, register = sheet_of(reckoning.plan.labels), pieces(reckoning)
    found = printer(made(labels_html, reckoning, register), tmp_path)
    slots = {piece.number: divmod(index, len(sheet.places)) for index, piece in enumerate(register)}
    check_places(found, reckoning, slots)
    assert all(found.on(page) for page, _size in enumerate(found.sizes, 1))
    paper = PAPERS[reckoning.plan.labels.page]
    expected = pytest.approx((paper.width_mm, paper.height_mm), abs=0.3)
    assert [size for size in found.sizes if size != expected] == []


@needs_poppler
@pytest.mark.parametrize("printer", PRINTERS)
@pytest.mark.parametrize(
    ("kind", "nudge"),
    [("A4, 3 × 7", (0.5, -1.0)), ("A4, 5 × 13", (-0.7, 0.4)), ("Letter, 5 × 13", (0.0, 3.3))],
)
def test_skip_nudge_and_only_move_labels_as_they_say(
    kind: str, nudge: tuple[float, float], printer: Printer, tmp_path: Path
) -> None:
    reckoning = sale(labels=labels_table(**SHEETS[kind]))
    skip = len(sheet_of(reckoning.plan.labels).places) - 1
    only = "LAN-005,SPN-001..002"
    text = made(labels_html, reckoning, pieces(reckoning), only=only, skip=skip, nudge=nudge)
    slots = {"LAN-005": (0, skip), "SPN-001": (1, 0), "SPN-002": (1, 1)}
    check_places(printer(text, tmp_path), reckoning, slots, nudge)


def check_places(
    found: Printed,
    reckoning: Reckoning,
    slots: dict[str, tuple[int, int]],
    nudge: tuple[float, float] = (0.0, 0.0),
) -> None:
    """Compare each number's lower left corner with the plan's measures; `slots` are sheets and labels."""
    sheet, register = sheet_of(reckoning.plan.labels), pieces(reckoning)
    room = room_in(sheet, tuple(wordings_of(reckoning, register)))
    below_mm = room.pad_mm + BELOW_LETTERS * room.number_points * MM_PER_POINT
    stand = numbers_in(found)
    assert sorted(stand) == sorted(slots)
    for number, (page, slot) in slots.items():
        word, place = stand[number], sheet.places[slot]
        corner = (place.x_mm + room.pad_mm + nudge[0], place.y_mm + sheet.height_mm - below_mm + nudge[1])
        assert word.page == page + 1
        assert (word.left, word.bottom) == pytest.approx(corner, abs=WITHIN_MM)


def numbers_in(found: Printed) -> dict[str, Word]:
    """Return each piece's number as it stands on the print."""
    return {word.text: word for word in found.words if word.text.startswith(("LAN-", "SPN-"))}


OVERFLOWS = """
[...document.querySelectorAll('.label span, .label p, .label')].filter(box =>
    box.scrollWidth > box.clientWidth + 1 && box.clientWidth > 0).map(box => box.textContent)
"""
OUTSIDE = """
[...document.querySelectorAll('.label')].flatMap(label => {
    const edge = label.getBoundingClientRect();
    return [...label.querySelectorAll('span')].filter(line => {
        const range = document.createRange(); range.selectNodeContents(line);
        const box = range.getBoundingClientRect(), own = line.getBoundingClientRect();
        return box.left < edge.left - 0.5 || box.right > edge.right + 0.5
            || own.top < edge.top - 0.5 || own.bottom > edge.bottom + 0.5;
    }).map(line => line.textContent);
})
"""
OVERLAPPING = """
[...document.querySelectorAll('.label')].flatMap(label => {
    const boxes = [...label.querySelectorAll('p')].map(part => {
        const range = document.createRange(); range.selectNodeContents(part);
        const words = range.getBoundingClientRect(), box = part.getBoundingClientRect();
        return [part.textContent, words.left, box.top, words.right, box.bottom];
    }).concat([...document.querySelectorAll('.codes path')].map(code => {
        const dark = code.getBoundingClientRect(), quiet = dark.width * 4 / 21;
        return ['code', dark.left - quiet, dark.top - quiet, dark.right + quiet, dark.bottom + quiet];
    }));
    return boxes.flatMap((one, index) => boxes.slice(index + 1).filter(other =>
        one[1] < other[3] - 0.5 && other[1] < one[3] - 0.5
        && one[2] < other[4] - 0.5 && other[2] < one[4] - 0.5
    ).map(other => [one[0], other[0]]));
})
"""
SMALLEST = """
Math.min(...[...document.querySelectorAll('.label p')].map(
    line => parseFloat(getComputedStyle(line).fontSize)))
"""


COUNT = "document.querySelectorAll('.label span').length"


def many_named(measures: dict[str, Any], locale: str) -> Reckoning:
    """Reckon a sale whose wares bear difficult names, at a price of seven digits."""
    more = "".join(
        f"""
[[donated]]
code = "N{index}"
name = "{name}"
maker = "{name}"
price = {price}
care = "{name}"
"""
        for index, name in enumerate(NAMES.values())
        for price in [1234567.89]
    )
    return sale(labels=labels_table(**measures), locale=locale, currency="EUR", more=more)


@needs_chromium
@pytest.mark.parametrize(
    ("kind", "locale"),
    [(kind, "fr_FR") for kind in SHEETS] + [("A4, 3 × 7", "de_DE"), ("A4, 3 × 7", "ja_JP")],
)
def test_no_text_runs_over_an_edge_or_another(kind: str, locale: str, tmp_path: Path) -> None:
    reckoning = many_named(SHEETS[kind], locale)
    text = made(labels_html, reckoning, pieces(reckoning))
    question = f"[{OVERFLOWS}, {OUTSIDE}, {OVERLAPPING}, {SMALLEST}, {COUNT}]"
    answer = asked(text, question, tmp_path)
    assert isinstance(answer, list)
    overflowing, outside, overlapping, smallest_px, lines = answer
    assert (overflowing, outside, overlapping) == ([], [], [])
    assert smallest_px >= 7 * 96 / 72 - 0.01
    assert lines > 100


@needs_chromium
@needs_poppler
@needs_zbar
@pytest.mark.parametrize(
    ("kind", "code", "nudge"),
    [
        ("A4, 3 × 7", "LAN", (0.0, 0.0)),
        ("A4, 5 × 13", "LAN", (0.0, 0.0)),
        ("A4, 5 × 13", "ABCDEF", (0.17, -0.23)),
        ("Letter, 3 × 10", "LAN", (0.1, 0.3)),
        ("Letter, 5 × 13", "A", (-0.4, 0.2)),
    ],
)
def test_all_codes_of_a_page_are_read_at_once(
    kind: str, code: str, nudge: tuple[float, float], tmp_path: Path
) -> None:
    reckoning = sale(labels=labels_table(**SHEETS[kind]), wanted=70, code=code)
    register = pieces(reckoning)[: len(sheet_of(reckoning.plan.labels).places)]
    found = printed(made(labels_html, reckoning, register, nudge=nudge), tmp_path)
    expected = sorted(piece.number for piece in register)
    for drawn in (in_grey, in_black_and_white):
        assert sorted(number for page in drawn(found.pdf) for number in read_codes([page])) == expected


@needs_chromium
@needs_poppler
@needs_zbar
def test_each_label_carries_its_own_code(tmp_path: Path) -> None:
    reckoning = sale(labels=labels_table(**SHEETS["A4, 5 × 13"]), wanted=70)
    register, sheet = pieces(reckoning)[:65], sheet_of(reckoning.plan.labels)
    (page,) = pictures(printed(made(labels_html, reckoning, register), tmp_path).pdf)
    labels = [
        page.cut(place.x_mm, place.y_mm, sheet.width_mm, sheet.height_mm).saved(tmp_path / f"{index:02}.pgm")
        for index, place in enumerate(sheet.places)
    ]
    assert read_codes(labels) == [piece.number for piece in register]


def read_codes(files: list[Path]) -> list[str]:
    """Read the codes in each picture."""
    command = [
        path_of("zbarimg"),
        "--quiet",
        "--nodbus",
        "--raw",
        "-Sdisable",
        "-Sqrcode.enable",
        *map(str, files),
    ]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout.split()


@pytest.mark.parametrize("code", ["A", "ABCDEF"])
def test_the_smallest_label_with_a_code_has_modules_of_5_dots(code: str) -> None:
    reckoning = sale(labels=labels_table(width=25, height=20, across=30, down=30), code=code)
    assert "scale(5)" in made(labels_html, reckoning, pieces(reckoning))
