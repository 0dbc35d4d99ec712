"""The room Price: the command's advice, what sliders ask, and prices taken into the plan."""

import time
from datetime import date

import pytest

from salebook.jobs.price import price_answer
from salebook.page.shown import BAR
from salebook.plan.load import load_plan
from salebook.reckoning import reckon
from tests.support.books import SAMPLES, SMALLEST
from tests.support.paged import Page, text_of

FULL = SAMPLES["harbour-weekend"]


@pytest.fixture
def with_plan(page: Page) -> Page:
    (page.folder / "plan.toml").write_bytes(FULL.read_bytes())
    return page


def test_without_a_plan_it_leads_to_where_one_is_put(page: Page) -> None:
    assert 'href="/selling/"' in page.get("/price/").text


def test_one_plan_is_shown_at_once_and_several_are_listed(with_plan: Page) -> None:
    assert with_plan.get("/price/").headers["Location"] == "/price/plan/plan.toml"
    (with_plan.folder / "other.toml").write_bytes(FULL.read_bytes())
    assert "other.toml plan.toml" in text_of(with_plan.get("/price/"))


def test_the_advice_is_the_command_s(page: Page) -> None:
    (page.folder / "first.toml").write_bytes(SAMPLES[SMALLEST].read_bytes())
    shown = text_of(page.get("/price/plan/first.toml"))
    answer = price_answer(reckon(load_plan(SAMPLES[SMALLEST]), today=date.today()), BAR)
    for sentence in (*answer.sentences, *(line for lines in answer.lists.values() for line in lines)):
        assert " ".join(sentence.split()) in shown
    for table in answer.tables:
        assert str(table.title) in shown


def test_a_slider_is_answered_at_once(with_plan: Page) -> None:
    as_it_is = with_plan.get("/price/now/plan.toml").get_json()
    begun = time.perf_counter()
    dearer = with_plan.get("/price/now/plan.toml", query_string={"wares.0.price": "30"}).get_json()
    lasted = time.perf_counter() - begun
    assert as_it_is["net"] != dearer["net"]
    assert set(dearer) == {"sold", "net", "chance", "shares", "note"}
    assert lasted < 1  # a tenth of that on a machine that does nothing else


@pytest.mark.slow
def test_without_script_numbers_are_tried_out_with_a_button(with_plan: Page) -> None:
    shown = with_plan.get("/price/plan/plan.toml", query_string={"wares.0.price": "30"})
    assert 'name="wares.0.price" value="30"' in shown.text
    assert with_plan.get("/price/now/plan.toml?wares.0.price=30").get_json()["net"] in text_of(shown)


def test_prices_are_taken_into_the_plan(with_plan: Page) -> None:
    said = text_of(with_plan.send("/price/take/plan.toml", {"wares.0.price": "22", "wares.1.price": "26"}))
    assert "1 value of plan.toml was changed." in said
    assert load_plan(with_plan.folder / "plan.toml").wares[0].price == 22


@pytest.mark.parametrize("text", ["", "x", "-3"])
def test_a_fault_is_said_in_the_plan_s_words_wherever_it_is_asked(with_plan: Page, text: str) -> None:
    query = {"wares.0.price": text}
    shown = with_plan.get("/price/plan/plan.toml", query_string=query)
    asked = with_plan.get("/price/now/plan.toml", query_string=query)
    taken = with_plan.send("/price/take/plan.toml", query)
    assert [answer.status_code for answer in (shown, asked, taken)] == [422, 422, 422]
    (fault,) = asked.get_json()["faults"]
    assert fault.startswith("plan.toml: wares → MUG → price: found ")
    assert fault in text_of(shown)
    assert fault in text_of(taken)


def test_a_faulty_plan_says_its_faults(page: Page) -> None:
    (page.folder / "bad.toml").write_text("format = 1\n", encoding="utf-8")
    refused = page.get("/price/plan/bad.toml")
    assert (refused.status_code, "bad.toml: sale" in text_of(refused)) == (422, True)
