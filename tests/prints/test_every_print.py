"""One set of rules for every print, before the sale and after it, on A4 and on Letter."""

import re
from collections.abc import Mapping
from functools import cache
from itertools import product
from pathlib import Path

import pytest
from lxml import html

from salebook.event.claims import ClaimState, waiting_claims
from salebook.event.entries import Claim, Entries
from salebook.event.event import reckon_event
from salebook.prints.after.evening import evening_html, evening_name
from salebook.prints.after.pack import CHECK, prints_after
from salebook.prints.before.pack import all_prints
from salebook.prints.labels.addresses import addresses_html
from salebook.prints.labels.labels import labels_html
from salebook.prints.labels.tags import tags_html
from salebook.prints.paper import PAPERS, PaperName
from salebook.reckoning import Reckoning
from tests.prints.after.test_pack import PAGES as AFTER
from tests.prints.test_fitting import NAMES
from tests.support.browser import asked, printed
from tests.support.contrast import contrast
from tests.support.finished_sale import LETTER_PAPER, TODAY, accounts, accounts_with
from tests.support.print_sales import labels_table, made, pieces, sale
from tests.support.programs import needs_chromium, needs_poppler
from tests.support.small_event import FIRST_DAY

BY_OPTION = ("outline.html", "claim-slips.html", "addresses.html")
"""What `salebook labels` prints where it is asked for."""
EVENING = evening_name(FIRST_DAY)
LABELS = ("labels.html", "tags.html", *BY_OPTION)
BEFORE = (
    *(
        "labels.html",
        "tags.html",
        "price-list.html",
        "tally.html",
        "shopping.html",
        "making.html",
        "firing.html",
        "poster.html",
    ),
    *("agreement-1-village-library.html", "agreement-2-towpath-rangers.html"),
)
ACROSS = frozenset({"tally.html"})
EVERY = tuple((paper, name) for paper in PAPERS for name in (*BEFORE, *BY_OPTION, *AFTER, EVENING))
KILN = """
[kiln]
shelf = { shape = "round", diameter = "46 cm" }
usable_height = "50 cm"
rated_kw = 6

[[firings]]
name = "biscuit"
stage = "biscuit"
start = "07:00"
steps = [{ rate = 100, to = 1000, hold = 10 }]

[[firings]]
name = "glaze"
stage = "glaze"
start = "20:00"
steps = [{ rate = 120, to = 1240, hold = 20 }]

[energy]
rates = [{ from = "00:00", to = "00:00", price = 0.25 }]
"""


@cache
def prints(paper: PaperName) -> Mapping[str, str]:
    """Return every print on a paper, by file name."""
    if paper == "A4":
        before, after = sale(more=KILN, labels=labels_table(promise=True)), accounts()
    else:
        labels = labels_table(page=paper, rows=6)
        before = sale(locale="en_US", currency="USD", more=KILN, labels=labels)
        after = accounts_with(*LETTER_PAPER)
    evening = {EVENING: made(evening_html, after, FIRST_DAY, today=TODAY)}
    return made(all_prints, before) | by_option(before) | made(prints_after, after, today=TODAY) | evening


def by_option(reckoning: Reckoning) -> dict[str, str]:
    outline = made(labels_html, reckoning, pieces(reckoning), outline=True)
    slips = made(tags_html, reckoning, pieces(reckoning), claim_slips=True)
    addresses = made(addresses_html, reckoning, to_send(reckoning))
    return dict(zip(BY_OPTION, (outline, slips, addresses), strict=True))


def to_send(reckoning: Reckoning) -> tuple[ClaimState, ...]:
    """Return claims of people with difficult names, at two addresses each."""
    addresses = [f"{name}, 4 Mill Row, Tidewater" for name in (*NAMES.values(), "Flat 2")]
    claims = tuple(
        Claim(claim=str(number), name=name, contact=contact, how="posting")
        for number, (name, contact) in enumerate(product(NAMES.values(), addresses), 1)
    )
    return waiting_claims(claims, reckon_event(reckoning, Entries(claims=claims)).state)


PAPER = "FBF8F3"
SCOPES = frozenset({"col", "row", "colgroup", "rowgroup"})

every_print = pytest.mark.parametrize(("paper", "name"), EVERY)


def test_no_print_is_forgotten() -> None:
    pages = [name for name in prints("A4") if name.endswith(".html")]
    assert sorted(pages) == sorted((*BEFORE, *BY_OPTION, *AFTER, EVENING))


@every_print
def test_it_says_its_language_and_what_it_is(paper: PaperName, name: str) -> None:
    page = html.document_fromstring(prints(paper)[name])
    assert page.get("lang") == "en"
    assert (page.findtext(".//title") or "").strip(" –")
    assert page.xpath("//*[@lang='' or @lang='None']") == []


@every_print
def test_it_runs_and_fetches_nothing(paper: PaperName, name: str) -> None:
    text = prints(paper)[name]
    assert "default-src 'none'" in text
    if name == CHECK:  # what its scripts do stands in after/test_check.py
        text = re.sub(r"<script\b.*?</script>", "", text, flags=re.DOTALL)
    parts = r"<(?:script|link|img|iframe|object|form)\b|@import|url\(|\b(?:src|on[a-z]+)=|https?:|javascript:"
    assert re.findall(parts, text) == []


@every_print
def test_its_tables_have_headings_and_its_drawings_words(paper: PaperName, name: str) -> None:
    page = html.document_fromstring(prints(paper)[name])
    assert len(page.findall(".//h1")) == (0 if name in LABELS else 1)
    assert [table for table in page.iter("table") if not table.xpath(".//th")] == []
    assert [heading for heading in page.iter("th") if heading.get("scope") not in SCOPES] == []
    drawings = [drawing for drawing in page.iter("svg") if drawing.get("aria-hidden") != "true"]
    assert [drawing for drawing in drawings if not drawing.get("aria-label")] == []


@every_print
def test_its_words_stand_out_from_the_paper_in_colour_and_in_grey(paper: PaperName, name: str) -> None:
    """WCAG 2, success criterion 1.4.3: a contrast of 4.5 : 1, a ratio of luminances, so of greys too."""
    words = set(re.findall(r"(?<![-a-z])(?:color|fill): ?#([0-9A-Fa-f]{6})", prints(paper)[name]))
    assert words
    assert [colour for colour in words if contrast(colour, PAPER) < 4.5] == []


@needs_chromium
@needs_poppler
@every_print
def test_its_pages_have_the_papers_size_and_none_is_empty(
    paper: PaperName, name: str, tmp_path: Path
) -> None:
    check_pages(paper, name, prints(paper)[name], tmp_path)


def check_pages(paper: PaperName, name: str, text: str, folder: Path) -> None:
    found = printed(text, folder)
    sides = (PAPERS[paper].width_mm, PAPERS[paper].height_mm)
    width, height = sides[::-1] if name in ACROSS else sides
    assert [size for size in found.sizes if size != pytest.approx((width, height), abs=0.3)] == [], name
    assert all(found.on(number) for number, _size in enumerate(found.sizes, 1)), name
    cut = [
        word.text
        for word in found.words
        if word.left < 5 or word.top < 5 or word.right > width - 5 or word.bottom > height - 5
    ]
    assert cut == [], name


CUT_OFF = """
[...document.querySelectorAll('body *')].filter(part => part instanceof HTMLElement
    && getComputedStyle(part).overflow !== 'visible'
    && (part.scrollWidth > part.clientWidth + 1 || part.scrollHeight > part.clientHeight + 2)
).map(part => part.className + ': ' + part.textContent.trim().slice(0, 60))
"""
SMALLEST_PX = """
Math.min(...[...document.querySelectorAll('body *')].filter(part =>
    [...part.childNodes].some(node => node.nodeType === 3 && node.textContent.trim())
    && part instanceof HTMLElement && !part.closest('.screen-only')
).map(part => parseFloat(getComputedStyle(part).fontSize)))
"""


WIDER_THAN_THE_PAPER = "Math.max(0, document.documentElement.scrollWidth - innerWidth)"
"""A browser shrinks the whole of a print that is too wide, and with it all that has to be at true size."""

FAINT = """
(() => {
    const parts = colour => colour.match(/[0-9.]+/g).map(Number);
    const light = colour => parts(colour).slice(0, 3).map(part => part / 255).map(part =>
        part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4
    ).reduce((sum, part, index) => sum + part * [0.2126, 0.7152, 0.0722][index], 0);
    const ground = part => {
        for (; part; part = part.parentElement) {
            const colour = getComputedStyle(part).backgroundColor;
            if ((parts(colour)[3] ?? 1) > 0) return colour;
        }
        return 'rgb(255, 255, 255)';
    };
    return [...document.querySelectorAll('body *')].filter(part =>
        [...part.childNodes].some(node => node.nodeType === 3 && node.textContent.trim())
    ).filter(part => {
        const style = getComputedStyle(part);
        const words = light(part instanceof SVGElement ? style.fill : style.color);
        const lights = [words, light(ground(part))].sort((one, other) => one - other);
        return (lights[1] + 0.05) / (lights[0] + 0.05) < 4.5;
    }).map(part => part.className + ': ' + part.textContent.trim().slice(0, 60));
})()
"""


@needs_chromium
@every_print
def test_nothing_is_cut_off_shrunk_faint_or_too_small(paper: PaperName, name: str, tmp_path: Path) -> None:
    """Laid out as wide as the paper leaves room; contrast as WCAG 2 reckons it, of what is really shown."""
    check_looks(paper, name, prints(paper)[name], tmp_path)


def check_looks(paper: PaperName, name: str, text: str, folder: Path) -> None:
    question = f"[{CUT_OFF}, {WIDER_THAN_THE_PAPER}, {FAINT}, {SMALLEST_PX}]"
    answer = asked(text, question, folder, width_mm=room_mm(paper, name, text))
    assert isinstance(answer, list)
    cut, wider_px, faint, smallest_px = answer
    assert (name, cut, faint) == (name, [], [])
    assert wider_px <= 1, name
    assert smallest_px >= (7 if name in LABELS else 10) * 96 / 72 - 0.01, name


def room_mm(paper: PaperName, name: str, text: str) -> float:
    """Return the width between the margins that a print asks for; of two rules the later wins."""
    width = PAPERS[paper].height_mm if name in ACROSS else PAPERS[paper].width_mm
    margins = re.findall(r"@page {[^}]*margin: (?:[0-9.]+mm )?([0-9.]+)(?:mm)?;", text)
    return width - 2 * float(margins[-1])


DIFFICULT = "".join(
    f"""
[[beneficiaries]]
name = "{name}"
registration = "{name}"

[[donated]]
code = "N{index}"
name = "{name}"
maker = "{name}"
price = 1234567.89
care = "{name}"
keeps = 0.3

[[payments]]
name = "{name}"
percent = 1.5
share = {0.5 if index == 1 else 0.1}

[[overheads]]
name = "{name}"
amount = 1234567.89
met_by = "sale"
"""
    for index, name in enumerate(NAMES.values(), 1)
)


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("paper", PAPERS)
def test_long_names_and_great_sums_stay_on_every_print(paper: PaperName, tmp_path: Path) -> None:
    """Groups, pieces, givers and costs have names of 60 letters, of one word, in Greek, Arabic, Japanese."""
    reckoning = sale(
        title=f"{NAMES['one word']} {NAMES['60 letters']} {NAMES['Greek']}",
        name=NAMES["one word"],
        price="1234567.89",
        locale="fr_FR",
        currency="EUR",
        more=KILN + DIFFICULT,
        labels=labels_table(page=paper, rows=6, promise=True),
    )
    every = made(all_prints, reckoning) | by_option(reckoning)
    kinds = {re.split(r"-[0-9]", name)[0]: name for name in every}
    assert len(kinds) == 12
    for name in kinds.values():
        text = every[name]
        check_pages(paper, name, text, tmp_path)
        check_looks(paper, name, text, tmp_path)
