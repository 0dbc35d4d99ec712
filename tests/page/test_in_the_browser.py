"""A newcomer's hour by clicks, from a plan that does not exist to the accounts, in a real browser."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from salebook.plan.load import load_plan
from tests.start.test_form import TYPED
from tests.support.books import SAMPLES, SMALLEST, few_free_lines, sample_book
from tests.support.check_page import text_of
from tests.support.devtools import Browser, browser
from tests.support.programs import needs_chromium
from tests.support.served import running

pytestmark = [needs_chromium]

MOST_STEPS = 300
"""Presses of Tab that lead once round any screen of the test."""
SHOWN = pytest.mark.parametrize(("width_px", "runs_scripts"), [(1366, True), (360, False)])


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path]]:
    """Return the address of a page that runs, with its folder."""
    folder = tmp_path_factory.mktemp("sales")
    with running(folder) as (_page, address):
        yield address, folder


def fits(shown: Browser) -> bool:
    return bool(shown.found("document.documentElement.scrollWidth <= innerWidth"))


def is_styled(shown: Browser) -> bool:
    return bool(shown.found("getComputedStyle(document.body).fontFamily.startsWith('Arial')"))


@SHOWN
def test_a_newcomer_gets_from_no_plan_to_the_accounts(
    opened: tuple[str, Path], tmp_path: Path, width_px: int, runs_scripts: bool
) -> None:
    address, folder = opened
    shown, name = browser(), f"plan-{width_px}"

    def click(place: str) -> None:
        shown.click(place, runs_scripts=runs_scripts)
        assert fits(shown), (place, width_px)
        assert is_styled(shown)

    shown.visit(address, width_px=width_px, runs_scripts=runs_scripts)
    assert text_of(shown, "h1") == "Plan"
    click("a.button")
    for field, text in (TYPED | {"file": f"{name}.toml"}).items():
        shown.found(
            f"(field => {{ field.focus(); field.select(); }})(document.getElementsByName('{field}')[0])"
        )
        shown.type(text)
    click("button[formaction$='write']")
    assert text_of(shown, "h1") == "The plan is written"
    click("main p a")
    assert text_of(shown, "[data-shows=net]").startswith("£")
    shown.found("document.getElementById('wares.0.price').select()")
    shown.type("18")
    click(".buttons button:last-child")
    assert f"1 value of {name}.toml was changed." in text_of(shown, "main")
    assert load_plan(folder / f"{name}.toml").wares[0].price == 18
    click("nav a[href='/selling/']")
    shown.found(f"document.querySelector('[name=source]').value = '{name}.toml'")
    click("form[action$='pack'] button")
    assert text_of(shown, "h1") == "The pack is made"
    assert f"Made {name}-pack/sale.xlsx" in text_of(shown, "[role=status]")
    click("nav a[href='/selling/']")
    book = tmp_path / f"sale-{width_px}.xlsx"
    with few_free_lines():
        book.write_bytes(sample_book(SMALLEST, filled_in=True))
    shown.choose(book, "form[action$='book'] input")
    click("form[action$='book'] button")
    assert "What needs a look" in text_of(shown, "main")
    click("nav a[href='/accounts/']")
    shown.found(f"document.querySelector('[name=book]').value = '{book.name}'")
    click("form[action$='report'] button")
    assert f"sale-{width_px}-accounts/statement.html" in text_of(shown, ".files")


def test_a_slider_says_what_it_brings_while_it_moves(opened: tuple[str, Path]) -> None:
    address, folder = opened
    (folder / "slid.toml").write_bytes(SAMPLES["harbour-weekend"].read_bytes())
    shown = browser()
    shown.visit(address)
    shown.visit(f"{address.partition('/?')[0]}/price/plan/slid.toml")
    before = text_of(shown, "[data-shows=net]")
    lasted = shown.found(
        """new Promise((done) => {
          const net = document.querySelector('[data-shows=net]');
          const begun = performance.now();
          new MutationObserver(() => done(performance.now() - begun)).observe(net, {childList: true});
          const slider = document.querySelector('input[type=range]');
          slider.value = 30;
          slider.dispatchEvent(new Event('input'));
        })"""
    )
    assert text_of(shown, "[data-shows=net]") != before
    assert lasted < 1000  # about 50 on a machine that does nothing else


def test_an_answer_is_said_back_while_it_is_typed(opened: tuple[str, Path]) -> None:
    shown = browser()
    shown.visit(opened[0])
    shown.visit(f"{opened[0].partition('/?')[0]}/plan/questions")
    said = shown.found(
        """new Promise((done) => {
          const said = document.getElementById('said-days');
          new MutationObserver(() => done(said.textContent)).observe(said, {childList: true});
          const days = document.getElementById('days');
          days.value = '12 and 13 June 2027';
          days.dispatchEvent(new Event('input', {bubbles: true}));
        })"""
    )
    assert said == "That is Saturday, 12 June 2027; Sunday, 13 June 2027."


def test_the_keyboard_reaches_the_page_first_and_shows_where_it_is(opened: tuple[str, Path]) -> None:
    shown = browser()
    shown.visit(opened[0])
    shown.press("Tab")
    assert shown.found("document.activeElement.className") == "skip"
    shown.press("Enter")
    assert shown.found("location.hash") == "#main"
    for _step in range(2):
        shown.press("Tab")
        assert shown.found("getComputedStyle(document.activeElement).outlineStyle") == "solid"


def test_the_hour_is_done_by_keyboard_alone(tmp_path: Path) -> None:
    shown = browser()

    def tab_to(place: str) -> None:
        for _step in range(MOST_STEPS):
            if shown.found(f"document.activeElement.matches({json.dumps(place)})"):
                return
            shown.press("Tab")
        pytest.fail(f"no key leads to {place}")

    def enter(place: str) -> str:
        tab_to(place)
        shown.enter()
        return text_of(shown, "h1")

    with running(tmp_path) as (_page, address):
        shown.visit(address)
        enter("a.button")
        for field, text in (TYPED | {"file": "by-keys.toml"}).items():
            tab_to(f"[name='{field}']")
            shown.type(text)
        assert enter("button[formaction$='write']") == "The plan is written"
        enter("main p a")
        tab_to("[id='wares.0.price']")
        shown.type("18")
        enter(".buttons button:last-child")
        assert load_plan(tmp_path / "by-keys.toml").wares[0].price == 18
        enter("nav a[href='/selling/']")
        assert enter("form[action$='pack'] button") == "The pack is made"
        enter("nav a[href='/accounts/']")
        assert "accounts" in enter("form[action$='report'] button")
        assert list(tmp_path.glob("*accounts*/letter-*.html"))
        assert enter("header form button") == "salebook has ended"


def test_a_print_is_away_from_the_page(opened: tuple[str, Path]) -> None:
    address, folder = opened
    (folder / "evil.html").write_text(
        "<p id=p>print</p><script>p.textContent = 'ran'</script>", encoding="utf-8"
    )
    shown = browser()
    shown.visit(address)
    shown.visit(f"{address.partition('/?')[0]}/file/evil.html")
    assert text_of(shown, "p") == "print"
    assert shown.found("self.origin") == "null"


@pytest.mark.parametrize("width_px", [1366, 360, 240])
def test_the_button_that_chooses_a_file_covers_no_word(opened: tuple[str, Path], width_px: int) -> None:
    shown = browser()
    shown.visit(opened[0], width_px=width_px)
    shown.visit(f"{opened[0].partition('/?')[0]}/selling/", width_px=width_px)
    gaps = shown.found(
        """[...document.querySelectorAll('.drop')].map((box) => {
          const words = document.createRange();
          words.selectNode(box.firstChild);
          const field = box.querySelector('input');
          const button = field.getBoundingClientRect().top + parseFloat(getComputedStyle(field).paddingTop);
          const high = 1.5 * parseFloat(getComputedStyle(field).fontSize);
          const {top, bottom} = words.getBoundingClientRect();
          return Math.max(top - button - high, button - bottom);
        })"""
    )
    assert len(gaps) == 2
    assert min(gaps) >= 0


@pytest.mark.parametrize("corner", [(8, 8), (-8, -8)])
@pytest.mark.parametrize("width_px", [1366, 360])
def test_a_workbook_can_be_dropped_anywhere_in_its_box(
    opened: tuple[str, Path], tmp_path: Path, corner: tuple[int, int], width_px: int
) -> None:
    book = tmp_path / "dropped.xlsx"
    book.write_bytes(b"PK")
    shown = browser()
    shown.visit(opened[0], width_px=width_px)
    shown.visit(f"{opened[0].partition('/?')[0]}/selling/", width_px=width_px)
    box = "document.querySelector('form[action$=book] .drop')"
    shown.found(f"{box}.scrollIntoView({{block: 'center'}})")
    left, top, right, bottom = shown.found(
        f"(box => [box.left, box.top, box.right, box.bottom])({box}.getBoundingClientRect())"
    )
    x, y = corner
    shown.drop(book, at=((left if x > 0 else right) + x, (top if y > 0 else bottom) + y))
    assert shown.found(f"{box}.querySelector('input').files[0]?.name") == "dropped.xlsx"
