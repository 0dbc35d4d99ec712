"""The page that adds a list up again: what stands in its file."""

import base64
import hashlib
import json
import re
from typing import Any

import pytest
from lxml import html

from salebook.event.breakdown import KINDS
from salebook.prints.after.check import SCRIPTS
from salebook.prints.render import packaged_templates
from tests.support.check_page import check_page
from tests.support.pseudo import in_pseudo


def scripts(page: str) -> list[str]:
    return re.findall(r"<script>(.*?)</script>", page, re.DOTALL)


def policy(page: str) -> list[str]:
    (tag,) = (tag for tag in html.document_fromstring(page).iter("meta") if tag.get("http-equiv"))
    return [rule.strip() for rule in str(tag.get("content")).split(";")]


def says(page: str) -> Any:
    (tag,) = (tag for tag in html.document_fromstring(page).iter("script") if tag.get("type"))
    return json.loads(tag.text or "")


def test_only_its_own_scripts_may_run_and_nothing_is_fetched() -> None:
    page = check_page()
    hashes = [hashlib.sha256(script.encode()).digest() for script in scripts(page)]
    known = " ".join(f"'sha256-{base64.b64encode(each).decode()}'" for each in hashes)
    assert policy(page) == [
        "default-src 'none'",
        "style-src 'unsafe-inline'",
        f"script-src {known}",
        "form-action 'none'",
        "base-uri 'none'",
    ]


def test_its_scripts_are_those_of_the_package() -> None:
    assert scripts(check_page()) == [
        (packaged_templates() / name).read_text(encoding="utf-8") for name in SCRIPTS
    ]


FORBIDDEN = (
    *("innerHTML", "outerHTML", "insertAdjacentHTML", "document.write", "eval(", "Function(", "fetch("),
    *("XMLHttpRequest", "WebSocket", "sendBeacon", "EventSource", "import(", "import ", "localStorage"),
    *("location", "cookie", "http:", "https:", "srcdoc", "</script", "<!--"),
)


@pytest.mark.parametrize("name", SCRIPTS)
def test_a_script_sends_keeps_and_turns_nothing_into_markup(name: str) -> None:
    text = (packaged_templates() / name).read_text(encoding="utf-8")
    assert [word for word in FORBIDDEN if word in text] == []


@pytest.mark.parametrize("name", SCRIPTS)
def test_a_script_runs_in_browsers_of_2021(name: str) -> None:
    """Safari 14.1 (2021) knows neither looking behind in patterns nor .at(), by caniuse.com (from memory)."""
    text = (packaged_templates() / name).read_text(encoding="utf-8")
    assert re.findall(r"\(\?<[=!]|\.at\(|replaceAll|structuredClone|\|\|=|\?\?=", text) == []
    assert max(map(len, text.splitlines())) <= 110


def test_every_kind_of_takings_has_its_words() -> None:
    assert [kind for kind, _words in says(check_page())["kinds"]] == list(KINDS)


def test_every_text_is_used_and_every_text_used_is_there() -> None:
    script = (packaged_templates() / "check-page.js").read_text(encoding="utf-8")
    used = set(re.findall(r"\bsays\.(\w+)", script)) | {"named", "fees", "costs", "to_givers"}
    assert used == set(says(check_page()))


def test_all_it_says_is_said_in_another_language() -> None:
    english = says(check_page())
    with in_pseudo():
        other = says(check_page())
    assert {key for key, text in english.items() if other[key] == text} == set()
    for key in ("expected", "kinds", "letters_differ"):
        one, two = dict(english[key]), dict(other[key])
        assert [name for name, text in one.items() if two[name] == text] == []


def test_a_title_that_looks_like_a_script_is_no_script() -> None:
    page = check_page(('title = "', 'title = "</script><script>alert(1)</script>'))
    assert len(scripts(page)) == len(SCRIPTS)
    assert "alert(1)</script>" not in page
