"""Whatever stands in a plan, a book or an address stays text on every screen."""

import json

import pytest

from tests.start.test_form import TYPED
from tests.support.books import SAMPLES, SMALLEST
from tests.support.paged import Page, upload

FIRST = SAMPLES[SMALLEST].read_text(encoding="utf-8")
HOSTILE = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "</title><svg onload=alert(1)>",
    "' onfocus='alert(1)",
    "{{ 7 * 7 }}{% for a in b %}",
    "&lt;script&gt;",
)
DANGEROUS = ("<script>a", "<img", "<svg", "onfocus='", ">49<")


@pytest.mark.parametrize(
    "words", [*HOSTILE[:2], *(pytest.param(words, marks=pytest.mark.slow) for words in HOSTILE[2:])]
)
def test_hostile_words_in_a_plan_stay_text_on_every_screen(page: Page, words: str) -> None:
    plan = FIRST
    for name in ("Spring shed sale", "Quince Yard pots", "Mug", "kiln hire", "Quince Yard playground"):
        plan = plan.replace(f'"{name}"', json.dumps(words))
    page.send("/selling/plan", {"file": upload(plan.encode(), "plan.toml")})
    page.send("/selling/pack", {"source": "plan.toml"})
    book = "plan-pack/sale.xlsx"
    answers = [
        page.get("/plan/keys/plan.toml"),
        page.get("/price/plan/plan.toml"),
        page.get("/price/plan/plan.toml", query_string={"wares.0.price": words, "taken": words}),
        page.get(f"/selling/book/{book}"),
        page.send("/accounts/report", {"book": book}),
        page.send("/plan/keys/plan.toml", {"state": words}),
    ]
    assert [answer.status_code for answer in answers] == [200, 200, 422, 200, 200, 422]
    for answer in answers:
        assert [bad for bad in DANGEROUS if bad in answer.text] == [], answer.request.path


@pytest.mark.parametrize("words", HOSTILE)
def test_hostile_answers_and_addresses_stay_text(page: Page, words: str) -> None:
    answers = [
        page.send("/plan/questions", {**dict.fromkeys(TYPED, words), "file": words, "press": words}),
        page.send("/plan/write", TYPED | {"file": words}),
        page.get(f"/{words}"),
        page.get(f"/file/{words}"),
        page.send("/selling/join", {"book": "x", "name": words}),
        page.send("/selling/book", {"file": upload(b"x", words)}),
        page.send("/accounts/evening", {"book": words, "day": words}),
        page.send("/accounts/check", {"file": upload(b"x", "lines.csv"), "fingerprint": words}),
    ]
    for answer in answers:
        assert answer.status_code in {200, 404, 422}, answer.request.path
        assert [bad for bad in DANGEROUS if bad in answer.text] == [], answer.request.path
