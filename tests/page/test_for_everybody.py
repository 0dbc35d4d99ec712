"""The page's screens for people who see little, use a keyboard alone, or have them read aloud.

Checked by axe-core's rules for WCAG 2.0 and 2.1, levels A and AA, and good practice (Deque Systems; the
copy that the package axe-core-python brings). Rules cannot see everything: colours, sizes and keys are
tested beside it.
"""

import json
from collections.abc import Iterator
from functools import cache
from importlib.resources import files

import pytest

from tests.support.books import SAMPLES, SMALLEST, sample_book
from tests.support.devtools import Browser, browser
from tests.support.programs import needs_chromium
from tests.support.served import running

pytestmark = [needs_chromium]

BROKEN_RULES = """
    axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "best-practice"]}).then(
        ({violations}) => JSON.stringify(
            violations.map(({id, nodes}) => [id, ...nodes.map(({html}) => html.slice(0, 100))])
        )
    )
"""
SCREENS = (
    "/plan/",
    "/plan/questions",
    "/plan/keys/full.toml",
    "/plan/keys/faulty.toml",
    "/price/",
    "/price/plan/full.toml",
    "/selling/",
    "/selling/book/sale.xlsx",
    "/accounts/",
    "/nothing-is-here",
)


@cache
def rules() -> str:
    return files("axe_core_python").joinpath("axe.min.js").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Return the address of a page that runs, entered, with plans and a filled-in workbook in its folder."""
    folder = tmp_path_factory.mktemp("sales")
    (folder / "full.toml").write_bytes(SAMPLES["harbour-weekend"].read_bytes())
    (folder / "faulty.toml").write_text("format = 1\n[sale]\ntitle = 3\n", encoding="utf-8")
    (folder / "sale.xlsx").write_bytes(sample_book(SMALLEST, filled_in=True))
    with running(folder) as (_page, entrance):
        browser().visit(entrance)
        yield entrance.partition("/?")[0]


def broken_rules(shown: Browser) -> list[list[str]]:
    shown.found(f"{rules()};1")
    found: list[list[str]] = json.loads(shown.found(BROKEN_RULES))
    return found


@pytest.mark.parametrize("width_px", [1366, 360])
@pytest.mark.parametrize("screen", SCREENS)
def test_a_screen_breaks_no_rule(address: str, screen: str, width_px: int) -> None:
    shown = browser()
    shown.visit(address + screen, width_px=width_px)
    shown.found("document.querySelectorAll('details').forEach(each => each.open = true)")
    assert broken_rules(shown) == []


@pytest.mark.parametrize(
    ("screen", "button"),
    [
        ("/accounts/", "form[action$='report'] button"),
        ("/accounts/", "form[action$='forget'] button"),
        ("/plan/questions", "button[formaction$='write']"),
    ],
)
def test_what_comes_after_a_button_breaks_no_rule(address: str, screen: str, button: str) -> None:
    shown = browser()
    shown.visit(address + screen)
    shown.click(button)
    assert broken_rules(shown) == []


def test_a_broken_rule_would_be_found(address: str) -> None:
    shown = browser()
    shown.visit(f"{address}/plan/")
    shown.found("document.querySelector('main').innerHTML += '<img src=x><input>'")
    assert [rule for rule, *_places in broken_rules(shown)] == ["image-alt", "label"]
